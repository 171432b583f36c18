/**
 * Graduations of rulers and scale bars: round lengths in the display units, coarser as the sheet is seen from farther.
 *
 * Always holds: a labelled step is a whole number of small steps, and neither is drawn closer than its least gap.
 */
import type { Millimetres } from "../geometry/units.js";
import type { Plan } from "../plan/schema.js";

export interface Graduation {
  /** Between labelled marks. */
  readonly major: Millimetres;
  /** Between small marks. */
  readonly minor: Millimetres;
}

const INCH: Millimetres = 25.4;
const FOOT: Millimetres = 12 * INCH;

/** Labelled step and the small steps in it: eighths and quarters of inches, inches of feet, then 1, 2, 5 as on any scale. */
const IMPERIAL: readonly (readonly [Millimetres, number])[] = [
  [INCH / 4, 4],
  [INCH / 2, 4],
  [INCH, 8],
  [2 * INCH, 4],
  [3 * INCH, 3],
  [6 * INCH, 6],
  [FOOT, 12],
  [2 * FOOT, 4],
  [5 * FOOT, 5],
  [10 * FOOT, 10],
  [20 * FOOT, 4],
  [50 * FOOT, 5],
  [100 * FOOT, 10],
  [200 * FOOT, 4],
];
const METRIC: readonly (readonly [Millimetres, number])[] = [1, 10, 100, 1000, 10_000, 100_000].flatMap((unit) => [
  [unit, 10] as const,
  [2 * unit, 4] as const,
  [5 * unit, 5] as const,
]);

/** Least gaps, px: a figure with room about it, and marks the eye can count. */
const LEAST_MAJOR = 56;
const LEAST_MINOR = 5;

/** The finest graduation that is not too dense at a scale in px per mm; the coarsest there is where all are. */
export function graduationAt(scale: number, units: Plan["units"]): Graduation {
  const steps = units === "imperial" ? IMPERIAL : METRIC;
  const [major, parts] = steps.find(([step]) => step * scale >= LEAST_MAJOR) ?? steps.at(-1) ?? [1000, 10];
  const minor = [parts, parts / 2, parts / 3, 2, 1].find(
    (n) => Number.isInteger(n) && parts % n === 0 && (major / n) * scale >= LEAST_MINOR,
  );
  return { major, minor: major / (minor ?? 1) };
}

const MINUS = "\u2212";

/** A figure on a ruler: 4′, 4′ 6″, 7½″; 1.2 m, 35 cm, 12 mm by the step it stands in. */
export function graduationText(at: Millimetres, { major }: Graduation, units: Plan["units"]): string {
  const sign = at < -major / 2 ? MINUS : "";
  const size = Math.abs(at) < major / 2 ? 0 : Math.abs(at);
  if (size === 0) return "0";
  if (units === "metric") {
    if (major >= 1000) return `${sign}${Number((size / 1000).toFixed(1))} m`;
    if (major >= 100) return `${sign}${(size / 1000).toFixed(1)} m`;
    return major >= 10 ? `${sign}${Math.round(size / 10)} cm` : `${sign}${Math.round(size)} mm`;
  }
  const quarters = Math.round((size / INCH) * 4);
  const feet = Math.floor(quarters / 48);
  const inches = Math.floor((quarters % 48) / 4);
  const part = ["", "¼", "½", "¾"][quarters % 4] ?? "";
  const rest = inches === 0 && part === "" ? "" : `${inches === 0 ? "" : inches}${part}″`;
  return `${sign}${feet > 0 ? `${feet}′` : ""}${feet > 0 && rest ? " " : ""}${rest}`;
}

/** Round lengths for scale bars. */
const BARS: Readonly<Record<Plan["units"], readonly Millimetres[]>> = {
  imperial: [0.25, 0.5, 1, 2, 4, 6, 12, 24, 48, 96, 192, 480, 960, 1920].map((n) => n * INCH),
  metric: [2, 4, 10, 20, 40, 100, 200, 400, 1000, 2000, 4000, 10_000, 20_000, 40_000],
};

/** The longest round length that takes no more than so many px. */
export const scaleBar = (scale: number, units: Plan["units"], most: number): Millimetres =>
  BARS[units].findLast((length) => length * scale <= most) ?? BARS[units][0] ?? 1;
