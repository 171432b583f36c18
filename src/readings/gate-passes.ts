/**
 * Where tracks pass over a gate: the part of each line that lies over its outline, and how it crosses the joints there.
 * Kept for a gate and a line as long as both stay.
 */
import { type PreparedArea, prepareArea } from "../geometry/area-distance.js";
import { pathBounds } from "../geometry/bounds.js";
import { curvatureAt, poseAt } from "../geometry/path.js";
import { bearing } from "../geometry/pose.js";
import { type Degrees, type Millimetres, toDegrees } from "../geometry/units.js";
import type { Line } from "../layout/line.js";
import type { Gate } from "../plan/schema.js";
import { STRAIGHT } from "./curve-runs.js";
import { remember } from "./remember.js";

/** A line that ends this near to the gate's edge ends at the joint. */
const AT_EDGE: Millimetres = 1;
/** Crossings are found to this along the line. */
const EXACT: Millimetres = 1e-6;

/** Where a line crosses a gate's edge. */
export interface EdgeCrossing {
  readonly s: Millimetres;
  /** Which way along the line leads away from the gate. */
  readonly way: 1 | -1;
  /** From square to the edge. */
  readonly skew: Degrees;
  readonly curved: boolean;
}

/** A stretch of a line over the gate. */
export interface GatePass {
  readonly line: Line;
  readonly from: Millimetres;
  readonly to: Millimetres;
  readonly edges: readonly EdgeCrossing[];
}

const boundsOf = remember((line: Line) => pathBounds(line.path));

/** Passes of every line over a gate, as a function that remembers. */
export const passesOver = remember((gate: Gate): ((line: Line) => readonly GatePass[]) => {
  const area = prepareArea([gate.outline]);
  const [xs, ys] = [gate.outline.map(({ x }) => x), gate.outline.map(({ y }) => y)];
  const [minX, minY, maxX, maxY] = [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
  return remember((line: Line): readonly GatePass[] => {
    const box = boundsOf(line);
    if (box.maxX < minX || box.minX > maxX || box.maxY < minY || box.minY > maxY) return NONE;
    return passesOf(line, area);
  });
});

const NONE: readonly GatePass[] = [];

function passesOf(line: Line, area: PreparedArea): GatePass[] {
  const { count, s, x, y } = line.samples;
  const passes: GatePass[] = [];
  let from: Millimetres | undefined;
  let before = false;
  for (let i = 0; i < count; i++) {
    const inside = area.contains({ x: x[i] ?? 0, y: y[i] ?? 0 });
    if (inside && from === undefined) from = i === 0 ? 0 : crossing(line, area, s[i - 1] ?? 0, s[i] ?? 0, before);
    if (from !== undefined && (!inside || i === count - 1)) {
      const to = inside ? line.path.length : crossing(line, area, s[i - 1] ?? 0, s[i] ?? 0, before);
      if (to - from > AT_EDGE) passes.push(passOf(line, from, to, area));
      from = undefined;
    }
    before = inside;
  }
  return passes;
}

/** Between two places, one inside and one outside, where the line crosses the edge. */
function crossing(line: Line, area: PreparedArea, a: Millimetres, b: Millimetres, insideAtA: boolean): Millimetres {
  let [low, high] = [a, b];
  while (high - low > EXACT) {
    const middle = (low + high) / 2;
    if (area.contains(poseAt(line.path, middle)) === insideAtA) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function passOf(line: Line, from: Millimetres, to: Millimetres, area: PreparedArea): GatePass {
  const edges = (
    [
      [from, -1],
      [to, 1],
    ] as const
  ).flatMap(([s, way]): EdgeCrossing[] => {
    const pose = poseAt(line.path, s);
    // A line that begins or ends on the gate goes on there as another, or is at its end.
    const edge = area.nearestEdge(pose, AT_EDGE);
    const ring = area.area[0];
    const p = edge && ring?.[edge.edge];
    const q = edge && ring?.[(edge.edge + 1) % ring.length];
    if (!p || !q) return [];
    const off = Math.abs(Math.cos(pose.heading - bearing(p, q)));
    return [{ s, way, skew: toDegrees(Math.asin(Math.min(1, off))), curved: isCurved(line, s) }];
  });
  return { line, from, to, edges };
}

/** Whether the line is curved on either side of a place. */
const isCurved = ({ path }: Line, s: Millimetres): boolean =>
  [s - AT_EDGE, s + AT_EDGE].some((beside) => Math.abs(curvatureAt(path, beside)) > STRAIGHT);
