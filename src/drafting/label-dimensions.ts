/** Overall dimensions of the room along its top and its left, ended with 45 degree ticks; the figure breaks the line. */
import type { Point } from "../geometry/pose.js";
import type { Plan } from "../plan/schema.js";
import { pointsBox } from "./boxes.js";
import { lengthText } from "./figures.js";
import { type Label, type LabelMark, onPaper, type Paper, SIZE, textWidth } from "./label.js";

/** Off the wall's face, px: clear of the hatched band. */
const OFF = 24;
const TICK = 4;
const GAP = 5;

/** One dimension between two places of the drawing. */
export function dimensionMarks(a: Point, b: Point, text: string): LabelMark[] {
  const along = Math.atan2(b.y - a.y, b.x - a.x);
  const slant = (p: Point): LabelMark => {
    const [dx, dy] = [TICK * Math.cos(along + Math.PI / 4), TICK * Math.sin(along + Math.PI / 4)];
    const points = [
      { x: p.x - dx, y: p.y - dy },
      { x: p.x + dx, y: p.y + dy },
    ];
    return { kind: "stroke", points, ink: "ink2", weight: 1 };
  };
  const middle = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  const gap = textWidth(text, SIZE) / 2 + GAP;
  const off = (way: 1 | -1): Point => ({
    x: middle.x + way * gap * Math.cos(along),
    y: middle.y + way * gap * Math.sin(along),
  });
  const degrees = (along * 180) / Math.PI;
  const line = { kind: "stroke", ink: "ink2", weight: 0.6 } as const;
  return [
    { ...line, points: [a, off(-1)] },
    { ...line, points: [off(1), b] },
    slant(a),
    slant(b),
    { kind: "text", at: middle, text, size: SIZE, ink: "ink2", turn: degrees > 90 ? degrees - 180 : degrees },
  ];
}

export function dimensionLabels(paper: Paper, plan: Plan, units: Plan["units"]): Label[] {
  const { minX, minY, maxX, maxY } = pointsBox(plan.room.outline);
  const label = (a: Point, b: Point, off: Point, length: number): Label => {
    const [p, q] = [onPaper(paper, a), onPaper(paper, b)];
    const from = { x: p.x + off.x, y: p.y + off.y };
    const to = { x: q.x + off.x, y: q.y + off.y };
    return { kind: "dimension", anchor: a, box: undefined, marks: dimensionMarks(from, to, lengthText(length, units)) };
  };
  const topLeft = { x: minX, y: maxY };
  return [
    label(topLeft, { x: maxX, y: maxY }, { x: 0, y: -OFF }, maxX - minX),
    label({ x: minX, y: minY }, topLeft, { x: -OFF, y: 0 }, maxY - minY),
  ];
}
