/**
 * What a track can do that never turns tighter than a radius and eases into and out of every curve: the turns of a
 * given deflection, how long they are and where they lead.
 *
 * A turn with full easements begins and ends on a circle about the centre of its arc, wherever it ends
 * (Fraichard & Scheuer, "From Reeds and Shepp's to continuous-curvature paths", IEEE Transactions on Robotics 20(6),
 * 2004). Deflections too small for full easements can be had in two ways. A *wide* turn ends on that same circle, by
 * two spirals of lower sharpness. A *sharp* turn is two spirals of the full sharpness; it is shorter but leaves the circle.
 *
 * Always holds: every turn made here keeps curvature to 1/radius and its change to 1/(radius x easement) per mm.
 */
import { mirrorSegment, type Segment, straight } from "./segment.js";
import { easedTurn, turnExtent } from "./turn.js";
import type { Millimetres, Radians } from "./units.js";

export interface Steering {
  readonly radius: Millimetres;
  /** Length of the spiral from straight to the radius; 0 for plain arcs. */
  readonly easement: Millimetres;
}

/** 1 for left, -1 for right. */
export type Side = 1 | -1;

/** A steering with what follows from it alone. */
export interface SteeringGear extends Steering {
  /** The centre lies this far to the side of a straight that runs into the turn: radius and shift. */
  readonly offset: Millimetres;
  /** And this far ahead of where the turn begins. */
  readonly advance: Millimetres;
  /** Radius of the circle on which turns begin and end. */
  readonly reach: Millimetres;
  /** Angle between a turn's beginning and that circle. */
  readonly slant: Radians;
  /** Least deflection with full easements at both ends. */
  readonly leastTurn: Radians;
}

/** A turn this small moves no rail: over 100 m it leads aside by a picometre. */
export const NO_TURN: Radians = 1e-14;

/** Rounding allowed when a wide turn is held against the limits. */
const LIMIT_ROUNDING = 1e-12;

let lastGear: SteeringGear | undefined;

/** The gear for a steering; asked again for the same one, as in a run of previews, it answers at once. */
export function steeringGear({ radius, easement }: Steering): SteeringGear {
  if (lastGear?.radius === radius && lastGear.easement === easement) return lastGear;
  const { shift, advance } = turnExtent(radius, easement);
  const offset = radius + shift;
  lastGear = {
    radius,
    easement,
    offset,
    advance,
    reach: Math.hypot(offset, advance),
    slant: Math.atan2(advance, offset),
    leastTurn: easement > 0 ? easement / radius : 0,
  };
  return lastGear;
}

/** Terms of the series below; enough for two spirals that turn by a full circle together. */
const CHORD_SERIES = chordSeries(16);

function chordSeries(terms: number): Float64Array {
  const series = new Float64Array(terms);
  let term = 1;
  for (let n = 0; n < terms; n++) {
    series[n] = term;
    // Integral of (1 - u^2)^(2n): each further factor m of the power brings 2m / (2m + 1).
    const m = 2 * n + 1;
    term *= (-1 / (m * (m + 1))) * ((2 * m) / (2 * m + 1)) * ((2 * m + 2) / (2 * m + 3));
  }
  return series;
}

/**
 * How far a spiral of length 1 that turns by `angle` gets in the direction in which it ends; two such spirals, one
 * the mirror of the other, have a chord of twice that. The integral of cos(angle (1 - u^2)) over u from 0 to 1.
 */
export function spiralProgress(angle: Radians): number {
  const square = angle * angle;
  let sum = 0;
  for (let n = CHORD_SERIES.length - 1; n >= 0; n--) sum = sum * square + (CHORD_SERIES[n] ?? 0);
  return sum;
}

/** Length of either spiral of a sharp turn. */
export const sharpSpiral = (gear: SteeringGear, deflection: Radians): Millimetres =>
  Math.sqrt(deflection * gear.radius * gear.easement);

/** From beginning to end of a sharp turn; the chord's direction is half the deflection. */
export const sharpChord = (gear: SteeringGear, deflection: Radians): Millimetres =>
  2 * sharpSpiral(gear, deflection) * spiralProgress(deflection / 2);

/** Length of either spiral of a wide turn; 0 where such a turn would break the limits. */
function wideSpiral(gear: SteeringGear, deflection: Radians): Millimetres {
  const half = deflection / 2;
  const length = (gear.reach * Math.sin(half + gear.slant)) / spiralProgress(half);
  const most = length * (1 + LIMIT_ROUNDING);
  const within = deflection * gear.radius <= most && deflection * gear.radius * gear.easement <= most * length;
  return length > 0 && within ? length : 0;
}

/** Whole circles added to a deflection that neither has full easements nor can be had wide (easements of several radii only). */
function fullDeflection(gear: SteeringGear, deflection: Radians): Radians {
  const circle = 2 * Math.PI;
  return deflection + circle * Math.max(0, Math.ceil((gear.leastTurn - deflection) / circle - LIMIT_ROUNDING));
}

/** Length of the turn from circle to circle, wide where it must be; a deflection of nothing goes straight on. */
export function circleTurnLength(gear: SteeringGear, deflection: Radians): Millimetres {
  if (deflection <= NO_TURN) return 2 * gear.advance;
  const wide = deflection < gear.leastTurn ? wideSpiral(gear, deflection) : 0;
  return wide > 0 ? 2 * wide : gear.radius * fullDeflection(gear, deflection) + gear.easement;
}

/** The turn whose length `circleTurnLength` gives. */
export function circleTurn(gear: SteeringGear, deflection: Radians, side: Side): Segment[] {
  if (deflection <= NO_TURN) return [straight(2 * gear.advance)];
  const wide = deflection < gear.leastTurn ? wideSpiral(gear, deflection) : 0;
  if (wide === 0) return fullTurn(gear, fullDeflection(gear, deflection), side);
  const k = deflection / wide;
  const turn = [
    { length: wide, k0: 0, k1: k },
    { length: wide, k0: k, k1: 0 },
  ];
  return side > 0 ? turn : turn.map(mirrorSegment);
}

/** The turn with full easements, or the sharp one where they do not fit. */
export function fullTurn({ radius, easement }: Steering, deflection: Radians, side: Side): Segment[] {
  return easedTurn({
    radius,
    angle: deflection,
    hand: side > 0 ? "left" : "right",
    easeIn: easement,
    easeOut: easement,
  });
}
