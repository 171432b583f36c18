/**
 * Points, directions and poses in the plane: millimetres, x to the right, y up the sheet, headings anticlockwise from +x.
 * Always holds: `toWorld(f, toLocal(f, p))` is p; `reversePose(reversePose(p))` is p up to a full turn.
 */
import { type Millimetres, type Radians, wrapAngle } from "./units.js";

export interface Point {
  readonly x: Millimetres;
  readonly y: Millimetres;
}

export interface Pose extends Point {
  readonly heading: Radians;
}

export const distance = (a: Point, b: Point): Millimetres => Math.hypot(b.x - a.x, b.y - a.y);

/** Direction from a to b; 0 where they coincide. */
export const bearing = (a: Point, b: Point): Radians => Math.atan2(b.y - a.y, b.x - a.x);

/** The point `along` ahead of a pose and `left` to its left. */
export function offsetPoint(pose: Pose, along: Millimetres, left: Millimetres): Point {
  const c = Math.cos(pose.heading);
  const s = Math.sin(pose.heading);
  return { x: pose.x + along * c - left * s, y: pose.y + along * s + left * c };
}

/** `local`, given relative to `frame`, in the frame's own coordinates. */
export function toWorld(frame: Pose, local: Pose): Pose {
  const { x, y } = offsetPoint(frame, local.x, local.y);
  return { x, y, heading: frame.heading + local.heading };
}

/** `world` as seen from `frame`: x ahead, y to the left. */
export function toLocal(frame: Pose, world: Pose): Pose {
  const { x, y } = localPoint(frame, world);
  return { x, y, heading: world.heading - frame.heading };
}

/** A point as seen from `frame`: x ahead, y to the left. */
export function localPoint(frame: Pose, point: Point): Point {
  const c = Math.cos(frame.heading);
  const s = Math.sin(frame.heading);
  const dx = point.x - frame.x;
  const dy = point.y - frame.y;
  return { x: dx * c + dy * s, y: -dx * s + dy * c };
}

/** The same place looking the other way. */
export function reversePose(pose: Pose): Pose {
  return { x: pose.x, y: pose.y, heading: wrapAngle(pose.heading + Math.PI) };
}

/** Whether two poses agree in place (mm) and direction (rad), full turns aside. */
export function samePose(a: Pose, b: Pose, mm: Millimetres, rad: Radians): boolean {
  return distance(a, b) <= mm && Math.abs(wrapAngle(a.heading - b.heading)) <= rad;
}
