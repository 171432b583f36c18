/**
 * Lengths as people read them, in the plan's units.
 *
 * Holds: parsing what was written gives the length back within half a step (1/32 in for sixteenths).
 */
import type { Millimetres } from "../geometry/units.js";
import { INCH } from "./parse-length.js";
import type { Plan } from "./schema.js";

export interface LengthFormat {
  /** Imperial: steps to the inch. 16 where left out. */
  readonly fraction?: 16 | 32;
  /**
   * Imperial: `feet` writes 12′ 6 1/2″, `inches` 150 1/2″. Metric: `mm` writes 1850 mm, `cm` 185 cm, `m` 1.85 m.
   * Left out: feet and mm.
   */
  readonly style?: "feet" | "inches" | "mm" | "cm" | "m";
}

/** Metric lengths are written to a tenth of a millimetre. */
const METRIC_STEP = 0.1;
const MINUS = "\u2212";
/** Stands for a length that is not finite. */
const NO_LENGTH = "–";

export function formatLength(mm: Millimetres, units: Plan["units"], format: LengthFormat = {}): string {
  if (!Number.isFinite(mm)) return NO_LENGTH;
  return units === "imperial"
    ? imperial(mm, format.fraction ?? 16, format.style !== "inches")
    : metric(mm, format.style === "m" ? "m" : format.style === "cm" ? "cm" : "mm");
}

function imperial(mm: Millimetres, fraction: 16 | 32, withFeet: boolean): string {
  // Counted in whole steps, so that 11 31/32″ carries into the next foot.
  const steps = Math.round((Math.abs(mm) / INCH) * fraction);
  const sign = mm < 0 && steps > 0 ? MINUS : "";
  const foot = 12 * fraction;
  const feet = withFeet ? Math.floor(steps / foot) : 0;
  const left = steps - feet * foot;
  return `${sign}${feet > 0 ? `${feet}′ ` : ""}${mixed(left, fraction)}″`;
}

/** Steps of 1/fraction as a mixed number, reduced. */
function mixed(steps: number, fraction: number): string {
  const whole = Math.floor(steps / fraction);
  let top = steps - whole * fraction;
  let bottom = fraction;
  while (top > 0 && top % 2 === 0) {
    top /= 2;
    bottom /= 2;
  }
  if (top === 0) return String(whole);
  return `${whole > 0 ? `${whole} ` : ""}${top}/${bottom}`;
}

function metric(mm: Millimetres, unit: "mm" | "cm" | "m"): string {
  const steps = Math.round(Math.abs(mm) / METRIC_STEP);
  const sign = mm < 0 && steps > 0 ? MINUS : "";
  const decimals = { mm: 1, cm: 2, m: 4 }[unit];
  return `${sign}${plainDecimal(steps / 10 ** decimals, decimals)} ${unit}`;
}

/** A number of at most so many decimals, none of them an idle zero, and no exponent. */
export const plainDecimal = (value: number, decimals: number): string =>
  decimals === 0 ? value.toFixed(0) : value.toFixed(decimals).replace(/\.?0+$/, "");
