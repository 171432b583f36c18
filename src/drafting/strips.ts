/**
 * Outlines drawn about a centre line: a peninsula that stands out from a wall or bench, a gate across an aisle.
 *
 * Always holds: a strip is anticlockwise, as wide everywhere as it was asked to be, and begins and ends square to its
 * centre line.
 */
import { bearing, distance, offsetPoint, type Point } from "../geometry/pose.js";
import type { Corner } from "../geometry/rings.js";
import type { Millimetres } from "../geometry/units.js";

/** A strip shorter than this has no direction. */
export const LEAST_STRIP: Millimetres = 1;

/** `round` rounds the two corners at the far end. Undefined where the centre line or the width is nothing. */
export function stripOutline(from: Point, to: Point, width: Millimetres, round: Millimetres = 0): Corner[] | undefined {
  if (!(distance(from, to) >= LEAST_STRIP) || !(width > 0)) return undefined;
  const heading = bearing(from, to);
  const half = width / 2;
  const end = (at: Point, left: number): Point => offsetPoint({ ...at, heading }, 0, left);
  const rounded = (p: Point): Corner => (round > 0 ? { ...p, round } : p);
  return [end(from, half), end(from, -half), rounded(end(to, -half)), rounded(end(to, half))];
}
