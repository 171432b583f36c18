/**
 * A line as points: close enough that the chords between them stay within SAGITTA of the curve, and never farther apart
 * than LONGEST_STEP. Everything that compares many places of many lines works on these.
 *
 * Always holds: the first sample is the start, the last the end, and every border of two segments is one; distances
 * strictly increase; each sample agrees with `poseAt` and `curvatureAt` of the path.
 */
import type { Path } from "../geometry/path.js";
import { type Segment, segmentPose } from "../geometry/segment.js";
import type { Millimetres, Radians } from "../geometry/units.js";
import type { Samples } from "./line.js";

/** Finer than any reading is shown, and than track can be laid. */
export const SAGITTA: Millimetres = 0.05;
/** Even on straight track: car lengths and grade breaks are asked about places no farther apart. */
export const LONGEST_STEP: Millimetres = 25;
/** Half a kilometre of line at the longest step; a line with more is sampled more coarsely, so that no file can exhaust the program. */
export const MOST_SAMPLES = 20_000;

/** Up to this turn in one step, three-point Gauss quadrature is within 1e-11 of the step; see the tests. */
const SMALL_TURN: Radians = 0.1;
/** The chord of an arc that turns less is as long as the arc, to the last digit. */
const NO_TURN: Radians = 1e-8;
/** Nodes and weights of three-point Gauss-Legendre quadrature on [-1, 1]: Abramowitz & Stegun, table 25.4 (n = 3). */
const NODE = Math.sqrt(0.6);
const OUTER = 5 / 9;
const MIDDLE = 8 / 9;

function stepsFor(g: Segment, coarser: number): number {
  const k = Math.max(Math.abs(g.k0), Math.abs(g.k1));
  const step = Math.min(LONGEST_STEP, k > 0 ? Math.sqrt((8 * SAGITTA) / k) : LONGEST_STEP);
  return Math.max(1, Math.ceil(g.length / (step * coarser)));
}

/** Samples of a path; a path of no length has one, its start. */
export function sampleLine(path: Path): Samples {
  let steps = path.segments.map((g) => stepsFor(g, 1));
  const wanted = steps.reduce((sum, n) => sum + n, 0);
  if (wanted > MOST_SAMPLES) steps = path.segments.map((g) => stepsFor(g, wanted / MOST_SAMPLES));
  const count = 1 + steps.reduce((sum, n) => sum + n, 0);
  const samples: Samples = {
    count,
    s: new Float64Array(count),
    x: new Float64Array(count),
    y: new Float64Array(count),
    heading: new Float64Array(count),
    curvature: new Float64Array(count),
  };
  const { start, segments } = path;
  samples.x[0] = start.x;
  samples.y[0] = start.y;
  samples.heading[0] = start.heading;
  samples.curvature[0] = segments[0]?.k0 ?? 0;
  let at = 0;
  segments.forEach((g, i) => {
    const n = steps[i] ?? 1;
    const from = path.poses[i] ?? start;
    const station = path.stations[i] ?? 0;
    if (g.k0 === 0 && g.k1 === 0) fillStraight(samples, at, n, g, from);
    else if (g.k0 === g.k1) fillArc(samples, at, n, g, from);
    else fillEasement(samples, at, n, g, from);
    for (let j = 1; j <= n; j++) samples.s[at + j] = station + (g.length * j) / n;
    at += n;
    const next = segments[i + 1];
    // Borders are taken from the path, and belong to the later segment as `curvatureAt` has it.
    const border = path.poses[i + 1] ?? path.end;
    samples.s[at] = path.stations[i + 1] ?? path.length;
    samples.x[at] = border.x;
    samples.y[at] = border.y;
    samples.heading[at] = border.heading;
    samples.curvature[at] = next?.k0 ?? g.k1;
  });
  return samples;
}

interface From {
  readonly x: Millimetres;
  readonly y: Millimetres;
  readonly heading: Radians;
}

function fillStraight(samples: Samples, at: number, n: number, g: Segment, from: From): void {
  const dx = (Math.cos(from.heading) * g.length) / n;
  const dy = (Math.sin(from.heading) * g.length) / n;
  for (let j = 1; j < n; j++) {
    samples.x[at + j] = from.x + j * dx;
    samples.y[at + j] = from.y + j * dy;
    samples.heading[at + j] = from.heading;
  }
}

function fillArc(samples: Samples, at: number, n: number, g: Segment, from: From): void {
  const step = g.length / n;
  const turn = g.k0 * step;
  const chord = Math.abs(turn) < NO_TURN ? step : (step * Math.sin(turn / 2)) / (turn / 2);
  let { x, y } = from;
  for (let j = 1; j < n; j++) {
    const middle = from.heading + (j - 0.5) * turn;
    x += chord * Math.cos(middle);
    y += chord * Math.sin(middle);
    samples.x[at + j] = x;
    samples.y[at + j] = y;
    samples.heading[at + j] = from.heading + j * turn;
    samples.curvature[at + j] = g.k0;
  }
}

function fillEasement(samples: Samples, at: number, n: number, g: Segment, from: From): void {
  const step = g.length / n;
  const slope = (g.k1 - g.k0) / g.length;
  const sharpest = Math.max(Math.abs(g.k0), Math.abs(g.k1));
  const turnAt = (s: Millimetres): Radians => s * (g.k0 + (slope * s) / 2);
  const c = Math.cos(from.heading);
  const d = Math.sin(from.heading);
  const exact = sharpest * step > SMALL_TURN;
  let { x, y } = from;
  for (let j = 1; j < n; j++) {
    const s = j * step;
    if (exact) {
      const local = segmentPose(g, s);
      x = from.x + local.x * c - local.y * d;
      y = from.y + local.x * d + local.y * c;
    } else {
      const half = step / 2;
      const [a, m, b] = [turnAt(s - half - half * NODE), turnAt(s - half), turnAt(s - half + half * NODE)];
      const [p, q, r] = [from.heading + a, from.heading + m, from.heading + b];
      x += half * (OUTER * (Math.cos(p) + Math.cos(r)) + MIDDLE * Math.cos(q));
      y += half * (OUTER * (Math.sin(p) + Math.sin(r)) + MIDDLE * Math.sin(q));
    }
    samples.x[at + j] = x;
    samples.y[at + j] = y;
    samples.heading[at + j] = from.heading + turnAt(s);
    samples.curvature[at + j] = g.k0 + slope * s;
  }
}
