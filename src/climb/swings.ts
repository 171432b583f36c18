/**
 * Lines by which a climb swings out from a lane onto a circle of the other hand: onto a balloon or helix wider than the
 * neck that leads to it. Between lane and circle lies one curve away and next to no straight.
 */
import type { Pose } from "../geometry/pose.js";
import type { Millimetres, Radians } from "../geometry/units.js";
import type { Ground } from "./ground.js";
import type { Lane } from "./lanes.js";
import type { ClimbLimits } from "./limits.js";
import { extentOf } from "./turn-shape.js";

/** Straight between the two curves. */
const BETWEEN: Millimetres = 20;
/** Swings of less are no swing; of more they go the long way round. */
const LEAST: Radians = 0.1;
const MOST: Radians = 1.3;

export interface Site {
  readonly x: Millimetres;
  readonly y: Millimetres;
  readonly radius: Millimetres;
}

/** Poses on the lines, the gentlest swing first. */
export function swings(lanes: readonly Lane[], sites: readonly Site[], ground: Ground, limits: ClimbLimits): Pose[] {
  const found: { readonly pose: Pose; readonly angle: Radians }[] = [];
  const { shift, advance } = extentOf(limits.radius, limits.easement);
  const off = limits.radius + shift;
  for (const lane of lanes) {
    if (lane.diagonal || lane.runs.length === 0) continue;
    for (const site of sites) {
      const outer = extentOf(site.radius, limits.easement);
      const across = off + site.radius + outer.shift;
      const along = Math.max(BETWEEN, limits.reverse) + advance + outer.advance;
      // Seen from the lane: where the circle's centre lies, and that of the curve away, which is on the far side of it.
      const u = (site.x - lane.x) * lane.ux + (site.y - lane.y) * lane.uy;
      const v = (site.y - lane.y) * lane.ux - (site.x - lane.x) * lane.uy;
      for (const hand of [1, -1]) {
        const dv = v - hand * off;
        const square = across * across + along * along - dv * dv;
        if (square <= 0) continue;
        const du = Math.sqrt(square);
        const turned = Math.atan2(dv, du) + hand * Math.atan2(across, along);
        if (hand * turned < LEAST || hand * turned > MOST) continue;
        const heading = lane.heading + turned;
        const [ux, uy] = [Math.cos(heading), Math.sin(heading)];
        const cx = lane.x + (u - du) * lane.ux - hand * off * lane.uy;
        const cy = lane.y + (u - du) * lane.uy + hand * off * lane.ux;
        const x = cx + hand * off * uy;
        const y = cy - hand * off * ux;
        const middle = along / 2;
        if (ground.spare(x + middle * ux, y + middle * uy, 0) < 0) continue;
        found.push({ pose: { x, y, heading }, angle: Math.abs(turned) });
      }
    }
  }
  return found.sort((a, b) => a.angle - b.angle || a.pose.x - b.pose.x || a.pose.y - b.pose.y).map(({ pose }) => pose);
}
