/**
 * Drawing with a set square: a line being drawn is caught at right angles to the one before it, at half right angles,
 * and where it comes level with the first corner.
 *
 * Always holds: the caught point is within reach of the hand (or, level with a corner, within twice as much); where
 * nothing catches, the point is given back as it is.
 */
import { bearing, distance, localPoint, offsetPoint, type Point } from "../geometry/pose.js";
import type { Millimetres, Radians } from "../geometry/units.js";

export interface Squared {
  readonly point: Point;
  /** In words; empty where nothing caught. */
  readonly word: string;
}

const RIGHT: Radians = Math.PI / 2;

/** Directions less than this apart are one. */
const SAME: Radians = 1e-9;

/** `along` is the direction of the line before, where there is one; the sheet's own directions always count. */
export function squareTo(
  from: Point,
  along: Radians | undefined,
  point: Point,
  reach: Millimetres,
  level?: Point,
): Squared {
  if (distance(from, point) <= reach) return { point, word: "" };
  const heading = bearing(from, point);
  const caught = (base: Radians, step: Radians): Point | undefined => {
    const pose = { ...from, heading: base + Math.round((heading - base) / step) * step };
    const { x, y } = localPoint(pose, point);
    if (Math.abs(y) > reach) return undefined;
    return offsetPoint(pose, alongside(pose.heading, x), 0);
  };
  /** The distance at which a line in this direction comes level with the corner, where that is near. */
  const alongside = (direction: Radians, x: Millimetres): Millimetres => {
    const ahead = level ? localPoint({ ...from, heading: direction }, level).x : Number.NaN;
    return Math.abs(ahead - x) <= reach && ahead > reach ? ahead : x;
  };
  const bases: (readonly [Radians, Radians, string])[] = [
    ...(along === undefined ? [] : ([[along, RIGHT, "square"]] as const)),
    [0, RIGHT, along === undefined || Math.abs(Math.sin(2 * along)) < SAME ? "square" : "square to the sheet"],
    ...(along === undefined ? [] : ([[along, RIGHT / 2, "half square"]] as const)),
  ];
  for (const [base, step, word] of bases) {
    const at = caught(base, step);
    if (at) return { point: at, word };
  }
  return { point, word: "" };
}

/** The point where two lines through corners, square to one another, bring a dragged corner: each of its neighbours' x and y. */
export function squareCorner(point: Point, neighbours: readonly Point[], reach: Millimetres): Squared {
  const near = (of: (p: Point) => number): number | undefined =>
    neighbours.map(of).find((value) => Math.abs(value - of(point)) <= reach);
  const [x, y] = [near((p) => p.x), near((p) => p.y)];
  if (x === undefined && y === undefined) return { point, word: "" };
  return { point: { x: x ?? point.x, y: y ?? point.y }, word: "square" };
}
