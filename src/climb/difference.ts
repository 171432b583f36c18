/**
 * How different two routes are, in shape and not by inches: the share of their length that lies in other places, and how
 * much more one turns than the other. The floor is laid out in squares; track counts over the four about it, the more
 * the nearer, so that a line beside a line, a few inches off, counts as nearly the same.
 *
 * Always holds: 0 for a route and itself, 1 for routes two squares apart throughout, the same whichever comes first.
 */
import type { Millimetres, Radians } from "../geometry/units.js";

const SQUARE: Millimetres = 800;
/** Routes of one answer lie by at least this share in other places, or turn otherwise: */
export const DIFFERENT = 0.4;
/** by three quarters of a half circle, all in all or to one side, and lie by this share in other places. */
export const TURNED: Radians = (3 * Math.PI) / 4;
export const DIFFERENT_TURNED = 0.1;

export type Occupancy = ReadonlyMap<string, Millimetres>;

export interface RouteShape {
  readonly occupancy: Occupancy;
  /** To the left less to the right, and all in all. */
  readonly net: Radians;
  readonly all: Radians;
}

/** Length over every square, from points in order along the route. */
export function occupancyOf(points: Iterable<readonly [Millimetres, Millimetres]>): Occupancy {
  const squares = new Map<string, number>();
  const add = (i: number, j: number, length: number): void => {
    if (length === 0) return;
    const key = `${i},${j}`;
    squares.set(key, (squares.get(key) ?? 0) + length);
  };
  let before: readonly [number, number] | undefined;
  for (const [x, y] of points) {
    if (before) {
      const whole = Math.hypot(x - before[0], y - before[1]);
      // Long straights are counted bit by bit.
      const bits = Math.max(1, Math.ceil((4 * whole) / SQUARE));
      for (let k = 0; k < bits; k++) {
        const along = (k + 0.5) / bits;
        const u = (before[0] + (x - before[0]) * along) / SQUARE;
        const v = (before[1] + (y - before[1]) * along) / SQUARE;
        const [i, j] = [Math.floor(u), Math.floor(v)];
        const [p, q] = [u - i, v - j];
        const length = whole / bits;
        add(i, j, length * (1 - p) * (1 - q));
        add(i + 1, j, length * p * (1 - q));
        add(i, j + 1, length * (1 - p) * q);
        add(i + 1, j + 1, length * p * q);
      }
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

/** Whether two routes are two; `slack` for shapes that were measured in another way. */
export function areTwo(a: RouteShape, b: RouteShape, slack = 0): boolean {
  const apart = difference(a.occupancy, b.occupancy) + slack;
  const turned = Math.max(Math.abs(a.net - b.net), Math.abs(a.all - b.all));
  return apart >= DIFFERENT || (turned >= TURNED && apart >= DIFFERENT_TURNED);
}
