/**
 * Which stretches of a straight line keep a distance from edges: each edge takes from the line what lies within the
 * distance of it, a strip with round ends; what none takes is free.
 *
 * Always holds: free stretches are in order and apart; every place of one is at least as far from all edges as asked.
 */
import type { Area } from "../geometry/areas.js";
import type { Millimetres } from "../geometry/units.js";

/** From one distance along a line to another. */
export type Stretch = readonly [from: Millimetres, to: Millimetres];

/** What the edges of areas take of the line from (x, y) along (ux, uy), in no order. */
export function takenBy(
  areas: readonly Area[],
  reach: Millimetres,
  x: number,
  y: number,
  ux: number,
  uy: number,
): Stretch[] {
  const taken: Stretch[] = [];
  for (const area of areas) {
    for (const ring of area) {
      for (let i = 0; i < ring.length; i++) {
        const a = ring[i];
        const b = ring[i + 1] ?? ring[0];
        if (!a || !b) continue;
        // The line is the first axis, the place asked about lies at u along it.
        const ua = (a.x - x) * ux + (a.y - y) * uy;
        const va = (a.y - y) * ux - (a.x - x) * uy;
        const ub = (b.x - x) * ux + (b.y - y) * uy;
        const vb = (b.y - y) * ux - (b.x - x) * uy;
        if ((va >= reach && vb >= reach) || (va <= -reach && vb <= -reach)) continue;
        const stretch = withinReach(ua, va, ub, vb, reach);
        if (stretch) taken.push(stretch);
      }
    }
  }
  return taken;
}

/** Places u of the axis nearer than `reach` to the segment from a to b. */
function withinReach(ua: number, va: number, ub: number, vb: number, reach: Millimetres): Stretch | undefined {
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  const add = (u: number): void => {
    from = Math.min(from, u);
    to = Math.max(to, u);
  };
  for (const [u, v] of [
    [ua, va],
    [ub, vb],
  ] as const) {
    if (Math.abs(v) >= reach) continue;
    const half = Math.sqrt(reach * reach - v * v);
    add(u - half);
    add(u + half);
  }
  // The strip's two long sides cross the axis between the ends, and so may the segment itself.
  const [du, dv] = [ub - ua, vb - va];
  const length = Math.hypot(du, dv);
  if (length > 0) {
    for (const side of [-reach, reach]) {
      const v0 = va + (side * du) / length;
      const u0 = ua - (side * dv) / length;
      if (dv !== 0) {
        const t = -v0 / dv;
        if (t >= 0 && t <= 1) add(u0 + t * du);
      }
    }
  }
  return to > from ? [from, to] : undefined;
}

/** What is left between two places of the axis. */
export function freeOf(taken: readonly Stretch[], from: Millimetres, to: Millimetres): Stretch[] {
  const free: Stretch[] = [];
  let at = from;
  for (const [a, b] of [...taken].sort((p, q) => p[0] - q[0])) {
    if (b <= at) continue;
    if (a >= to) break;
    if (a > at) free.push([at, a]);
    at = b;
  }
  if (at < to) free.push([at, to]);
  return free;
}
