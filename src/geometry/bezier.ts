/**
 * A path as cubic Bezier curves, for drawings that know no other curve.
 * Always holds: curves follow one another without a gap and keep the path's tangents at their ends; no place on a curve
 * is further than `error` from the path, and `error` is no more than the tolerance asked for.
 */
import { Bezier } from "bezier-js";
import type { Path } from "./path.js";
import { localPoint, type Point, toWorld } from "./pose.js";
import { type Segment, segmentPose, segmentTurn, splitSegment } from "./segment.js";
import type { Millimetres } from "./units.js";

export type CubicCurve = readonly [Point, Point, Point, Point];

export interface BezierChain {
  readonly curves: readonly CubicCurve[];
  /** Greatest distance of a curve from the path. */
  readonly error: Millimetres;
}

/** One curve never turns further than this: beyond it the handles grow without bound. */
const MOST_TURN = Math.PI / 2;

/** Places at which the distance of a curve from an easement is measured, and how far the greatest may exceed the greatest measured: the distance has a few lobes between the ends, so the peak of one is missed by less than a tenth. */
const MEASURED = 24;
const UNMEASURED = 1.1;

/** An arc of less turn than this is straight: it leaves its chord by less than 1e-9 of its length. */
const NO_TURN = 1e-8;

/** A tolerance smaller than this is lost in the coordinates of a sheet. */
const LEAST_TOLERANCE: Millimetres = 1e-6;

/** An end of the other hand shorter than this is not drawn as a curve of its own. */
const LEAST_PIECE: Millimetres = 1e-6;

/** A curve is not split beyond this depth; reached only below the least tolerance. */
const MOST_SPLITS = 16;

/** Cubic Bezier curves within `tolerance` of the path (at least 1e-6 mm). None for a path without length. */
export function pathToBeziers(path: Path, tolerance: Millimetres): BezierChain {
  const wanted = Math.max(tolerance, LEAST_TOLERANCE);
  const curves: CubicCurve[] = [];
  let error = 0;
  path.segments.forEach((g, i) => {
    const from = path.poses[i];
    if (!from) return;
    let frame = from;
    for (const { piece, curve, off } of g.k0 === g.k1 ? arcPieces(g, wanted) : easementPieces(g, wanted, 0)) {
      const [a, b, c, d] = curve.map((p) => toWorld(frame, { ...p, heading: 0 }));
      if (a && b && c && d) {
        const start = curves.at(-1)?.[3] ?? a;
        curves.push([
          { x: start.x, y: start.y },
          { x: b.x, y: b.y },
          { x: c.x, y: c.y },
          { x: d.x, y: d.y },
        ]);
      }
      frame = toWorld(frame, segmentPose(piece, piece.length));
      error = Math.max(error, off);
    }
  });
  return { curves, error };
}

interface Piece {
  readonly piece: Segment;
  readonly curve: CubicCurve;
  readonly off: Millimetres;
}

/** Equal pieces of a circle with handles 4/3 tan(angle/4), the handle whose curve meets the circle in the middle. */
function arcPieces(g: Segment, tolerance: Millimetres): Piece[] {
  const turn = Math.abs(segmentTurn(g));
  for (let n = Math.max(1, Math.ceil(turn / MOST_TURN - 1e-12)); ; n++) {
    const piece = { length: g.length / n, k0: g.k0, k1: g.k0 };
    const angle = turn / n;
    const handle = piece.length * (angle > NO_TURN ? ((4 / 3) * Math.tan(angle / 4)) / angle : 1 / 3);
    const curve = hermite(piece, handle, handle);
    const off = angle > NO_TURN ? Math.abs(radialError(angle) / g.k0) : 0;
    if (off <= tolerance) return Array.from({ length: n }, () => ({ piece, curve, off }));
  }
}

/**
 * Greatest distance of that curve from the unit circle, at the two parameters where the radius is greatest. With handles h
 * and half angle a, the curve seen from the chord's middle normal; found by sampling one half finely, margin as above.
 */
function radialError(angle: number): number {
  const h = (4 / 3) * Math.tan(angle / 4);
  const curve = new Bezier([
    { x: 0, y: 0 },
    { x: h, y: 0 },
    { x: Math.sin(angle) - h * Math.cos(angle), y: 1 - Math.cos(angle) - h * Math.sin(angle) },
    { x: Math.sin(angle), y: 1 - Math.cos(angle) },
  ]);
  let most = 0;
  for (let i = 1; i < MEASURED; i++) {
    const p = curve.get(i / (2 * MEASURED));
    most = Math.max(most, Math.abs(Math.hypot(p.x, p.y - 1) - 1));
  }
  return most * UNMEASURED;
}

/** Pieces of an easement, halved (and parted where its curvature changes sign) until each is near enough. */
function easementPieces(g: Segment, tolerance: Millimetres, depth: number): Piece[] {
  const halves = (s: number): Piece[] => {
    const [a, b] = splitSegment(g, s);
    return [...easementPieces(a, tolerance, depth + 1), ...easementPieces(b, tolerance, depth + 1)];
  };
  const s = (g.length * g.k0) / (g.k0 - g.k1);
  if (s > LEAST_PIECE && s < g.length - LEAST_PIECE) {
    const [a, b] = splitSegment(g, s);
    const zeroed = [
      { ...a, k1: 0 },
      { ...b, k0: 0 },
    ];
    return zeroed.flatMap((part) => easementPieces(part, tolerance, depth + 1));
  }
  if (depth < MOST_SPLITS && Math.abs(segmentTurn(g)) > MOST_TURN) return halves(g.length / 2);
  const curve = fitted(g);
  const off = measuredError(g, curve);
  return off <= tolerance || depth >= MOST_SPLITS ? [{ piece: g, curve, off }] : halves(g.length / 2);
}

function hermite(g: Segment, first: Millimetres, last: Millimetres): CubicCurve {
  const end = segmentPose(g, g.length);
  return [
    { x: 0, y: 0 },
    { x: first, y: 0 },
    { x: end.x - last * Math.cos(end.heading), y: end.y - last * Math.sin(end.heading) },
    { x: end.x, y: end.y },
  ];
}

/** Handles that lead the curve through the middle of the segment; thirds of the length where the ends are nearly parallel. */
function fitted(g: Segment): CubicCurve {
  const end = segmentPose(g, g.length);
  const middle = segmentPose(g, g.length / 2);
  const dx = (8 / 3) * (middle.x - end.x / 2);
  const dy = (8 / 3) * (middle.y - end.y / 2);
  const c = Math.cos(end.heading);
  const s = Math.sin(end.heading);
  // first * (1, 0) - last * (c, s) = (dx, dy)
  const last = -dy / s;
  const first = dx + last * c;
  const fair = (h: number) => h > g.length / 6 && h < g.length * 0.6;
  return fair(first) && fair(last) ? hermite(g, first, last) : hermite(g, g.length / 3, g.length / 3);
}

/**
 * Greatest distance of a curve from the segment it nearly follows (in the segment's own frame), from the foot of the
 * perpendicular at `parts - 1` even parameters; between them it may exceed the greatest found by a tenth, which is added.
 */
export function measuredError(g: Segment, curve: CubicCurve, parts: number = MEASURED): Millimetres {
  const bezier = new Bezier(curve.map((p) => ({ x: p.x, y: p.y })));
  let most = 0;
  for (let i = 1; i < parts; i++) {
    const p = bezier.get(i / parts);
    let s = (g.length * i) / parts;
    let q = localPoint(segmentPose(g, s), p);
    // Along the segment the point is ahead by q.x; two steps bring it beside.
    for (let step = 0; step < 2; step++) {
      s += q.x;
      q = localPoint(segmentPose(g, s), p);
    }
    most = Math.max(most, Math.hypot(q.x, q.y));
  }
  return most * UNMEASURED;
}
