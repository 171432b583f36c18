/**
 * Steering toward a point: one eased turn to the side on which the point lies, then straight to it.
 *
 * Always holds: the path ends at the point (1e-9 mm); a point to the left is reached by a left turn and the mirrored
 * point by the mirrored path; to go to the same point by way of the other hand is never shorter.
 */
import { bracketedRoot, type Crossing } from "./bracketed-root.js";
import { makePath, type Path } from "./path.js";
import { localPoint, type Point, type Pose } from "./pose.js";
import { type Segment, straight } from "./segment.js";
import { fullTurn, sharpChord, type Side, type Steering, type SteeringGear, steeringGear } from "./steering.js";
import { type Millimetres, positiveAngle, type Radians } from "./units.js";

/** How near the path passes a point it is said to end at; it allows for rounding where a limit is just met. */
const AT_POINT: Millimetres = 1e-9;

/** A root this near is as exact as coordinates of some metres allow. */
const ON_POINT: Millimetres = 1e-12;

/**
 * Undefined when the point lies inside the turning circle on its own side; a loop round the other way is not offered.
 * Straight on, without a turn, to a point dead ahead; a path of no length to the point one stands on; left to a point
 * dead astern. Deflections too small for full easements shorten them, as `easedTurn` does.
 */
export function towardPoint(from: Pose, to: Point, steering: Steering): Path | undefined {
  const { x, y } = localPoint(from, to);
  if (Math.abs(y) < AT_POINT && x > -AT_POINT) return makePath(from, [straight(Math.max(0, x))]);
  const gear = steeringGear(steering);
  const side: Side = y >= 0 ? 1 : -1;
  const segments = sharpToward(gear, x, Math.abs(y), side) ?? fullToward(gear, x, Math.abs(y), side);
  return segments && makePath(from, segments);
}

/** After full easements the straight is a tangent to the circle of radius `offset`: closed form. */
function fullToward(gear: SteeringGear, x: Millimetres, y: Millimetres, side: Side): Segment[] | undefined {
  const ahead = x - gear.advance;
  const left = y - gear.offset;
  const alongside = Math.sqrt(ahead * ahead + left * left - gear.offset * gear.offset);
  // NaN where the point lies inside the circle; then no comparison holds.
  const run = alongside - gear.advance;
  if (!(run > -AT_POINT)) return undefined;
  const deflection = positiveAngle(Math.atan2(left, ahead) + Math.atan2(gear.offset, alongside));
  if (deflection < gear.leastTurn - SAME_TURN) return undefined;
  return [...fullTurn(gear, deflection, side), straight(Math.max(0, run))];
}

/** Where sharp and full turns meet, rounding may put the root a little on either side. */
const SAME_TURN: Radians = 1e-12;

/**
 * The point's distance left of the tangent after a sharp turn falls steadily as long as the point is still ahead,
 * so there is at most one root, between no turn and the largest turn that does not pass the point.
 */
function sharpToward(gear: SteeringGear, x: Millimetres, y: Millimetres, side: Side): Segment[] | undefined {
  if (gear.leastTurn === 0) return undefined;
  const aside = new Aside(gear, x, y);
  const ahead = new Ahead(gear, x, y);
  let most = Math.min(gear.leastTurn, 2 * Math.PI);
  const left = ahead.cross(most);
  if (left < 0) {
    if (x <= 0) return undefined;
    most = bracketedRoot(ahead, 0, most, x, left, 0);
  }
  const beyond = aside.cross(most);
  if (beyond > ON_POINT) return undefined;
  const deflection = beyond > -ON_POINT ? most : bracketedRoot(aside, 0, most, y, beyond, ON_POINT);
  const run = ahead.cross(deflection);
  if (!(run > -AT_POINT)) return undefined;
  return [...fullTurn(gear, deflection, side), straight(Math.max(0, run))];
}

/** How far left of the tangent the point lies after a sharp left turn. */
class Aside implements Crossing {
  constructor(
    private readonly gear: SteeringGear,
    private readonly x: Millimetres,
    private readonly y: Millimetres,
  ) {}
  cross(turn: Radians): Millimetres {
    return this.y * Math.cos(turn) - this.x * Math.sin(turn) + sharpChord(this.gear, turn) * Math.sin(turn / 2);
  }
}

/** How far ahead of the turn's end the point lies. */
class Ahead implements Crossing {
  constructor(
    private readonly gear: SteeringGear,
    private readonly x: Millimetres,
    private readonly y: Millimetres,
  ) {}
  cross(turn: Radians): Millimetres {
    return this.x * Math.cos(turn) + this.y * Math.sin(turn) - sharpChord(this.gear, turn) * Math.cos(turn / 2);
  }
}
