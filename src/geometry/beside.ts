/**
 * A track that runs beside another: its straights offset exactly, each curve between straights fitted anew with its own
 * radius and easements, and wherever that cannot be done the best parallel.
 *
 * Always holds: the path starts and ends on `besidePose` of its two distances (1e-6 mm, 1e-9 rad); it is tangent throughout;
 * spacing is exact on straights, at least |left| (1e-3 mm) on a curve fitted anew, within 0.02 mm of |left| on a parallel;
 * beside a closed loop it closes; from and to exchanged give the same line run the other way.
 */
import { asHostCurve, type HostCurve, type Refit, refitCurve } from "./beside-curve.js";
import { parallelSegments, poseBeside } from "./beside-parallel.js";
import { foldsOf } from "./offset.js";
import { makePath, NO_LENGTH, type Path, poseAt, reversePath, slicePath } from "./path.js";
import { type Pose, reversePose } from "./pose.js";
import type { Segment } from "./segment.js";
import type { Millimetres } from "./units.js";

export interface BesideOptions {
  /** Distances along the host; `from` greater than `to` runs against it. */
  readonly from: Millimetres;
  readonly to: Millimetres;
  /** Spacing on straights, to the left of the host as it runs; negative to its right. */
  readonly left: Millimetres;
  /** Wider spacing wanted in the middle of curves, same sign; no less than `left` is ever used. */
  readonly curveLeft?: Millimetres;
  /** Easement of curves fitted anew; left out, what keeps spacing best beside the host's own. */
  readonly easement?: Millimetres;
}

export interface BesideFailure {
  /** `off-path`: a distance outside the host; `no-length`: both the same; `radius-vanishes`: the inside of a curve sharper than the spacing; `unsolved`: no parallel found. */
  readonly failed: "not-finite" | "off-path" | "no-length" | "radius-vanishes" | "unsolved";
  /** Distance along the host where it fails. */
  readonly at: Millimetres;
}

/** Distances this far outside the host are taken to its ends: rounding of a length typed or shown. */
const AT_END: Millimetres = 1e-3;

/** The sharpest radius a parallel may have inside a curve; below it there is no track, only a point. */
const LEAST_RADIUS: Millimetres = 1;

/** Two neighbouring segments whose curvatures run on within this of each other (1/mm, and 1/mm^2 in slope) are one. */
const RUNS_ON = 1e-12;

/** The pose beside a path at a distance along it, `left` to its left as the path runs; `against` looks back along it. */
export function besidePose(path: Path, at: Millimetres, left: Millimetres, against = false): Pose {
  const pose = poseBeside(poseAt(path, at), left);
  return against ? reversePose(pose) : pose;
}

/** The path beside `path`; see the head of this file. Failure is a value with `failed`. */
export function pathBeside(path: Path, options: BesideOptions): Path | BesideFailure {
  const { from, to, left, curveLeft = 0, easement } = options;
  const low = Math.min(from, to);
  const high = Math.max(from, to);
  if (![from, to, left, curveLeft, easement ?? 0].every(Number.isFinite)) return { failed: "not-finite", at: 0 };
  if (low < -AT_END) return { failed: "off-path", at: low };
  if (high > path.length + AT_END) return { failed: "off-path", at: high };
  const host = slicePath(path, low, high);
  if (host.length <= NO_LENGTH) return { failed: "no-length", at: low };
  const fold = foldsOf(host, left + Math.sign(left) * LEAST_RADIUS)[0];
  if (fold) return { failed: "radius-vanishes", at: low + fold.from };
  const runs = runsOf(makePath(host.start, merged(host.segments)));
  fitRuns(
    runs,
    left,
    Math.max(Math.abs(left), Math.abs(curveLeft)),
    easement === undefined ? undefined : Math.max(0, easement),
  );
  const segments: Segment[] = [];
  for (const [i, run] of runs.entries()) {
    if (run.straight) {
      segments.push({ length: run.host.length + takenBy(runs, i), k0: 0, k1: 0 });
      continue;
    }
    const built = run.refit?.segments ?? parallelSegments(run.host, left);
    if (!built) return { failed: "unsolved", at: low + run.at };
    segments.push(...built);
  }
  const beside = makePath(poseBeside(host.start, left), segments);
  return from <= to ? beside : reversePath(beside);
}

/** A straight of the host, or all that lies between two straights. */
interface Run {
  readonly straight: boolean;
  readonly host: Path;
  readonly at: Millimetres;
  refit?: Refit | undefined;
}

/** Segments with those joined whose curvature runs on in the next, so that cuts in the host do not matter. */
function merged(segments: readonly Segment[]): Segment[] {
  const result: Segment[] = [];
  for (const g of segments) {
    const last = result.at(-1);
    const slope = (q: Segment) => (q.k1 - q.k0) / q.length;
    if (last && Math.abs(last.k1 - g.k0) <= RUNS_ON && Math.abs(slope(last) - slope(g)) <= RUNS_ON / 1000) {
      result[result.length - 1] = { length: last.length + g.length, k0: last.k0, k1: g.k1 };
    } else result.push(g);
  }
  return result;
}

function runsOf(path: Path): Run[] {
  const runs: Run[] = [];
  let first = 0;
  const isStraight = (i: number) => path.segments[i]?.k0 === 0 && path.segments[i]?.k1 === 0;
  for (let i = 1; i <= path.segments.length; i++) {
    if (i < path.segments.length && isStraight(i) === isStraight(first)) continue;
    const start = path.poses[first] ?? path.start;
    const host = makePath(start, path.segments.slice(first, i));
    runs.push({ straight: isStraight(first), host, at: path.stations[first] ?? 0 });
    first = i;
  }
  return runs;
}

/** Fits every curve between two straights anew, and gives up those for which the straights are too short, the greediest first. */
function fitRuns(runs: Run[], left: Millimetres, middle: Millimetres, easement: Millimetres | undefined): void {
  if (left === 0) return;
  for (const [i, run] of runs.entries()) {
    const before = runs[i - 1];
    const after = runs[i + 1];
    if (run.straight || !before || !after) continue;
    const { segments, start, end } = run.host;
    const curve: HostCurve | undefined = asHostCurve(segments, start, end, before.host.length, after.host.length);
    run.refit = curve && refitCurve(curve, left, middle, easement);
  }
  // Giving up a curve may shorten the straight on its other side, so look again from the first.
  for (let i = 0; i < runs.length; i++) {
    const run = runs[i];
    if (!run?.straight || run.host.length + takenBy(runs, i) >= 0) continue;
    const before = runs[i - 1];
    const after = runs[i + 1];
    const greedy = before?.refit && !((after?.refit?.before ?? 0) < before.refit.after) ? before : after;
    if (greedy) greedy.refit = undefined;
    i = -1;
  }
}

/** How much longer the straight at i becomes through the curves on both sides of it. */
const takenBy = (runs: readonly Run[], i: number): Millimetres =>
  (runs[i - 1]?.refit?.after ?? 0) + (runs[i + 1]?.refit?.before ?? 0);
