/** The sheet's frame: neat line and, between it and the border, graduations in the display units on all four sides. */
import { graduationAt, graduationText } from "../../drafting/graduations.js";
import type { Viewport } from "../../drafting/viewport.js";
import type { Plan } from "../../plan/schema.js";
import type { Inks } from "./inks.js";
import type { Canvas } from "./paint-scene.js";

/** From the edge of the paper to the border, and on to the neat line, px. */
const OUTER = 4;
const ZONE = 18;
export const FRAME = OUTER + ZONE;

const MINOR = 4;
const SIZE = 12;

/** `paper` is the whole sheet's size; the window begins FRAME px from its top left, and margins lie right of and under it. */
export function paintFrame(
  canvas: Canvas,
  paper: { readonly width: number; readonly height: number },
  viewport: Viewport,
  units: Plan["units"],
  inks: Inks,
): void {
  const { width, height } = paper;
  // No room for a frame, or for anything in it.
  if (Math.min(width, height) < 4 * FRAME) return;
  canvas.setLineDash([]);
  canvas.strokeStyle = inks.colour.strongRule;
  canvas.lineWidth = 0.6;
  canvas.strokeRect(OUTER, OUTER, width - 2 * OUTER, height - 2 * OUTER);
  canvas.fillStyle = inks.colour.ink3;
  canvas.font = `${SIZE}px ${inks.face.draw}`;
  canvas.textAlign = "left";
  canvas.beginPath();
  const step = graduationAt(viewport.scale, units);
  const { centre, scale } = viewport;
  const left = centre.x - viewport.width / 2 / scale;
  const top = centre.y + viewport.height / 2 / scale;
  const across = (at: number): number => FRAME + (at - left) * scale;
  const down = (at: number): number => FRAME + (top - at) * scale;
  const each = (from: number, to: number, tick: (at: number, labelled: boolean) => void): void => {
    const parts = Math.round(step.major / step.minor);
    for (let n = Math.ceil(from / step.minor); n * step.minor <= to; n++) tick(n * step.minor, n % parts === 0);
  };
  each(left, left + (width - 2 * FRAME) / scale, (at, labelled) => {
    const x = across(at);
    const size = labelled ? ZONE : MINOR;
    canvas.moveTo(x, FRAME);
    canvas.lineTo(x, FRAME - size);
    canvas.moveTo(x, height - FRAME);
    canvas.lineTo(x, height - FRAME + size);
    // A figure that would run into the corner is left out.
    if (!labelled || x + 40 > width - FRAME) return;
    const text = graduationText(at, step, units);
    canvas.fillText(text, x + 4, OUTER + 12);
    canvas.fillText(text, x + 4, height - OUTER - 5);
  });
  each(top - (height - 2 * FRAME) / scale, top, (at, labelled) => {
    const y = down(at);
    const size = labelled ? ZONE : MINOR;
    canvas.moveTo(FRAME, y);
    canvas.lineTo(FRAME - size, y);
    canvas.moveTo(width - FRAME, y);
    canvas.lineTo(width - FRAME + size, y);
    if (!labelled || y - 40 < FRAME) return;
    const text = graduationText(at, step, units);
    for (const x of [OUTER + 12, width - OUTER - 5]) {
      canvas.save();
      canvas.translate(x, y - 4);
      canvas.rotate(-Math.PI / 2);
      canvas.fillText(text, 0, 0);
      canvas.restore();
    }
  });
  canvas.stroke();
  canvas.strokeStyle = inks.colour.ink;
  canvas.lineWidth = 0.9;
  canvas.strokeRect(FRAME, FRAME, width - 2 * FRAME, height - 2 * FRAME);
}
