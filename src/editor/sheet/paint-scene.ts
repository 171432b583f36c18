/**
 * Painting batches: each shape becomes a path object once, which is then stroked under one transform. Weights and dashes
 * are px at every zoom.
 */
import type { Batch } from "../../drafting/batch.js";
import type { Outline } from "../../drafting/line-shapes.js";
import { HATCH_STEP, WEIGHT } from "../../drafting/line-weights.js";
import type { Viewport } from "../../drafting/viewport.js";
import type { Inks } from "./inks.js";

export type Canvas = CanvasRenderingContext2D;

const paths = new WeakMap<Outline, Path2D>();

function pathOf(outline: Outline): Path2D {
  let path = paths.get(outline);
  if (!path) {
    path = new Path2D();
    for (const chain of outline.chains) {
      for (let i = 0; i + 1 < chain.length; i += 2) {
        const [x = 0, y = 0] = [chain[i], chain[i + 1]];
        if (i === 0) path.moveTo(x, y);
        else path.lineTo(x, y);
      }
      if (outline.closed) path.closePath();
    }
    paths.set(outline, path);
  }
  return path;
}

/** The transform from sheet millimetres to px of the window. */
export function toWindow(canvas: Canvas, { centre, scale, width, height }: Viewport): void {
  canvas.transform(scale, 0, 0, -scale, width / 2 - centre.x * scale, height / 2 + centre.y * scale);
}

export function paintBatches(canvas: Canvas, batches: readonly Batch[], viewport: Viewport, inks: Inks): void {
  canvas.save();
  toWindow(canvas, viewport);
  for (const batch of batches) paintBatch(canvas, batch, viewport.scale, inks);
  canvas.restore();
}

function paintBatch(canvas: Canvas, batch: Batch, scale: number, inks: Inks): void {
  const style = (ink: Batch["fill"]): string | CanvasPattern =>
    ink === "hatch" ? hatch(canvas, scale, inks.colour.wall) : ink ? inks.colour[ink] : "";
  if (batch.fill) {
    canvas.fillStyle = style(batch.fill);
    for (const shape of batch.shapes) canvas.fill(pathOf(shape), "evenodd");
  }
  if (!batch.stroke) return;
  canvas.strokeStyle = style(batch.stroke);
  canvas.lineWidth = (batch.weight ?? 1) / scale;
  canvas.setLineDash((batch.dash ?? []).map((px) => px / scale));
  const closed = batch.shapes[0]?.closed === true;
  canvas.lineJoin = closed ? "miter" : "round";
  if (batch.erases) canvas.globalCompositeOperation = "destination-out";
  for (const shape of batch.shapes) canvas.stroke(pathOf(shape));
  if (batch.erases) canvas.globalCompositeOperation = "source-over";
}

const patterns = new Map<string, CanvasPattern>();

/** 45 degree lines every HATCH_STEP px, fixed to the sheet so that they move with it. */
function hatch(canvas: Canvas, scale: number, colour: string): CanvasPattern | string {
  const ratio = Math.max(1, Math.round(devicePixelRatio));
  const key = `${colour} ${ratio}`;
  let pattern = patterns.get(key);
  if (!pattern) {
    const side = Math.round(HATCH_STEP * Math.SQRT2) * ratio;
    const tile = document.createElement("canvas");
    tile.width = tile.height = side;
    const ink = tile.getContext("2d");
    const made = ink && drawTile(ink, side, ratio, colour) && canvas.createPattern(tile, "repeat");
    if (!made) return colour;
    pattern = made;
    patterns.set(key, pattern);
  }
  pattern.setTransform(new DOMMatrix().scale(1 / (scale * ratio), -1 / (scale * ratio)));
  return pattern;
}

function drawTile(ink: Canvas, side: number, ratio: number, colour: string): true {
  ink.strokeStyle = colour;
  ink.lineWidth = WEIGHT.hatch * ratio;
  ink.beginPath();
  for (const shift of [-side, 0, side]) {
    ink.moveTo(shift - side, 2 * side);
    ink.lineTo(shift + 2 * side, -side);
  }
  ink.stroke();
  return true;
}
