/** Holding a value against a limit. */
import type { Percent } from "../geometry/units.js";
import type { Reading, Verdict } from "./reading.js";

/** Rounding left in a value that meets its limit exactly, as a share of the limit. */
const EXACT = 1e-6;

/**
 * `tight` where the limit is kept, by less than the margin; with a margin of 0 a limit is only kept or not.
 * Better values never get a worse verdict. A value that is not a number fails; a missing value or limit gives `none`.
 */
export function judge(
  value: number | undefined,
  limit: number | undefined,
  bound: Reading["bound"],
  margin: Percent,
): Verdict {
  if (value === undefined || limit === undefined || bound === undefined) return "none";
  if (Number.isNaN(value)) return "fails";
  const slack = (bound === "least" ? value - limit : limit - value) / Math.max(Math.abs(limit), EXACT);
  if (slack < -EXACT) return "fails";
  return slack < margin / 100 - EXACT ? "tight" : "clear";
}

/** Whether a is nearer to failing than b. */
export const worse = (a: number, b: number, bound: "least" | "most"): boolean => (bound === "least" ? a < b : a > b);
