/**
 * The shape of a turnout on straight track, and laid on its host: the host's curvature plus the turnout's own, as
 * prototype track engineers superpose curvatures. On straight track the two routes meet at the frog angle exactly.
 */
import { makePath, type Path, reversePath, slicePath } from "../geometry/path.js";
import { reversePose } from "../geometry/pose.js";
import { type Segment, splitSegment } from "../geometry/segment.js";
import type { Millimetres, Radians } from "../geometry/units.js";
import { toRadians } from "../geometry/units.js";
import type { Template } from "../plan/schema.js";
import { frogNumber, turnoutDimensions } from "../standards/turnouts.js";

export interface TurnoutShape {
  readonly number: number;
  readonly angle: Radians;
  readonly radius: Millimetres;
  /** Offsets from the points, positive toward the frog: joint end, where the lead curve departs, joint end of the through route. */
  readonly joint: Millimetres;
  readonly departs: Millimetres;
  readonly heel: Millimetres;
  /** Straight of the diverging route behind the lead curve. */
  readonly tail: Millimetres;
}

/**
 * A turnout of a frog number. The straight routes meet N x gauge before the frog point; the lead curve is tangent to
 * both, T = R tan(F/2) to each side of that intersection. `lead` is from the points to the theoretical frog point.
 */
export function tableTurnout(gauge: Millimetres, number: number): TurnoutShape {
  const d = turnoutDimensions(gauge, number);
  const tangent = d.leadRadius * Math.tan(d.angle / 2);
  const intersection = d.lead - d.intersectionToFrog;
  const departs = intersection - tangent;
  return {
    number,
    angle: d.angle,
    radius: d.leadRadius,
    departs,
    joint: Math.min(-d.pointsJoint, departs),
    heel: d.lead + d.heelJoint,
    tail: Math.max(0, d.intersectionToFrog + d.heelJoint - tangent),
  };
}

/**
 * A turnout measured from the part. Its curve departs at the points, or as much earlier as its length demands.
 * Undefined where the curve is longer than the whole diverging route, so that no such part can exist.
 */
export function measuredTurnout(template: Template): TurnoutShape | undefined {
  const angle = toRadians(template.angle);
  const whole = template.diverging ?? template.length;
  const curve = template.radius * angle;
  if (curve > whole) return undefined;
  const departs = Math.min(template.points, whole - curve);
  return {
    number: frogNumber(angle),
    angle,
    radius: template.radius,
    departs: departs - template.points,
    joint: -template.points,
    heel: template.length - template.points,
    tail: whole - departs - curve,
  };
}

/**
 * The diverging route laid on its host, from where it departs to its joint end. `departs` and `heel` are distances along
 * the host, `direction` +1 where the points are faced going the host's way. Beyond the heel, and beyond the end of the
 * host, the route goes on with the curvature the host has there.
 */
export function divergingRoute(
  host: Path,
  departs: Millimetres,
  heel: Millimetres,
  direction: 1 | -1,
  shape: TurnoutShape,
  hand: "left" | "right",
): Path {
  const k = (hand === "left" ? 1 : -1) / shape.radius;
  const under = direction === 1 ? slicePath(host, departs, heel) : reversePath(slicePath(host, heel, departs));
  return superpose(under, [
    { length: shape.radius * shape.angle, k0: k, k1: k },
    { length: shape.tail, k0: 0, k1: 0 },
  ]);
}

/**
 * One route of a wye, which lies beyond its host's end: half the frog angle to its side, on twice the lead radius, and
 * with the curvature the host ends with.
 */
export function wyeRoute(host: Path, direction: 1 | -1, shape: TurnoutShape, hand: "left" | "right"): Path {
  const k = (hand === "left" ? 1 : -1) / (2 * shape.radius);
  const bend = direction === 1 ? (host.segments.at(-1)?.k1 ?? 0) : -(host.segments[0]?.k0 ?? 0);
  const end = direction === 1 ? host.end : reversePose(host.start);
  const own: Segment[] = [
    { length: shape.departs - shape.joint, k0: 0, k1: 0 },
    { length: shape.radius * shape.angle, k0: k, k1: k },
    { length: shape.tail, k0: 0, k1: 0 },
  ];
  return makePath(
    end,
    own.map(({ length, k0, k1 }) => ({ length, k0: k0 + bend, k1: k1 + bend })),
  );
}

/** `own` laid on a path from its start: at every distance the curvatures add up. */
function superpose(under: Path, own: readonly Segment[]): Path {
  const length = own.reduce((sum, g) => sum + g.length, 0);
  const bend = under.segments.at(-1)?.k1 ?? 0;
  const base = [...under.segments, { length, k0: bend, k1: bend }];
  const result: Segment[] = [];
  let i = 0;
  let rest = base[0];
  for (const g of own) {
    let left: Segment = g;
    while (left.length > 0 && rest) {
      const step = Math.min(left.length, rest.length);
      const [mine, myRest] = splitSegment(left, step);
      const [theirs, theirRest] = splitSegment(rest, step);
      result.push({ length: step, k0: mine.k0 + theirs.k0, k1: mine.k1 + theirs.k1 });
      left = myRest;
      rest = theirRest.length > 0 ? theirRest : base[++i];
    }
  }
  return makePath(under.start, result);
}
