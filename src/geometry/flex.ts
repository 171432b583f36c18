/**
 * Hand-laid track: a cubic Bezier curve as a path, so that it can be measured, offset and run over like any other.
 * Always holds: the path starts at the pose given, follows the curve within 0.05 mm, ends on its last point (1e-6 mm) with
 * its last tangent (1e-9 rad), and its curvature does not jump inside.
 */
import { Bezier } from "bezier-js";
import { type CubicCurve, measuredError } from "./bezier.js";
import { type CurvatureNode, fitCurvature, nodesThatTurn, type TurnedNode } from "./curvature-fit.js";
import type { Path } from "./path.js";
import { bearing, distance, localPoint, offsetPoint, type Point, type Pose } from "./pose.js";
import type { Millimetres } from "./units.js";

/** Largest distance from the drawn curve: half the width of a fine pencil line at full size, a twentieth of what hand-laid track keeps. */
export const FLEX_TOLERANCE: Millimetres = 0.05;

/** Places at which the curve is searched for a cusp. */
const CUSP_SEARCH = 128;

/** A curve whose speed falls below this part of its greatest has a cusp or as good as one: its radius there is below a millimetre or so. */
const LEAST_SPEED = 1e-3;

/** A handle shorter than this gives no direction. */
const LEAST_HANDLE: Millimetres = 1e-3;

/** The finest chain tried; a curve it does not follow within tolerance is too sharp for track. */
const MOST_SEGMENTS = 256;

/** Distances to the curve are measured at this many places at least, along the whole of it. */
const MEASURED = 48;

/**
 * Path along the cubic Bezier curve start, c1, c2, end; the first handle keeps its length but is turned to the start's
 * heading, so that the track stays tangent. Undefined for control points that are not finite, a handle without length,
 * and a curve with a cusp.
 *
 * Curvature is taken from the curve at even parameters (closer where it bends) and joined by straight lines over its
 * length; the smallest correction then leads the end home. One segment alone is the G1 Hermite problem of
 * E. Bertolazzi & M. Frego, "G1 fitting with clothoids", Math. Meth. Appl. Sci. 38 (2015).
 */
export function flexPath(start: Pose, c1: Point, c2: Point, end: Point): Path | undefined {
  const handle = distance(start, c1);
  const last = distance(c2, end);
  if (!(handle > LEAST_HANDLE && last > LEAST_HANDLE) || !Number.isFinite(start.heading)) return undefined;
  // Seen from the start, which is exact for the first tangent and spares digits far from the origin.
  const place = (p: Point) => localPoint(start, p);
  const curve: CubicCurve = [{ x: 0, y: 0 }, place(offsetPoint(start, handle, 0)), place(c2), place(end)];
  if (!curve.every((p) => Number.isFinite(p.x * p.x + p.y * p.y))) return undefined;
  const bezier = new Bezier(curve.map((p) => ({ x: p.x, y: p.y })));
  if (hasCusp(bezier)) return undefined;
  const goal: Pose = { x: end.x, y: end.y, heading: bearing(c2, end) };
  for (let n = 1; n <= MOST_SEGMENTS; n *= 2) {
    const nodes = nodesOf(curve, bezier, n);
    const path = fitCurvature(start, nodes, goal);
    if (path && path.segments.length === n && follows(path, bezier, start)) return path;
  }
  return undefined;
}

function hasCusp(bezier: Bezier): boolean {
  const speeds: number[] = [];
  let before = bezier.derivative(0);
  for (let i = 0; i <= CUSP_SEARCH; i++) {
    const d = bezier.derivative(i / CUSP_SEARCH);
    // At a cusp the tangent turns about between two places, however near them.
    if (d.x * before.x + d.y * before.y <= 0) return true;
    speeds.push(Math.hypot(d.x, d.y));
    before = d;
  }
  return !(Math.min(...speeds) > LEAST_SPEED * Math.max(...speeds));
}

/** Arc length, curvature and turn of the curve at n + 1 even parameters. */
function nodesOf(curve: CubicCurve, bezier: Bezier, n: number): CurvatureNode[] {
  const [a, b, c, d] = curve;
  const nodes: TurnedNode[] = [];
  let s = 0;
  let turn = 0;
  let before = bezier.derivative(0);
  for (let i = 0; i <= n; i++) {
    const t = i / n;
    const v = bezier.derivative(t);
    const second = (p: number, q: number, r: number, u: number) =>
      6 * ((1 - t) * (r - 2 * q + p) + t * (u - 2 * r + q));
    const ax = second(a.x, b.x, c.x, d.x);
    const ay = second(a.y, b.y, c.y, d.y);
    if (i > 0) s += bezier.split((i - 1) / n, t).length();
    // Pieces long enough to turn about are refined anyway, so the turn within half a circle is the right one or harmless.
    turn += Math.atan2(before.x * v.y - before.y * v.x, before.x * v.x + before.y * v.y);
    nodes.push({ s, k: (v.x * ay - v.y * ax) / Math.hypot(v.x, v.y) ** 3, turn });
    before = v;
  }
  return nodesThatTurn(nodes);
}

/** Whether each segment lies within tolerance of its part of the curve. */
function follows(path: Path, bezier: Bezier, start: Pose): boolean {
  const n = path.segments.length;
  const parts = Math.max(4, Math.ceil(MEASURED / n));
  return path.segments.every((g, i) => {
    const world = path.poses[i];
    if (!world) return false;
    const frame = { ...localPoint(start, world), heading: world.heading - start.heading };
    const [a, b, c, d] = bezier.split(i / n, (i + 1) / n).points.map((p) => localPoint(frame, p));
    if (!a || !b || !c || !d) return false;
    // Along the curve the border may lie a little off; only beside it counts.
    const off = Math.max(Math.abs(a.y), measuredError(g, [a, b, c, d], parts));
    return off <= FLEX_TOLERANCE;
  });
}
