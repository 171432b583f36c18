/**
 * Easements: how long one should be on a curve of a radius, and how far it moves the curve off its tangent.
 *
 * Always holds: a wider curve never asks for a shorter easement; `easementShift` of no length is 0.
 */
import type { Millimetres } from "../geometry/units.js";
import { inHO } from "./cars.js";
import { type Cited, type Figure, inches, roundTo } from "./cited.js";
import { type Scale, standardScale } from "./scales.js";

/** HO: radius, shift of the curve off the tangent and length of the easement, inches. */
export const HANDBOOK_EASEMENTS: readonly (readonly [radius: number, shift: number, length: number])[] = [
  [18, 3 / 8, 12],
  [24, 7 / 16, 16],
  [30, 1 / 2, 18],
  [42, 5 / 8, 25],
];
export const HANDBOOK: Cited = {
  source: "J. Armstrong, Track Planning for Realistic Operation",
  known: "read second hand",
};

/** Shift of the curve off its tangent, half of the easement lying on each side of the tangent point: L²/24R. */
export const easementShift = (length: Millimetres, radius: Millimetres): Millimetres =>
  (length * length) / (24 * radius);

/**
 * Length of easement for a radius of at least some millimetres: the handbook's four rows, straight lines between them,
 * beyond them in proportion to the nearest row; other scales are taken to HO and back by ratio.
 */
export function easementFor(scale: Scale, radius: Millimetres): Figure {
  const inHORadius = inHO(radius, scale) / inches(1);
  const value = roundTo(radius * lengthOverRadius(inHORadius), 0.1);
  const printed = HANDBOOK_EASEMENTS.find(([row]) => Math.abs(row - inHORadius) < 1e-6);
  if (printed !== undefined && scale.ratio === standardScale("HO", "NMRA").ratio)
    return { ...HANDBOOK, value, how: `${printed[2]} in on ${printed[0]} in radius` };
  return {
    value,
    source: HANDBOOK.source,
    known: "derived",
    how: `between and beyond its rows 18/12, 24/16, 30/18, 42/25 in, at ${roundTo(inHORadius, 0.1)} in of HO`,
  };
}

function lengthOverRadius(radius: number): number {
  const rows = HANDBOOK_EASEMENTS;
  const above = rows.findIndex(([row]) => row >= radius);
  const [r1, , l1] = rows[above === -1 ? rows.length - 1 : above] as (typeof rows)[number];
  const before = rows[above - 1];
  if (above <= 0 || before === undefined) return l1 / r1;
  const [r0, , l0] = before;
  return (l0 + ((l1 - l0) * (radius - r0)) / (r1 - r0)) / radius;
}

/** NEM 113: curves wider than this many gauges may do without an easement. */
export const NEM_113_DISPENSABLE = 60;
