/** Holding a value against a limit. */
import type { Percent } from "../geometry/units.js";
import type { Reading, Verdict } from "./reading.js";

/** Rounding left in a value that meets its limit exactly: a share of the limit, and for a limit of 0 that of 1. */
const EXACT = 1e-6;

/**
 * `tight` where the limit is kept, by less than the margin, a share of the limit; with a margin or a limit of 0 a limit
 * is only kept or not. Better values never get a worse verdict. A value that is not a number fails; a missing value or
 * limit gives `none`.
 */
export function judge(
  value: number | undefined,
  limit: number | undefined,
  bound: Reading["bound"],
  margin: Percent,
): Verdict {
  if (value === undefined || limit === undefined || bound === undefined) return "none";
  if (Number.isNaN(value)) return "fails";
  const spare = bound === "least" ? value - limit : limit - value;
  const rounding = EXACT * Math.max(Math.abs(limit), 1);
  if (spare < -rounding) return "fails";
  return spare < (Math.abs(limit) * margin) / 100 - rounding ? "tight" : "clear";
}
