/**
 * Where lines meet in space: for every pair of lines (and every line with itself) whose centre lines come within reach
 * of one another, the stretches on which they do, with distance in plan and difference of height.
 */
import type { Millimetres } from "../geometry/units.js";
import type { LineKey } from "./line.js";

/** One sampled place of nearness: `sa` on line a, the nearest place `sb` on line b. */
export interface NearPlace {
  readonly sa: Millimetres;
  readonly sb: Millimetres;
  /** Distance of the centre lines in plan, mm. */
  readonly apart: Millimetres;
  /** Height of b's railhead over a's, mm. */
  readonly rise: Millimetres;
}

/** An unbroken stretch of nearness, places in order of `sa`. */
export interface Meeting {
  readonly a: LineKey;
  readonly b: LineKey;
  readonly places: readonly NearPlace[];
}
