/**
 * Two circular arcs from one pose to another, tangent at both and to one another, with equal tangents at both ends
 * (the classic equal-tangent biarc). Between two straights with the same tangent on both it is one arc.
 *
 * Always holds: the path starts and ends on the poses asked for; there is no arc where both are the same place.
 */
import { bearing, distance, type Point, type Pose } from "./pose.js";
import type { Segment } from "./segment.js";
import { wrapAngle } from "./units.js";

/** Curvatures nearer than this, 1/mm, are one arc: over a metre they part by less than a thousandth of a millimetre. */
const ONE_ARC = 1e-9;

/** Undefined where the two poses are one place, or look straight at one another. */
export function biarc(from: Pose, to: Pose): Segment[] | undefined {
  const [tx, ty] = [Math.cos(from.heading), Math.sin(from.heading)];
  const [ux, uy] = [Math.cos(to.heading), Math.sin(to.heading)];
  const [vx, vy] = [to.x - from.x, to.y - from.y];
  // Tangents of length d reach points 2 d apart: (v - d (t + u))^2 = 4 d^2.
  const a = (tx + ux) ** 2 + (ty + uy) ** 2 - 4;
  const b = vx * (tx + ux) + vy * (ty + uy);
  const c = vx * vx + vy * vy;
  const d = c / (b + Math.sqrt(b * b - a * c));
  if (!(d > 0) || !Number.isFinite(d)) return undefined;
  const joint = {
    x: (from.x + d * tx + to.x - d * ux) / 2,
    y: (from.y + d * ty + to.y - d * uy) / 2,
  };
  const first = arcTo(from, joint);
  const second = arcTo({ ...joint, heading: from.heading + first.length * first.k0 }, to);
  if (Math.abs(first.k0 - second.k0) > ONE_ARC) return [first, second];
  const length = first.length + second.length;
  const k = (first.length * first.k0 + second.length * second.k0) / length;
  return [{ length, k0: k, k1: k }];
}

/** The arc tangent to a pose that leads to a point. */
function arcTo(from: Pose, to: Point): Segment {
  const half = wrapAngle(bearing(from, to) - from.heading);
  const chord = distance(from, to);
  const length = half === 0 ? chord : (chord * half) / Math.sin(half);
  const k = (2 * half) / length;
  return { length, k0: k, k1: k };
}
