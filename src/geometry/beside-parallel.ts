/**
 * The best parallel of a path: every segment offset with its own curvature k / (1 - k left). Exact beside straights and
 * circles; the offset of an easement is no segment, and is followed by a few.
 * Always holds: the parallel starts and ends `left` to the left of the path's ends (1e-8 mm) with their headings and lies
 * within `PARALLEL_TOLERANCE` of the true offset between.
 */
import { fitCurvature, nodesThatTurn, type TurnedNode } from "./curvature-fit.js";
import { offsetSegment } from "./offset.js";
import { type Path, poseAt } from "./path.js";
import { localPoint, offsetPoint, type Pose, toWorld } from "./pose.js";
import { type Segment, segmentCurvature, segmentPose, segmentTurn } from "./segment.js";
import type { Millimetres } from "./units.js";

/** A tenth of what laid track keeps to; the number of segments grows with the fourth root only. */
export const PARALLEL_TOLERANCE: Millimetres = 0.02;

const FEWEST_PIECES = 4;
const MOST_PIECES = 64;

/** Segments of the line `left` to the left of the path. Undefined where the offset reaches the centre of curvature. */
export function parallelSegments(path: Path, left: Millimetres): Segment[] | undefined {
  const result: Segment[] = [];
  for (const [i, g] of path.segments.entries()) {
    const from = path.poses[i];
    if (!from) return undefined;
    if (g.k0 === g.k1) {
      const beside = offsetSegment(g, left);
      if (!beside) return undefined;
      result.push(beside);
    } else {
      const pieces = besideEasement(g, left);
      if (!pieces) return undefined;
      result.push(...pieces);
    }
  }
  return result;
}

/** Offset of one easement, in as few even pieces as keep within tolerance in the middle of each. */
function besideEasement(g: Segment, left: Millimetres): readonly Segment[] | undefined {
  const offsetPose = (s: number): Pose => {
    const pose = segmentPose(g, s);
    return { ...offsetPoint(pose, 0, left), heading: pose.heading };
  };
  // The offset is (1 - k left) as long as the easement, place by place.
  const along = (s: number) => s - left * segmentTurn(g, s);
  for (let n = FEWEST_PIECES; n <= MOST_PIECES; n *= 2) {
    const nodes: TurnedNode[] = [];
    for (let i = 0; i <= n; i++) {
      const s = (g.length * i) / n;
      const k = segmentCurvature(g, s);
      if (!(1 - k * left > 0)) return undefined;
      nodes.push({ s: along(s), k: k / (1 - k * left), turn: segmentTurn(g, s) });
    }
    const fit = fitCurvature(offsetPose(0), nodesThatTurn(nodes, true), offsetPose(g.length), true);
    if (!fit || fit.segments.length !== n) continue;
    const off = (at: number) => {
      const s = (g.length * at) / n;
      const pose = poseAt(fit, (along(s) * fit.length) / along(g.length));
      return Math.abs(localPoint(pose, offsetPose(s)).y);
    };
    if (nodes.every((_, i) => Math.max(off(i), off(Math.min(i + 0.5, n))) <= PARALLEL_TOLERANCE)) return fit.segments;
  }
  return undefined;
}

/** The pose `left` to the left of a path's pose, looking the same way. */
export const poseBeside = (pose: Pose, left: Millimetres): Pose => toWorld(pose, { x: 0, y: left, heading: 0 });
