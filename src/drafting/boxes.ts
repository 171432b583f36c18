/**
 * Upright boxes of lines and rings, kept beside them so that culling and picking measure each only once.
 *
 * Always holds: boxes overlap when they touch; a grown box holds the box it grew from.
 */
import { type Box, pathBounds } from "../geometry/bounds.js";
import type { Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import { type BoxIndex, indexBoxes } from "../geometry/search.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";

const known = new WeakMap<Line, Box>();

export function lineBox(line: Line): Box {
  let box = known.get(line);
  if (!box) {
    box = pathBounds(line.path);
    known.set(line, box);
  }
  return box;
}

/** The box of points; of none, a box that overlaps nothing. */
export function pointsBox(points: Iterable<Point>): Box {
  let [minX, minY, maxX, maxY] = [
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  for (const { x, y } of points) {
    minX = Math.min(minX, x);
    minY = Math.min(minY, y);
    maxX = Math.max(maxX, x);
    maxY = Math.max(maxY, y);
  }
  return { minX, minY, maxX, maxY };
}

export const boxesOverlap = (a: Box, b: Box): boolean =>
  a.minX <= b.maxX && b.minX <= a.maxX && a.minY <= b.maxY && b.minY <= a.maxY;

export const boxHolds = (outer: Box, inner: Box): boolean =>
  outer.minX <= inner.minX && outer.minY <= inner.minY && outer.maxX >= inner.maxX && outer.maxY >= inner.maxY;

export const grownBox = (box: Box, by: Millimetres): Box => ({
  minX: box.minX - by,
  minY: box.minY - by,
  maxX: box.maxX + by,
  maxY: box.maxY + by,
});

/** The box of both; either may be undefined. */
export function unitedBox(a: Box | undefined, b: Box | undefined): Box | undefined {
  if (!a || !b) return a ?? b;
  return {
    minX: Math.min(a.minX, b.minX),
    minY: Math.min(a.minY, b.minY),
    maxX: Math.max(a.maxX, b.maxX),
    maxY: Math.max(a.maxY, b.maxY),
  };
}

const indexes = new WeakMap<Layout, { readonly lines: readonly Line[]; readonly index: BoxIndex }>();

/** The lines of a layout whose boxes overlap a box, in the layout's order; its index is built once. */
export function linesNear(layout: Layout, box: Box): Line[] {
  let known = indexes.get(layout);
  if (!known) {
    const lines = [...layout.lines.values()];
    const boxes = new Float64Array(4 * lines.length);
    lines.forEach((line, i) => {
      const { minX, minY, maxX, maxY } = lineBox(line);
      boxes.set([minX, minY, maxX, maxY], 4 * i);
    });
    known = { lines, index: indexBoxes(boxes) };
    indexes.set(layout, known);
  }
  const { lines, index } = known;
  const found = index.overlapping(box.minX, box.minY, box.maxX, box.maxY).sort((a, b) => a - b);
  return found.flatMap((i) => lines[i] ?? []);
}
