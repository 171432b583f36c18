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

/** What is worked out once for a radius and an easement: a search asks for a few of them over and over. */
export function rememberShapes<T>(make: (radius: Millimetres, easement: Millimetres) => T): typeof make {
  const known = new Map<number, Map<number, T>>();
  return (radius, easement) => {
    let own = known.get(radius);
    if (!own) {
      if (known.size > 2000) known.clear();
      known.set(radius, (own = new Map()));
    }
    let found = own.get(easement);
    if (found === undefined) own.set(easement, (found = make(radius, easement)));
    return found;
  };
}

/** `turnExtent`, remembered. */
export const extentOf = rememberShapes(turnExtent);

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
