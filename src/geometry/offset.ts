/**
 * Lines at a constant distance beside a path: the exact offset of straight and circular segments, and the offset of any
 * path as points. Beside a curve sharper than the offset the line folds back on itself; such stretches are reported.
 * Always holds: every point lies `left` to the left of the path's pose at its station; offset 0 gives the path itself.
 */
import { type Path, poseAt } from "./path.js";
import { offsetPoint, type Point } from "./pose.js";
import { type Segment, segmentCurvature } from "./segment.js";
import type { Millimetres } from "./units.js";

/** A stretch of the path, by distance along it, where the offset reaches or passes the centre of curvature. */
export interface Fold {
  readonly from: Millimetres;
  readonly to: Millimetres;
}

export interface OffsetLine {
  readonly points: readonly Point[];
  /** Distance along the path of each point. */
  readonly stations: readonly Millimetres[];
  /** Where the line has cusps or runs backwards; empty for an offset that can be built. */
  readonly folds: readonly Fold[];
}

/** A chord never spans more turn than this, so that a generous sagitta does not make a polygon of a circle. */
const MOST_TURN_PER_CHORD = Math.PI / 8;

/**
 * The segment `left` to the left of a straight or circular segment, exactly. Undefined for an easement (its offset is no
 * segment) and where the offset reaches the centre.
 */
export function offsetSegment(g: Segment, left: Millimetres): Segment | undefined {
  const shrink = 1 - g.k0 * left;
  if (g.k0 !== g.k1 || !(shrink > 0)) return undefined;
  return { length: g.length * shrink, k0: g.k0 / shrink, k1: g.k0 / shrink };
}

/** Points of the line `left` to the left of the path (negative: right), chords within `sagitta` of it. A path without length gives one point. */
export function offsetPoints(path: Path, left: Millimetres, sagitta: Millimetres): OffsetLine {
  const stations: number[] = [0];
  path.segments.forEach((g, i) => {
    const begin = path.stations[i] ?? 0;
    const n = chords(g, left, sagitta);
    for (let j = 1; j <= n; j++) stations.push(begin + (g.length * j) / n);
  });
  const points = stations.map((s) => offsetPoint(poseAt(path, s), 0, left));
  return { points, stations, folds: foldsOf(path, left) };
}

/** A step ds of the path is a step (1 - k left) ds of its offset, of curvature k / (1 - k left): sagitta ds^2 k (1 - k left) / 8. */
function chords(g: Segment, left: Millimetres, sagitta: Millimetres): number {
  const bend = (k: number) => Math.abs(k * (1 - k * left));
  let most = Math.max(bend(g.k0), bend(g.k1));
  const peak = 1 / (2 * left);
  if (left !== 0 && (peak - g.k0) * (peak - g.k1) < 0) most = Math.max(most, bend(peak));
  const sharpest = Math.max(Math.abs(g.k0), Math.abs(g.k1));
  const step = Math.min(
    most > 0 ? Math.sqrt((8 * sagitta) / most) : Number.POSITIVE_INFINITY,
    sharpest > 0 ? MOST_TURN_PER_CHORD / sharpest : Number.POSITIVE_INFINITY,
  );
  return Math.max(1, Math.ceil(g.length / step));
}

/** Stretches of the path where the offset reaches the centre of curvature: 1 - k left <= 0. */
export function foldsOf(path: Path, left: Millimetres): Fold[] {
  const folds: { from: number; to: number }[] = [];
  path.segments.forEach((g, i) => {
    const begin = path.stations[i] ?? 0;
    const a = 1 - segmentCurvature(g, 0) * left;
    const b = 1 - segmentCurvature(g, g.length) * left;
    if (a > 0 && b > 0) return;
    const border = a === b ? 0 : (g.length * a) / (a - b);
    const from = begin + (a <= 0 ? 0 : border);
    const to = begin + (b <= 0 ? g.length : border);
    const last = folds.at(-1);
    if (last && from <= last.to) last.to = to;
    else folds.push({ from, to });
  });
  return folds;
}
