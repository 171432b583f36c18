/**
 * An edge of an outline moved square to itself: its neighbours grow or shrink in their own lines.
 *
 * Always holds: the moved edge is parallel to itself and `by` from where it was; no edge turns round.
 */
import { bearing, offsetPoint, type Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";

/** A neighbour that turns off by less than this (sine) would let the corner slide far away; it is turned instead. */
const STEEP = 0.1;

/** `by` mm to the left of edge `edge`, which runs from corner `edge` to the next. Undefined where it would be pulled past a corner, or is not there. */
export function slideEdge<P extends Point>(corners: readonly P[], edge: number, by: Millimetres): P[] | undefined {
  const n = corners.length;
  const at = (i: number): P | undefined => corners[(i + n) % n];
  const [before, from, to, after] = [at(edge - 1), corners[edge], at(edge + 1), at(edge + 2)];
  if (!before || !from || !to || !after || n < 3) return undefined;
  const heading = bearing(from, to);
  const slid = (corner: P, along: number): P => {
    const turn = Math.sin(along - heading);
    const moved =
      Math.abs(turn) < STEEP
        ? offsetPoint({ ...corner, heading }, 0, by)
        : offsetPoint({ ...corner, heading: along }, by / turn, 0);
    return { ...corner, x: moved.x, y: moved.y };
  };
  const next = corners.with(edge, slid(from, bearing(before, from))).with((edge + 1) % n, slid(to, bearing(to, after)));
  const turnedRound = [edge - 1, edge, edge + 1].some((i) => {
    const [a, b, c, d] = [at(i), at(i + 1), next[(i + n) % n], next[(i + 1 + n) % n]];
    return a && b && c && d && (b.x - a.x) * (d.x - c.x) + (b.y - a.y) * (d.y - c.y) <= 0;
  });
  return turnedRound ? undefined : next;
}
