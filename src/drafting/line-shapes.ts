/**
 * The drawn shapes of lines: centre line, pair of rails, ties, as chains of points fine enough for a scale. Taken from
 * the samples a line already has; only what is drawn larger than those are fine for is computed again.
 *
 * Always holds: chains stay within the sagitta of the curve (and SAGITTA of the samples), and begin and end where asked.
 */
import type { Box } from "../geometry/bounds.js";
import { poseAt, stationsBySagitta } from "../geometry/path.js";
import type { Pose } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { Line } from "../layout/line.js";
import { SAGITTA } from "../layout/samples.js";

/** A drawn shape in sheet millimetres. Painters keep what they make of it beside it, so it must never change. */
export interface Outline {
  /** x, y pairs, one chain after another. */
  readonly chains: readonly Float64Array[];
  readonly closed: boolean;
  readonly box: Box;
}

/** A part of a line seen at a fineness. */
export interface Stretch {
  readonly from: Millimetres;
  readonly to: Millimetres;
  readonly sagitta: Millimetres;
}

/** Poses along a stretch whose chords stay within the sagitta, both ends among them. */
export function posesAlong(line: Line, { from, to, sagitta }: Stretch): Pose[] {
  const { path, samples } = line;
  if (sagitta < SAGITTA) {
    const between = stationsBySagitta(path, sagitta).filter((s) => s > from && s < to);
    return [from, ...between, to].map((s) => poseAt(path, s));
  }
  const { count, s, x, y, heading, curvature } = samples;
  const poses: Pose[] = [poseAt(path, from)];
  const first = s.findIndex((station) => station > from);
  let last = from;
  let sharpest = first > 0 ? Math.abs(curvature[first - 1] ?? 0) : 0;
  for (let i = Math.max(first, 0); i < count && (s[i] ?? 0) < to; i++) {
    sharpest = Math.max(sharpest, Math.abs(curvature[i] ?? 0));
    const span = (s[i + 1] ?? to) - last;
    if (span * span * Math.max(sharpest, Math.abs(curvature[i + 1] ?? 0)) <= 8 * sagitta) continue;
    poses.push({ x: x[i] ?? 0, y: y[i] ?? 0, heading: heading[i] ?? 0 });
    last = s[i] ?? 0;
    sharpest = Math.abs(curvature[i] ?? 0);
  }
  poses.push(poseAt(path, to));
  return poses;
}

export const centreLine = (line: Line, stretch: Stretch): Outline =>
  outlineOf([chainBeside(posesAlong(line, stretch), 0)], false);

export function railPair(line: Line, stretch: Stretch, gauge: Millimetres): Outline {
  const poses = posesAlong(line, stretch);
  return outlineOf([chainBeside(poses, gauge / 2), chainBeside(poses, -gauge / 2)], false);
}

function chainBeside(poses: readonly Pose[], left: Millimetres): Float64Array {
  const chain = new Float64Array(2 * poses.length);
  poses.forEach((pose, i) => {
    chain[2 * i] = pose.x - left * Math.sin(pose.heading);
    chain[2 * i + 1] = pose.y + left * Math.cos(pose.heading);
  });
  return chain;
}

/** A tie of standard gauge is about 8 ft 6 in long, and they lie 21 in apart (common practice, no source), mm. */
export const TIE_LENGTH: Millimetres = 2590;
export const TIE_SPACING: Millimetres = 533;

/** Ties of a stretch, each a chain of two points, `step` apart from one another along the line. */
export function tiesOf(line: Line, stretch: Stretch, length: Millimetres, step: Millimetres): Outline {
  const chains: Float64Array[] = [];
  const half = length / 2;
  for (let n = Math.ceil(stretch.from / step - 0.5); (n + 0.5) * step < stretch.to; n++) {
    const { x, y, heading } = poseAt(line.path, (n + 0.5) * step);
    const [dx, dy] = [-half * Math.sin(heading), half * Math.cos(heading)];
    chains.push(Float64Array.of(x + dx, y + dy, x - dx, y - dy));
  }
  return outlineOf(chains, false);
}

export function outlineOf(chains: readonly Float64Array[], closed: boolean): Outline {
  let [minX, minY, maxX, maxY] = [
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  for (const chain of chains) {
    for (let i = 0; i + 1 < chain.length; i += 2) {
      minX = Math.min(minX, chain[i] ?? 0);
      maxX = Math.max(maxX, chain[i] ?? 0);
      minY = Math.min(minY, chain[i + 1] ?? 0);
      maxY = Math.max(maxY, chain[i + 1] ?? 0);
    }
  }
  return { chains, closed, box: { minX, minY, maxX, maxY } };
}

/** Points as an outline. */
export function pointsOutline(
  chains: readonly (readonly { readonly x: number; readonly y: number }[])[],
  closed: boolean,
): Outline {
  return outlineOf(
    chains.map((points) => {
      const chain = new Float64Array(2 * points.length);
      points.forEach((p, i) => chain.set([p.x, p.y], 2 * i));
      return chain;
    }),
    closed,
  );
}
