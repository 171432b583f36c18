/**
 * The eased turn between two straight lines, as the search lays thousands of them: where it leaves the one and comes to
 * the other, and points along it.
 *
 * Always holds: a shape's segments are those `easedTurn` lays; chords between its points stay within half a millimetre
 * of it.
 */
import { makePath, samplePath } from "../geometry/path.js";
import type { Pose } from "../geometry/pose.js";
import { segmentPose } from "../geometry/segment.js";
import { easedTurn, type Hand, turnExtent } from "../geometry/turn.js";
import type { Millimetres, Radians } from "../geometry/units.js";

/** Chords of the points of a turn stay within this of it; centres and gaps are checked to it, mm. */
export const SAGITTA: Millimetres = 0.4;
const LONGEST_CHORD: Millimetres = 60;

export interface TurnShape {
  readonly radius: Millimetres;
  readonly easement: Millimetres;
  /** Full circles of a helix among it. */
  readonly angle: Radians;
  readonly length: Millimetres;
}

export function turnShape(radius: Millimetres, easement: Millimetres, angle: Radians): TurnShape {
  const eased = easement / radius;
  const length = angle < eased ? 2 * Math.sqrt(angle * radius * easement) : radius * angle + easement;
  return { radius, easement, angle, length };
}

const extents = new Map<string, ReturnType<typeof turnExtent>>();

/** `turnExtent`, remembered: a search asks for a few radii over and over. */
export function extentOf(radius: Millimetres, easement: Millimetres): ReturnType<typeof turnExtent> {
  const key = `${radius} ${easement}`;
  let known = extents.get(key);
  if (!known) {
    if (extents.size > 2000) extents.clear();
    extents.set(key, (known = turnExtent(radius, easement)));
  }
  return known;
}

/**
 * From where the turn begins to where its two straights meet, along the first; negative beyond half a circle, where they
 * meet behind. The straights must not be parallel.
 */
export function tangentOf({ radius, easement, angle }: TurnShape): Millimetres {
  const turned = angle % (2 * Math.PI);
  if (angle < easement / radius) {
    // Two spirals that meet at their sharpest: by symmetry the straights meet abreast of there.
    const [spiral] = easedTurn({ radius, angle, hand: "left", easeIn: easement, easeOut: easement });
    if (!spiral) return 0;
    const { x, y } = segmentPose(spiral, spiral.length);
    return x + y * Math.tan(angle / 2);
  }
  const { shift, advance } = extentOf(radius, easement);
  return (radius + shift) * Math.tan(turned / 2) + advance;
}

/** Radius of the half circle between parallel lines `apart` from one another; undefined where there is none of at least `least`. */
export function halfCircleRadius(
  apart: Millimetres,
  easement: Millimetres,
  least: Millimetres,
): Millimetres | undefined {
  // The shift only makes it less.
  if (apart / 2 < least) return undefined;
  let radius = apart / 2;
  for (let i = 0; i < 30; i++) {
    const next = apart / 2 - turnExtent(radius, easement).shift;
    if (!(next > 0)) return undefined;
    if (Math.abs(next - radius) < 1e-10) break;
    radius = next;
  }
  return radius < least ? undefined : radius;
}

/** Points of a turn that begins at a pose, its ends among them: x, y in turn. */
export function turnPoints(from: Pose, shape: TurnShape, hand: Hand): Float64Array {
  const { radius, angle, easement } = shape;
  const path = makePath(from, easedTurn({ radius, angle, hand, easeIn: easement, easeOut: easement }));
  const points = samplePath(path, SAGITTA, LONGEST_CHORD);
  const result = new Float64Array(2 * points.length);
  points.forEach((p, i) => result.set([p.x, p.y], 2 * i));
  return result;
}
