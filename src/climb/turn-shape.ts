/**
 * The eased turn between two straight lines, as the search lays thousands of them: how long it is, and where it leaves
 * the one and comes to the other.
 *
 * Always holds: `easedTurn` laid from `tangentOf` before the lines meet ends on the second, as far beyond.
 */
import { segmentPose } from "../geometry/segment.js";
import { easedTurn, turnExtent } from "../geometry/turn.js";
import type { Millimetres, Radians } from "../geometry/units.js";

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
