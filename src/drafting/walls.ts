/**
 * Places on the walls of a room, as the owner wrote them: wall n runs from corner n to the next, places are distances
 * from its first corner.
 *
 * Always holds: the point of a place on a wall lies on that wall; the nearest wall is no farther than any other.
 */
import { bearing, distance, localPoint, offsetPoint, type Point } from "../geometry/pose.js";
import type { Millimetres, Radians } from "../geometry/units.js";
import type { Opening, Room } from "../plan/schema.js";
import { outsideOf } from "../layout/openings.js";

export interface Wall {
  readonly from: Point;
  readonly to: Point;
  readonly length: Millimetres;
  readonly heading: Radians;
}

export interface OnWall {
  readonly wall: number;
  readonly at: Millimetres;
  readonly point: Point;
  readonly distance: Millimetres;
}

/** Undefined where there is no wall of that number. */
export function wallOf(outline: readonly Point[], wall: number): Wall | undefined {
  const from = outline[wall];
  const to = outline[wall + 1] ?? outline[0];
  if (!from || !to) return undefined;
  return { from, to, length: distance(from, to), heading: bearing(from, to) };
}

/** The place on a wall nearest to a point. */
export function placeOnWall(outline: readonly Point[], wall: number, point: Point): OnWall | undefined {
  const found = wallOf(outline, wall);
  if (!found) return undefined;
  const pose = { ...found.from, heading: found.heading };
  const at = Math.min(Math.max(localPoint(pose, point).x, 0), found.length);
  const on = offsetPoint(pose, at, 0);
  return { wall, at, point: on, distance: distance(on, point) };
}

/** Undefined for an outline without corners. Of walls equally near the first counts. */
export function nearestWall(outline: readonly Point[], point: Point): OnWall | undefined {
  let best: OnWall | undefined;
  for (let wall = 0; wall < outline.length; wall++) {
    const place = placeOnWall(outline, wall, point);
    if (place && (!best || place.distance < best.distance)) best = place;
  }
  return best;
}

/** The point `at` along a wall and `into` the room from it. */
export function pointAtWall(room: Room, wall: number, at: Millimetres, into: Millimetres): Point | undefined {
  const found = wallOf(room.outline, wall);
  return found && offsetPoint({ ...found.from, heading: found.heading }, at, -outsideOf(room) * into);
}

/** Openings on one wall may touch, to within rounding. */
const TOUCH: Millimetres = 0.01;

/** Why an opening cannot be where it is said to be; undefined where it can. `except` is its own id. */
export function openingTrouble(room: Room, opening: Opening, except?: string): string | undefined {
  const wall = wallOf(room.outline, opening.wall);
  if (!wall) return `there is no wall ${opening.wall + 1}`;
  if (opening.width > wall.length + TOUCH) return "the wall is shorter than that";
  if (opening.at < 0 || opening.at + opening.width > wall.length + TOUCH) return "it would reach past the corner";
  for (const [id, other] of Object.entries(room.openings)) {
    if (id === except || other.wall !== opening.wall) continue;
    const gap = Math.max(other.at - opening.at - opening.width, opening.at - other.at - other.width);
    if (gap < -TOUCH) return `it would overlap the ${other.name ?? other.kind}`;
  }
  if (opening.head !== undefined && opening.head <= (opening.sill ?? 0)) return "the head must be above the sill";
  return undefined;
}
