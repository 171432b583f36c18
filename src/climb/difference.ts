/**
 * How different two routes are: the share of their length that lies in other places. The floor is laid out in squares
 * and the length of track over each is counted; 1 less the length they have in common over the length either has.
 *
 * Always holds: 0 for a route and itself, 1 for routes that share no square, the same whichever comes first.
 */
import type { Millimetres } from "../geometry/units.js";

const SQUARE: Millimetres = 200;
/** Routes of one answer differ by at least this. */
export const DIFFERENT = 0.3;

/** Routes that turn as much, and as often the other way, must differ by more to be two. */
export const DIFFERENT_ALIKE = 0.5;

export type Occupancy = ReadonlyMap<string, Millimetres>;

/** Length over every square, from points in order along the route. */
export function occupancyOf(points: Iterable<readonly [Millimetres, Millimetres]>): Occupancy {
  const squares = new Map<string, number>();
  let before: readonly [number, number] | undefined;
  for (const [x, y] of points) {
    if (before) {
      const length = Math.hypot(x - before[0], y - before[1]);
      const key = `${Math.floor((x + before[0]) / 2 / SQUARE)},${Math.floor((y + before[1]) / 2 / SQUARE)}`;
      squares.set(key, (squares.get(key) ?? 0) + length);
    }
    before = [x, y];
  }
  return squares;
}

export function difference(a: Occupancy, b: Occupancy): number {
  let common = 0;
  let either = 0;
  for (const [square, length] of a) {
    const other = b.get(square) ?? 0;
    common += Math.min(length, other);
    either += Math.max(length, other);
  }
  for (const [square, length] of b) if (!a.has(square)) either += length;
  return either > 0 ? 1 - common / either : 0;
}
