/** Marks and labels: what keeps its size on screen whatever the scale. */
import type { Label, LabelMark, TextMark } from "../../drafting/label.js";
import { TICK } from "../../drafting/line-weights.js";
import type { Mark } from "../../drafting/scene-marks.js";
import { toScreen, type Viewport } from "../../drafting/viewport.js";
import type { Point } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import type { Inks } from "./inks.js";
import type { Canvas } from "./paint-scene.js";

/** Part of a tick across points as against one across an end. */
const POINTS = 0.7;
/** A portal's bracket: half its width, px, and how far its arms reach into the hidden. */
const PORTAL = { half: 5, arm: 3.5 } as const;
const PIN = { radius: 4, weight: 1.4 } as const;
/** Ticks stand out over the rails by so many px where those are drawn wide. */
const BEYOND_RAILS = 3;

/** Farther away ticks at points would run into one another, px to the mm. */
const POINTS_FROM = 0.02;

export function paintMarks(
  canvas: Canvas,
  marks: readonly Mark[],
  viewport: Viewport,
  inks: Inks,
  gauge: Millimetres,
): void {
  const rails = (gauge / 2) * viewport.scale + BEYOND_RAILS;
  canvas.setLineDash([]);
  canvas.lineJoin = "miter";
  // Like marks in one stroke: thousands of ticks cost no more than a few lines.
  const alike = new Map<string, Mark[]>();
  for (const mark of marks) {
    if (mark.kind === "points" && viewport.scale < POINTS_FROM) continue;
    const key = `${mark.kind} ${mark.ink}`;
    const list = alike.get(key);
    if (list) list.push(mark);
    else alike.set(key, [mark]);
  }
  for (const list of alike.values()) {
    const [first] = list;
    if (!first) continue;
    canvas.strokeStyle = inks.colour[first.ink];
    canvas.fillStyle = inks.colour.paper;
    canvas.lineWidth = MARK_WEIGHTS[first.kind];
    canvas.beginPath();
    for (const mark of list) traceMark(canvas, mark, viewport, rails);
    if (first.kind === "pin") canvas.fill();
    canvas.stroke();
  }
}

const MARK_WEIGHTS: Readonly<Record<Mark["kind"], number>> = { pin: PIN.weight, portal: 1.8, end: 1.2, points: 0.9 };

function traceMark(canvas: Canvas, { kind, pose }: Mark, viewport: Viewport, rails: number): void {
  const { x, y } = toScreen(viewport, pose);
  // Along the track and to its left, on screen.
  const [ux, uy] = [Math.cos(pose.heading), -Math.sin(pose.heading)];
  if (kind === "pin") {
    canvas.moveTo(x + PIN.radius, y);
    canvas.arc(x, y, PIN.radius, 0, 2 * Math.PI);
    return;
  }
  if (kind === "portal") {
    const half = Math.max(PORTAL.half, rails);
    const [ax, ay] = [ux * PORTAL.arm, uy * PORTAL.arm];
    canvas.moveTo(x + ax + uy * half, y + ay - ux * half);
    canvas.lineTo(x + uy * half, y - ux * half);
    canvas.lineTo(x - uy * half, y + ux * half);
    canvas.lineTo(x + ax - uy * half, y + ay + ux * half);
    return;
  }
  const half = Math.max((TICK / 2) * (kind === "end" ? 1 : POINTS), rails);
  canvas.moveTo(x + uy * half, y - ux * half);
  canvas.lineTo(x - uy * half, y + ux * half);
}

/** Labels placed at one scale, drawn at the window's: each keeps its distance from the place it belongs to. */
export function paintLabels(
  canvas: Canvas,
  labels: readonly Label[],
  placedAt: number,
  viewport: Viewport,
  inks: Inks,
): void {
  canvas.setLineDash([]);
  for (const { anchor, marks } of labels) {
    const at = toScreen(viewport, anchor);
    const shift = { x: at.x - anchor.x * placedAt, y: at.y + anchor.y * placedAt };
    for (const mark of marks) paintMark(canvas, mark, shift, inks);
  }
}

/** Takes off the layer's lines where labels will be lettered on another. */
export function breakUnder(
  canvas: Canvas,
  labels: readonly Label[],
  placedAt: number,
  viewport: Viewport,
  inks: Inks,
): void {
  canvas.globalCompositeOperation = "destination-out";
  for (const { anchor, marks } of labels) {
    const at = toScreen(viewport, anchor);
    const shift = { x: at.x - anchor.x * placedAt, y: at.y + anchor.y * placedAt };
    for (const mark of marks) {
      if (mark.kind !== "text") continue;
      canvas.save();
      letter(canvas, mark, shift, inks);
      canvas.strokeText(mark.text, 0, mark.size * CENTRE);
      canvas.restore();
    }
  }
  canvas.globalCompositeOperation = "source-over";
}

/** Width of what is laid round letters, or taken off there, px: half of it shows. */
const BREAK = 4;
/** Part of the size by which a line of capitals and figures is let down to stand centred on its height. */
const CENTRE = 0.35;

/** Makes ready to letter a text at its place. */
function letter(canvas: Canvas, mark: TextMark, shift: Point, inks: Inks): void {
  const { at, size, face = "draw", italic, bold, anchor = "middle", turn = 0 } = mark;
  canvas.translate(at.x + shift.x, at.y + shift.y);
  if (turn) canvas.rotate((turn * Math.PI) / 180);
  canvas.font = `${italic ? "italic " : ""}${bold ? "bold " : ""}${size}px ${inks.face[face]}`;
  canvas.textAlign = anchor === "middle" ? "center" : anchor;
  canvas.lineWidth = BREAK;
  canvas.lineJoin = "round";
}

function paintMark(canvas: Canvas, mark: LabelMark, shift: Point, inks: Inks): void {
  if (mark.kind === "text") {
    const { text, size, ink, halo } = mark;
    canvas.save();
    letter(canvas, mark, shift, inks);
    // Lines break under lettering: the layer of track is bare but for ink, so what is taken off shows the bench.
    canvas.globalCompositeOperation = halo ? "source-over" : "destination-out";
    canvas.strokeStyle = inks.colour[halo ?? "paper"];
    canvas.strokeText(text, 0, size * CENTRE);
    canvas.globalCompositeOperation = "source-over";
    canvas.fillStyle = inks.colour[ink];
    canvas.fillText(text, 0, size * CENTRE);
    canvas.restore();
    return;
  }
  canvas.beginPath();
  if (mark.kind === "ring") {
    canvas.arc(mark.at.x + shift.x, mark.at.y + shift.y, mark.radius, 0, 2 * Math.PI);
  } else {
    for (const [i, p] of mark.points.entries()) {
      if (i === 0) canvas.moveTo(p.x + shift.x, p.y + shift.y);
      else canvas.lineTo(p.x + shift.x, p.y + shift.y);
    }
    if (mark.closed) canvas.closePath();
    if (mark.fill) {
      canvas.fillStyle = inks.colour[mark.fill];
      canvas.fill();
    }
  }
  if (!mark.ink) return;
  canvas.strokeStyle = inks.colour[mark.ink];
  canvas.lineWidth = mark.weight ?? 1;
  canvas.lineJoin = "miter";
  canvas.stroke();
}
