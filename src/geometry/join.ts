/**
 * The shortest eased way from one pose to another: curvature zero at both ends, never above 1/radius, never changing
 * faster than 1/(radius x easement) per mm. Six families of shapes, after Fraichard & Scheuer, "From Reeds and Shepp's
 * to continuous-curvature paths", IEEE Transactions on Robotics 20(6), 2004; without easement these are Dubins' paths
 * (L. E. Dubins, American Journal of Mathematics 79, 1957).
 *
 * Always holds: the path ends at the goal (1e-9 mm, full turns of heading aside) and keeps the limits; it is no shorter
 * than the straight line; the way back, from reversed goal to reversed start, is as long; the mirrored goal gives a
 * path as long; without a family wanted there is always a path.
 */
import { tryTangent, tryThirdCircle } from "./join-circles.js";
import { hasStraight, type JoinTask, type PathFamily, ShortestShape } from "./join-shape.js";
import { trySharpTurns } from "./join-sharp.js";
import { makePath, type Path } from "./path.js";
import { type Pose, toLocal } from "./pose.js";
import { straight } from "./segment.js";
import { type Steering, steeringGear } from "./steering.js";
import { type Millimetres, type Radians, wrapAngle } from "./units.js";

export type { PathFamily } from "./join-shape.js";

export interface JoinOptions extends Steering {
  /** Least straight between curves of opposite hand; 0 when left out. */
  readonly straight?: Millimetres;
  /** Only this shape is searched. */
  readonly family?: PathFamily;
}

export interface JoinedPath extends Path {
  readonly family: PathFamily;
}

/** Of equally long paths the family named first is taken, so a left turn rather than a right one. */
const FAMILIES: readonly PathFamily[] = ["LSL", "RSR", "LSR", "RSL", "LRL", "RLR"];

/** A goal this little off the line ahead is on it: less than the rounding of a chain of poses some 10 m long. */
const DEAD_AHEAD: { readonly mm: Millimetres; readonly rad: Radians } = { mm: 2e-10, rad: 1e-11 };

/**
 * Undefined when no path of the family wanted leads there, or the poses or the steering are not finite and the radius
 * above zero. The shortest of its kind for easements up to the radius; with longer ones the path is as valid, but a
 * shorter one may be overlooked. A goal dead ahead is reached straight, the pose one stands on by a path of no length; both belong to
 * every family. The end's heading may differ from the goal's by full turns.
 */
export function joinPoses(from: Pose, to: Pose, options: JoinOptions): JoinedPath | undefined {
  const { radius, easement, family: wanted } = options;
  const seen = toLocal(from, to);
  const goal = { x: seen.x, y: seen.y, heading: wrapAngle(seen.heading) };
  const least = options.straight ?? 0;
  if (!(radius > 0 && easement >= 0 && Number.isFinite(radius + easement + least + goal.x + goal.y + goal.heading))) {
    return undefined;
  }
  if (Math.abs(goal.y) < DEAD_AHEAD.mm && Math.abs(goal.heading) < DEAD_AHEAD.rad && goal.x > -DEAD_AHEAD.mm) {
    return named(makePath(from, [straight(goal.x)]), wanted ?? "LSL");
  }
  const gear = steeringGear(options);
  const best = new ShortestShape();
  const task: JoinTask = { gear, goal, least: Math.max(0, least), best };
  const families = wanted ? [wanted] : FAMILIES;
  for (const family of families) if (hasStraight(family)) tryTangent(task, family);
  for (const family of families) if (!hasStraight(family)) tryThirdCircle(task, family);
  for (const family of families) if (hasStraight(family)) trySharpTurns(task, family);
  const family = best.kept;
  return family && named(makePath(from, best.build(gear)), family);
}

function named({ start, segments, length, end, stations, poses }: Path, family: PathFamily): JoinedPath {
  return { start, segments, length, end, stations, poses, family };
}
