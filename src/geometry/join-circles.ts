/**
 * Joining paths whose turns all begin and end on circles about their centres: tangents of two circles, and a third
 * circle between two. All in closed form.
 *
 * Always holds: every shape offered ends at the goal and keeps the limits; among them is one for any goal.
 */
import { firstSide, type Goal, type JoinTask, lastSide, type PathFamily, STRAIGHT_ROUNDING } from "./join-shape.js";
import { circleTurnLength, type Side, type SteeringGear } from "./steering.js";
import { type Millimetres, positiveAngle, type Radians } from "./units.js";

/** From the centre of the first turn, made to side `a`, to that of the last, made to side `b`; x part. */
const betweenX = (gear: SteeringGear, goal: Goal, b: Side): Millimetres =>
  goal.x - gear.advance * (1 + Math.cos(goal.heading)) - b * gear.offset * Math.sin(goal.heading);

const betweenY = (gear: SteeringGear, goal: Goal, a: Side, b: Side): Millimetres =>
  goal.y - gear.advance * Math.sin(goal.heading) + b * gear.offset * Math.cos(goal.heading) - a * gear.offset;

/** Curve, straight, curve: the outer or the inner common tangent of the two circles. */
export function tryTangent(task: JoinTask, family: PathFamily): void {
  const { gear, goal, best } = task;
  const a = firstSide(family);
  const b = lastSide(family);
  const dx = betweenX(gear, goal, b);
  const dy = betweenY(gear, goal, a, b);
  const apart = Math.hypot(dx, dy);
  const across = a === b ? 0 : 2 * gear.offset;
  if (apart < across - STRAIGHT_ROUNDING) return;
  const along = Math.sqrt(Math.max(0, apart * apart - across * across));
  const least = a === b ? 0 : task.least;
  const run = along - 2 * gear.advance;
  if (run < least - STRAIGHT_ROUNDING) return;
  const between = Math.max(least, run);
  const direction = apart > 0 ? Math.atan2(dy, dx) + a * Math.atan2(across, along) : 0;
  let first = positiveAngle(a * direction);
  let last = positiveAngle(b * (goal.heading - direction));
  // A turn missed by rounding shows as a full circle; taking the straight's direction from that end leaves nothing to turn.
  if (isRoundedCircle(first, apart)) {
    first = 0;
    last = positiveAngle(b * goal.heading);
  }
  if (isRoundedCircle(last, apart)) {
    first = positiveAngle(a * goal.heading);
    last = 0;
  }
  const length = circleTurnLength(gear, first) + between + circleTurnLength(gear, last);
  if (best.beatenBy(length)) best.keep(length, family, first, 0, last, between, false, false);
}

const isRoundedCircle = (deflection: Radians, apart: Millimetres): boolean =>
  (2 * Math.PI - deflection) * apart < STRAIGHT_ROUNDING;

/** Curve, curve, curve: the middle circle on either side of the line between the outer two. */
export function tryThirdCircle(task: JoinTask, family: PathFamily): void {
  const { gear, goal, least, best } = task;
  const a = firstSide(family);
  const dx = betweenX(gear, goal, a);
  const dy = betweenY(gear, goal, a, a);
  const apart = Math.hypot(dx, dy);
  const along = 2 * gear.advance + least;
  const across = 2 * gear.offset;
  const step = Math.hypot(along, across);
  if (apart > 2 * step) return;
  const slant = Math.atan2(across, along);
  const line = Math.atan2(dy, dx);
  const half = Math.acos(Math.min(1, apart / (2 * step)));
  for (let bend = half, tries = 0; tries < 2; bend = -half, tries++) {
    const outward = line + bend + a * slant;
    const inward = line - bend - a * slant;
    const first = positiveAngle(a * outward);
    const middle = positiveAngle(a * (outward - inward));
    const last = positiveAngle(a * (goal.heading - inward));
    const length =
      circleTurnLength(gear, first) + circleTurnLength(gear, middle) + circleTurnLength(gear, last) + 2 * least;
    if (best.beatenBy(length)) best.keep(length, family, first, middle, last, least, false, false);
  }
}
