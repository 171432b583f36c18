/**
 * The figures trackwork is laid out by: a turnout as two straights that meet at its frog angle, and the curve that turns a
 * track by that angle, as a longer straight on either side of the corner.
 */
import { limitsOf } from "../../plan/class-limits.js";
import { makePath } from "../../geometry/path.js";
import { easedTurn } from "../../geometry/turn.js";
import { type Degrees, type Millimetres, type Radians, toDegrees } from "../../geometry/units.js";
import type { Leg, Plan, Side, TrackClass } from "../../plan/schema.js";
import { tableTurnout } from "../turnout-shape.js";

export interface TurnoutSize {
  readonly number: number;
  readonly angle: Radians;
  /** From the joint end before the points to the points. */
  readonly joint: Millimetres;
  /** From the points to where the straight routes meet. */
  readonly corner: Millimetres;
  /** From there to the joint end of either route. */
  readonly behind: Millimetres;
  /** From joint end to joint end of the through route. */
  readonly length: Millimetres;
  /** Tangent of the lead curve, to either side of the corner. */
  readonly tangent: Millimetres;
}

export function turnoutSize({ scale }: Pick<Plan, "scale">, number: number): TurnoutSize {
  const shape = tableTurnout(scale.gauge, number);
  const tangent = shape.radius * Math.tan(shape.angle / 2);
  const corner = shape.departs + tangent;
  return {
    number,
    angle: shape.angle,
    joint: -shape.joint,
    corner,
    behind: shape.heel - corner,
    length: shape.heel - shape.joint,
    tangent,
  };
}

/** A turn between two straights: how far from their corner it begins and ends, and how long it is. */
export interface Bend {
  readonly leg: Leg;
  readonly tangent: Millimetres;
  readonly length: Millimetres;
}

/** A radius that is clear of the class's least by the plan's margin and no tighter, to a tenth of a millimetre. */
export function clearRadius(plan: Plan, trackClass: TrackClass): Millimetres {
  const least = limitsOf(plan, trackClass).radius.value;
  return Math.ceil(10 * least * (1 + plan.standards.tight.value / 100) + 1) / 10;
}

/** The turn at a radius clear of the class's least, eased as the class asks. Both easements are alike, so both tangents are. */
export function bendOf(plan: Plan, trackClass: TrackClass, angle: Radians, hand: Side): Bend {
  const limits = limitsOf(plan, trackClass);
  const radius = clearRadius(plan, trackClass);
  const ease = limits.easement.value;
  const { end, length } = makePath(
    { x: 0, y: 0, heading: 0 },
    easedTurn({ radius, angle, hand: "left", easeIn: ease, easeOut: ease }),
  );
  const degrees: Degrees = toDegrees(angle);
  return { leg: { curve: { radius, angle: degrees, hand } }, tangent: end.y / Math.sin(angle), length };
}

/** Lengths in words of refusals. */
export const mm = (length: Millimetres): string => `${length.toFixed(1)} mm`;
