/**
 * The nearest place on a path to a point.
 * Always holds: no place on the path is nearer than `distance` (1e-9 mm); `distance` is the distance from the point to
 * the pose at `s`; 0 <= s <= length; of places equally near (turns of a helix above one another) the first is returned.
 */
import { bracketedRoot } from "./bracketed-root.js";
import { type Path, poseAt } from "./path.js";
import { localPoint, type Point } from "./pose.js";
import { type Segment, segmentCurvature, segmentPose } from "./segment.js";
import type { Millimetres } from "./units.js";

export interface NearestPlace {
  /** Distance along the path. */
  readonly s: Millimetres;
  readonly distance: Millimetres;
  /** How far to the left of the path's tangent there the point lies; beside the path (not beyond its ends) its size is `distance`. */
  readonly left: Millimetres;
}

/** Places whose distances agree this closely are equally near: rounding of coordinates a few metres from the origin. */
const SAME_DISTANCE: Millimetres = 1e-11;

/** A foot of the perpendicular is found to this; the distance is then good to its square. */
const FOOT: Millimetres = 1e-11;

/** Curvature too small to bend anything: a radius of 1e30 mm. Below it the closed form of a circle loses its digits. */
const NO_CURVATURE = 1e-30;

/** An easement is not halved further for one search than this part of its length: two feet of a perpendicular nearer together than that differ in distance by less than 1e-9 mm. */
const LEAST_PART = 1 / 4096;

interface Best {
  s: number;
  d: number;
}

/**
 * Nearest place on `path` to `point`, ends included. Straight and circular segments in closed form, easements by
 * bisection of the stretches where a foot of the perpendicular may lie, then a bracketed root. A path without length
 * answers with its start; a point that is not finite gives NaN.
 */
export function nearestOnPath(path: Path, point: Point): NearestPlace {
  const best: Best = { s: 0, d: Math.hypot(point.x - path.start.x, point.y - path.start.y) };
  const offer = (s: number, d: number) => {
    if (d < best.d - SAME_DISTANCE) {
      best.s = s;
      best.d = d;
    }
  };
  path.segments.forEach((g, i) => {
    const from = path.poses[i];
    if (!from) return;
    const q = localPoint(from, point);
    // No place on the segment is further from its start than its length.
    if (Math.hypot(q.x, q.y) - g.length >= best.d) return;
    const begin = path.stations[i] ?? 0;
    const end = segmentPose(g, g.length);
    if (g.k0 === g.k1) {
      const s = footOnArc(g.k0, q);
      if (s > 0 && s < g.length) {
        const p = segmentPose(g, s);
        offer(begin + s, Math.hypot(q.x - p.x, q.y - p.y));
      }
    } else searchEasement(g, q, begin, best, offer);
    offer(begin + g.length, Math.hypot(q.x - end.x, q.y - end.y));
  });
  const pose = poseAt(path, best.s);
  return { s: best.s, distance: best.d, left: localPoint(pose, point).y };
}

/** Foot of the perpendicular from q on the circle (or line) of curvature k through the origin along +x, as a distance ahead. */
function footOnArc(k: number, q: Point): Millimetres {
  if (Math.abs(k) < NO_CURVATURE) return q.x;
  const u = k * q.x;
  const v = 1 - k * q.y;
  if (u === 0 && v === 0) return 0;
  const s = Math.atan2(u, v) / k;
  return s < 0 ? s + (2 * Math.PI) / Math.abs(k) : s;
}

/** Offers the nearest interior places of a segment of changing curvature; q in the segment's own frame. */
function searchEasement(g: Segment, q: Point, begin: number, best: Best, offer: (s: number, d: number) => void): void {
  // How far ahead of the pose at s the point lies: zero at a foot, falling through zero where that is a nearest place.
  const ahead = (s: number) => localPoint(segmentPose(g, s), q).x;
  const sharpest = Math.max(Math.abs(g.k0), Math.abs(g.k1));
  const least = g.length * LEAST_PART;
  const visit = (a: number, b: number) => {
    const half = (b - a) / 2;
    const m = a + half;
    const pose = segmentPose(g, m);
    const d = Math.hypot(q.x - pose.x, q.y - pose.y);
    if (d - half >= best.d) return;
    const left = localPoint(pose, q).y;
    // left' = -k * ahead and |ahead| <= distance, so left stays within this of its value in the middle.
    const slack = sharpest * half * (d + half);
    const ka = segmentCurvature(g, a);
    const kb = segmentCurvature(g, b);
    const products = [ka * (left - slack), ka * (left + slack), kb * (left - slack), kb * (left + slack)];
    // ahead' = k * left - 1: of one sign, there is at most one foot; positive, only a farthest place.
    if (Math.min(...products) > 1) return;
    if (Math.max(...products) < 1 || b - a <= least) {
      const [fa, fb] = [ahead(a), ahead(b)];
      if (fa * fb > 0 && b - a > least) return;
      const s = fa * fb > 0 ? m : bracketedRoot({ cross: ahead }, a, b, fa, fb, FOOT);
      const p = segmentPose(g, s);
      offer(s + begin, Math.hypot(q.x - p.x, q.y - p.y));
      return;
    }
    visit(a, m);
    offer(m + begin, d);
    visit(m, b);
  };
  visit(0, g.length);
}
