/**
 * A path: where it starts and the segments that follow one another from there, tangent by construction.
 *
 * Always holds: `reversePath(reversePath(p))` is p; the lengths of `splitPath(p, s)` add up to `p.length`;
 * `joinPaths(splitPath(p, s))` leads where p leads; `poseAt(p, p.length)` is `p.end`.
 */
import { type Point, type Pose, reversePose, toWorld } from "./pose.js";
import { reverseSegment, type Segment, segmentCurvature, segmentPose, splitSegment } from "./segment.js";
import type { Curvature, Millimetres } from "./units.js";

export interface Path {
  readonly start: Pose;
  readonly segments: readonly Segment[];
  readonly length: Millimetres;
  readonly end: Pose;
  /** Distance along the path at which each segment begins, and last the whole length. */
  readonly stations: readonly Millimetres[];
  /** Pose at which each segment begins. */
  readonly poses: readonly Pose[];
}

/**
 * Segments shorter than this are dropped: they are rounding left over from a computation, not track. So short that the
 * turn lost with one leads the rest of a path astray by about a picometre in 10 m.
 */
export const NO_LENGTH: Millimetres = 1e-11;

/** A slice begins or ends at the border of a segment rather than this close to it. */
const SLIVER: Millimetres = 1e-9;

export function makePath(start: Pose, segments: readonly Segment[]): Path {
  const kept = segments.filter((g) => g.length > NO_LENGTH);
  const stations: number[] = [0];
  const poses: Pose[] = [];
  let pose = start;
  let s = 0;
  for (const g of kept) {
    poses.push(pose);
    pose = toWorld(pose, segmentPose(g, g.length));
    s += g.length;
    stations.push(s);
  }
  return { start, segments: kept, length: s, end: pose, stations, poses };
}

/** Index of the segment that holds distance s; the last one at the very end, -1 for a path of no segments. */
export function segmentIndexAt(path: Path, s: Millimetres): number {
  let low = 0;
  let high = path.segments.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((path.stations[middle] ?? 0) <= s) low = middle;
    else high = middle - 1;
  }
  return high < 0 ? -1 : low;
}

const clampTo = (path: Path, s: Millimetres): Millimetres => Math.min(Math.max(s, 0), path.length);

/** Pose at distance s; s outside the path is taken to the nearer end. Radians, millimetres. */
export function poseAt(path: Path, s: Millimetres): Pose {
  const at = clampTo(path, s);
  const i = segmentIndexAt(path, at);
  const g = path.segments[i];
  const from = path.poses[i];
  if (!g || !from) return path.start;
  return toWorld(from, segmentPose(g, at - (path.stations[i] ?? 0)));
}

/** Curvature at distance s; at the border of two segments, that of the later one. */
export function curvatureAt(path: Path, s: Millimetres): Curvature {
  const at = clampTo(path, s);
  const i = segmentIndexAt(path, at);
  const g = path.segments[i];
  return g ? segmentCurvature(g, at - (path.stations[i] ?? 0)) : 0;
}

/** The same line travelled the other way. */
export function reversePath(path: Path): Path {
  return makePath(reversePose(path.end), path.segments.map(reverseSegment).reverse());
}

/** The part from a to b (a <= b, both taken into the path). */
export function slicePath(path: Path, a: Millimetres, b: Millimetres): Path {
  const from = clampTo(path, a);
  const to = Math.max(from, clampTo(path, b));
  const kept: Segment[] = [];
  path.segments.forEach((g, i) => {
    const begin = path.stations[i] ?? 0;
    const u = Math.max(0, from - begin);
    const v = Math.min(g.length, to - begin);
    if (u === 0 && v === g.length) kept.push(g);
    else if (v - u > SLIVER) kept.push(splitSegment(splitSegment(g, v)[0], u)[1]);
  });
  return makePath(poseAt(path, from), kept);
}

export const splitPath = (path: Path, s: Millimetres): [Path, Path] => [
  slicePath(path, 0, s),
  slicePath(path, s, path.length),
];

/** One path from several that follow one another; the second and later are carried to where the one before ends. */
export function joinPaths(first: Path, ...rest: readonly Path[]): Path {
  return makePath(
    first.start,
    [first, ...rest].flatMap((p) => p.segments),
  );
}

/** Drawings are never finer than this; keeps a sagitta of nothing from asking for points without end. */
const FINEST_SAGITTA: Millimetres = 1e-4;

/** Distances along the path, ends and segment borders among them, such that chords between them stay within `sagitta` of the curve. */
export function stationsBySagitta(
  path: Path,
  sagitta: Millimetres,
  longest: Millimetres = Number.POSITIVE_INFINITY,
): Millimetres[] {
  const result: number[] = [0];
  path.segments.forEach((g, i) => {
    const k = Math.max(Math.abs(g.k0), Math.abs(g.k1));
    const step = Math.min(
      longest,
      k > 0 ? Math.sqrt((8 * Math.max(sagitta, FINEST_SAGITTA)) / k) : Number.POSITIVE_INFINITY,
    );
    const n = Math.max(1, Math.ceil(g.length / step));
    const begin = path.stations[i] ?? 0;
    for (let j = 1; j <= n; j++) result.push(begin + (g.length * j) / n);
  });
  return result;
}

/** The path as points whose chords stay within `sagitta` of it. */
export function samplePath(path: Path, sagitta: Millimetres, longest?: Millimetres): Point[] {
  return stationsBySagitta(path, sagitta, longest).map((s) => poseAt(path, s));
}
