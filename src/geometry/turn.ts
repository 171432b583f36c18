/**
 * The eased turn: a spiral in, an arc, a spiral out; and how far such a turn stands off from its plain arc.
 *
 * Always holds: the segments of `easedTurn` turn by exactly the angle asked for, curvature never exceeds 1/radius,
 * and each spiral keeps the sharpness 1/(radius x easement) of the end it belongs to.
 */
import { mirrorSegment, type Segment, segmentPose } from "./segment.js";
import type { Millimetres, Radians } from "./units.js";

export type Hand = "left" | "right";

export interface Turn {
  readonly radius: Millimetres;
  /** How far the heading turns; more than a full turn makes a helix. */
  readonly angle: Radians;
  readonly hand: Hand;
  /** Length of the spiral from straight to the full curvature; 0 for none. */
  readonly easeIn: Millimetres;
  readonly easeOut: Millimetres;
}

/**
 * Segments of the turn, those of no length left out; none for an angle that is not above zero.
 * Where the easements do not fit the angle, both spirals keep their sharpness and meet at a lower curvature q / radius:
 * the angle is q^2 (easeIn + easeOut) / (2 radius), so equal easements L become two of sqrt(angle x radius x L).
 */
export function easedTurn({ radius, angle, hand, easeIn, easeOut }: Turn): Segment[] {
  if (!(angle > 0)) return [];
  const eased = (easeIn + easeOut) / (2 * radius);
  const q = angle < eased ? Math.sqrt(angle / eased) : 1;
  const k = q / radius;
  const left: Segment[] = [
    { length: q * easeIn, k0: 0, k1: k },
    { length: angle < eased ? 0 : radius * (angle - eased), k0: k, k1: k },
    { length: q * easeOut, k0: k, k1: 0 },
  ];
  const turn = left.filter((g) => g.length > 0);
  return hand === "left" ? turn : turn.map(mirrorSegment);
}

/**
 * How a turn with a full easement stands off from the arc of the same radius between the same straights
 * (p and k of the railway spiral; US practice, e.g. Iowa DOT Design Manual 2C-1).
 */
export interface TurnExtent {
  /** p: how far the arc is shifted inward; its centre lies radius + p from either straight. About L^2 / (24 radius). */
  readonly shift: Millimetres;
  /** k: how far before the point abreast of the centre the spiral begins. About L / 2. */
  readonly advance: Millimetres;
}

export function turnExtent(radius: Millimetres, easement: Millimetres): TurnExtent {
  if (!(easement > 0)) return { shift: 0, advance: 0 };
  const end = segmentPose({ length: easement, k0: 0, k1: 1 / radius }, easement);
  const half = Math.sin(end.heading / 2);
  return { shift: end.y - 2 * radius * half * half, advance: end.x - radius * Math.sin(end.heading) };
}
