/**
 * Boxes round lines, and which lines lie near a box.
 *
 * Always holds: a line is measured once, and the lines of a layout are indexed once, as long as they are the same.
 */
import { type Box, pathBounds } from "../geometry/bounds.js";
import { type BoxIndex, indexBoxes } from "../geometry/search.js";
import type { Layout } from "./layout.js";
import type { Line } from "./line.js";

const known = new WeakMap<Line, Box>();

export function lineBox(line: Line): Box {
  let box = known.get(line);
  if (!box) {
    box = pathBounds(line.path);
    known.set(line, box);
  }
  return box;
}

const indexes = new WeakMap<Layout["lines"], { readonly lines: readonly Line[]; readonly index: BoxIndex }>();

/** The lines of a layout whose boxes overlap a box, in the layout's order. */
export function linesNear({ lines: all }: Pick<Layout, "lines">, box: Box): Line[] {
  let indexed = indexes.get(all);
  if (!indexed) {
    const lines = [...all.values()];
    const boxes = new Float64Array(4 * lines.length);
    lines.forEach((line, i) => {
      const { minX, minY, maxX, maxY } = lineBox(line);
      boxes.set([minX, minY, maxX, maxY], 4 * i);
    });
    indexed = { lines, index: indexBoxes(boxes) };
    indexes.set(all, indexed);
  }
  const { lines, index } = indexed;
  const found = index.overlapping(box.minX, box.minY, box.maxX, box.maxY).sort((a, b) => a - b);
  return found.flatMap((i) => lines[i] ?? []);
}
