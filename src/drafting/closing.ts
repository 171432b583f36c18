/**
 * A room measured wall by wall seldom comes back to where it began. How far it fails to close, and how the failing is
 * shared out.
 *
 * Always holds: a chain that was spread closes and keeps every direction; one that closed before is left as it is.
 */
import { bearing, distance, type Point } from "../geometry/pose.js";
import { leastCorrection } from "../geometry/numeric.js";
import type { Millimetres, Radians } from "../geometry/units.js";

export interface ClosingError {
  readonly distance: Millimetres;
  /** Direction from the last corner back to the first, anticlockwise from +x; 0 where they coincide. */
  readonly heading: Radians;
}

/** Undefined for fewer than three corners, between which nothing can close. */
export function closingError(corners: readonly Point[]): ClosingError | undefined {
  const [first, last] = [corners[0], corners.at(-1)];
  if (!first || !last || corners.length < 3) return undefined;
  return { distance: distance(last, first), heading: bearing(last, first) };
}

/** A wall of this little or less has been turned round rather than corrected. */
const LEAST_WALL: Millimetres = 1;

/**
 * The corners of the closed room, the last (which was to be the first again) left out. Directions are kept, since
 * corners of rooms are squarer than tapes are true; lengths are changed by least squares with weights in proportion to
 * their length (Crandall's rule of surveying, from memory). Undefined where no change of lengths closes the chain, as
 * where all walls are parallel, or where a wall would come out without length.
 */
export function spreadClosing(corners: readonly Point[]): Point[] | undefined {
  const [first, last] = [corners[0], corners.at(-1)];
  if (!first || !last || corners.length < 4) return undefined;
  const walls = corners.slice(1).map((to, i) => {
    const from = corners[i] ?? to;
    return { dx: to.x - from.x, dy: to.y - from.y, length: distance(from, to) };
  });
  if (walls.some(({ length }) => length === 0)) return undefined;
  const rows = [
    walls.map(({ dx, length }) => dx / Math.sqrt(length)),
    walls.map(({ dy, length }) => dy / Math.sqrt(length)),
  ];
  const correction = leastCorrection(rows, [first.x - last.x, first.y - last.y]);
  if (!correction) return undefined;
  const spread: Point[] = [first];
  for (const [i, { dx, dy, length }] of walls.entries()) {
    const longer = (correction[i] ?? 0) * Math.sqrt(length);
    if (!(length + longer > LEAST_WALL)) return undefined;
    const before = spread[i] ?? first;
    const part = 1 + longer / length;
    spread.push({ x: before.x + dx * part, y: before.y + dy * part });
  }
  const end = spread.pop();
  // Nearly parallel walls give corrections that do not correct.
  return end && distance(end, first) <= LEAST_WALL ? spread : undefined;
}

/** The first line of a chain that the line from its last corner to `next` would cross; touching is no crossing. */
export function crossedLine(corners: readonly Point[], next: Point): number | undefined {
  const last = corners.at(-1);
  if (!last) return undefined;
  for (let i = 0; i + 2 < corners.length; i++) {
    const [a, b] = [corners[i], corners[i + 1]];
    // Two lines cross exactly where they are the diagonals of a convex four-sided figure.
    if (a && b && convex([a, last, b, next])) return i;
  }
  return undefined;
}

function convex(corners: readonly Point[]): boolean {
  const turns = corners.map((p, i) => {
    const [q, r] = [corners[(i + 1) % corners.length] ?? p, corners[(i + 2) % corners.length] ?? p];
    return (q.x - p.x) * (r.y - q.y) - (q.y - p.y) * (r.x - q.x);
  });
  return turns.every((turn) => turn > 0) || turns.every((turn) => turn < 0);
}
