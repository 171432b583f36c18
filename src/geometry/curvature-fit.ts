/**
 * A path through known curvatures: segments whose curvature runs straight from one given value to the next, corrected as
 * little as need be so that the path ends exactly where it should. Used to follow curves that are no chain of segments.
 *
 * Always holds: curvature is continuous inside the path; the path ends within 1e-9 mm and 1e-12 rad of the pose asked for;
 * with `keepEnds` the first and last curvature keep their sign and change only with the length.
 */
import { leastCorrection } from "./numeric.js";
import { makePath, type Path } from "./path.js";
import { type Point, type Pose, toWorld } from "./pose.js";
import { type Segment, segmentPose } from "./segment.js";
import { type Curvature, type Millimetres, type Radians, wrapAngle } from "./units.js";

export interface CurvatureNode {
  /** Distance from the start, rising from 0. */
  readonly s: Millimetres;
  readonly k: Curvature;
}

/** A node of a curve whose heading is known as well: the turn since the start. */
export interface TurnedNode extends CurvatureNode {
  readonly turn: Radians;
}

/**
 * The nodes with their curvatures changed so that straight lines between them turn as much as the curve does, stretch by
 * stretch, by the smallest changes. With `keepEnds` the first and last stay and the turn is met to fourth order only: each
 * node between takes the mean of what lacks on either side.
 */
export function nodesThatTurn(nodes: readonly TurnedNode[], keepEnds = false): CurvatureNode[] {
  const lacking = nodes.slice(1).map((b, i) => {
    const a = nodes[i] ?? b;
    return (b.turn - a.turn) / (b.s - a.s) - (a.k + b.k) / 2;
  });
  const y = keepEnds ? lacking : smoothed(lacking);
  return nodes.map(({ s, k }, i) => {
    const [before, after] = [y[i - 1], y[i]];
    if (keepEnds && (before === undefined || after === undefined)) return { s, k };
    return { s, k: k + ((before ?? 0) + (after ?? 0)) / 2 };
  });
}

/**
 * The y whose sums of neighbours, halved, are the smallest numbers with the given means: (A A') y = means for A the mean of
 * neighbours, a system of three bands.
 */
function smoothed(means: readonly number[]): number[] {
  const pivot: number[] = [];
  const y: number[] = [];
  for (const [i, mean] of means.entries()) {
    const factor = i > 0 ? 0.25 / (pivot[i - 1] ?? 1) : 0;
    pivot.push(0.5 - factor * 0.25);
    y.push(mean - factor * (y[i - 1] ?? 0));
  }
  for (let i = means.length - 1; i >= 0; i--) y[i] = ((y[i] ?? 0) - 0.25 * (y[i + 1] ?? 0)) / (pivot[i] ?? 1);
  return y;
}

/** Accuracy of the end: far below what track needs, and well above rounding at the size of a room. */
const END_MM: Millimetres = 1e-9;
const END_RAD: Radians = 1e-12;

/** Newton's steps with a Jacobian good to a few percent gain more than a digit each; what has not settled by then will not. */
const MOST_STEPS = 24;

/**
 * Path from `start` along the nodes' curvatures to `end`. Unknowns are the length (the shape grown or shrunk) and the
 * curvature as a polynomial of the distance, the smallest that closes the gap. Undefined where it does not settle: nodes
 * that lead nowhere near the end, fewer than two nodes, or numbers that are not finite.
 */
export function fitCurvature(
  start: Pose,
  nodes: readonly CurvatureNode[],
  end: Pose,
  keepEnds = false,
): Path | undefined {
  const length = nodes.at(-1)?.s ?? 0;
  if (nodes.length < 2 || !(length > 0) || !Number.isFinite(length)) return undefined;
  const modes = nodes.map(({ s }) => correctionModes((2 * s) / length - 1, keepEnds).map((m) => m / length));
  const count = modes[0]?.length ?? 0;
  let scale = 1;
  let weights: readonly number[] = Array.from({ length: count }, () => 0);
  for (let step = 0; step < MOST_STEPS; step++) {
    const ks = nodes.map(({ k }, i) => (k + weights.reduce((sum, w, j) => sum + w * (modes[i]?.[j] ?? 0), 0)) / scale);
    const segments = ks.slice(1).map((k1, i): Segment => {
      const k0 = ks[i] ?? 0;
      return { length: ((nodes[i + 1]?.s ?? 0) - (nodes[i]?.s ?? 0)) * scale, k0, k1 };
    });
    const path = makePath(start, segments);
    const miss = [end.x - path.end.x, end.y - path.end.y, wrapAngle(end.heading - path.end.heading)];
    if (!miss.every(Number.isFinite)) return undefined;
    if (Math.hypot(miss[0] ?? 0, miss[1] ?? 0) <= END_MM && Math.abs(miss[2] ?? 0) <= END_RAD) return path;
    const change = leastCorrection(jacobian(start, segments, path.end, modes, scale, length), [
      miss[0] ?? 0,
      miss[1] ?? 0,
      (miss[2] ?? 0) * length,
    ]);
    if (!change) return undefined;
    scale += change[0] ?? 0;
    weights = weights.map((w, j) => w + (change[j + 1] ?? 0));
    if (!(scale > 0.5 && scale < 2)) return undefined;
  }
  return undefined;
}

/** Corrections of the curvature as functions of v in [-1, 1] along the path; with the ends kept, they vanish there. */
function correctionModes(v: number, keepEnds: boolean): number[] {
  const bump = keepEnds ? 1 - v * v : 1;
  return keepEnds ? [bump, bump * v, bump * v * v] : [1, v, v * v, v * v * v];
}

/**
 * How the end moves (x, y, heading times length) with the scale and with each mode: bending at a place turns all that
 * follows about it. Simpson's rule over each segment.
 */
function jacobian(
  start: Pose,
  segments: readonly Segment[],
  end: Point,
  modes: readonly (readonly number[])[],
  scale: number,
  length: Millimetres,
): number[][] {
  const count = modes[0]?.length ?? 0;
  const rows = [0, 1, 2].map(() => Array.from({ length: count + 1 }, () => 0));
  const add = (row: number, j: number, v: number) => {
    const r = rows[row];
    if (r) r[j] = (r[j] ?? 0) + v;
  };
  add(0, 0, (end.x - start.x) / scale);
  add(1, 0, (end.y - start.y) / scale);
  let from = start;
  segments.forEach((g, i) => {
    const middle = toWorld(from, segmentPose(g, g.length / 2));
    const to = toWorld(from, segmentPose(g, g.length));
    for (let j = 0; j < count; j++) {
      const a = modes[i]?.[j] ?? 0;
      const b = modes[i + 1]?.[j] ?? 0;
      for (const [pose, w] of [[from, a] as const, [middle, 2 * (a + b)] as const, [to, b] as const]) {
        const weight = (w * g.length) / 6 / scale;
        add(0, j + 1, -weight * (end.y - pose.y));
        add(1, j + 1, weight * (end.x - pose.x));
        add(2, j + 1, weight * length);
      }
    }
    from = to;
  });
  return rows;
}
