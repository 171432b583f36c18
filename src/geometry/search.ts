/**
 * Search among boxes: which of many overlap one, which are nearest to a point. A thin cover of flatbush, which packs
 * the boxes into a tree once; it is built anew when they change.
 *
 * Always holds: a search finds exactly the boxes that overlap or touch, each once; the nearest come in order of distance;
 * an empty set is searched like any other and finds nothing; a box with a coordinate that is no number is never found.
 */
import Flatbush from "flatbush";
import type { Millimetres } from "./units.js";

export interface BoxIndex {
  readonly count: number;
  /** Numbers of the boxes that overlap or touch this one, in no order. */
  overlapping(minX: Millimetres, minY: Millimetres, maxX: Millimetres, maxY: Millimetres): number[];
  /** The same, each told to `see`, without making a list. */
  visit(minX: Millimetres, minY: Millimetres, maxX: Millimetres, maxY: Millimetres, see: (box: number) => void): void;
  /** Numbers of the boxes nearest to a point, nearest first; a box that holds the point is at distance 0. */
  nearest(x: Millimetres, y: Millimetres, most?: number, within?: Millimetres): number[];
}

const NOTHING: BoxIndex = { count: 0, overlapping: () => [], visit: () => {}, nearest: () => [] };

/** Index of boxes given one after the other as four numbers each: minX, minY, maxX, maxY. */
export function indexBoxes(boxes: Float64Array | readonly number[]): BoxIndex {
  const count = Math.floor(boxes.length / 4);
  const side = (box: number, k: number): number => boxes[4 * box + k] ?? Number.NaN;
  const whole: number[] = [];
  for (let i = 0; i < count; i++) {
    if (!Number.isNaN(side(i, 0) + side(i, 1) + side(i, 2) + side(i, 3))) whole.push(i);
  }
  if (whole.length === 0) return { ...NOTHING, count };
  const tree = new Flatbush(whole.length);
  for (const i of whole) tree.add(side(i, 0), side(i, 1), side(i, 2), side(i, 3));
  tree.finish();
  const nameOf = (found: number): number => whole[found] ?? found;
  return {
    count,
    overlapping: (minX, minY, maxX, maxY) => tree.search(minX, minY, maxX, maxY).map(nameOf),
    visit(minX, minY, maxX, maxY, see) {
      tree.search(minX, minY, maxX, maxY, (found) => {
        see(nameOf(found));
        return false;
      });
    },
    nearest: (x, y, most, within) => tree.neighbors(x, y, most, within).map(nameOf),
  };
}
