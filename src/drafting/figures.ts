/** Figures as drawings and tables show them: lengths in the plan's units, grades in percent. */
import { formatLength } from "../plan/format-length.js";
import { formatGrade } from "../plan/grade-text.js";
import type { Plan } from "../plan/schema.js";

export type Units = Plan["units"];

/** Up to here carpenters count inches rather than feet (common practice, no source), mm. */
const IN_INCHES = 72 * 25.4;

const VULGAR: Readonly<Record<string, string>> = {
  "1/2": "½",
  "1/4": "¼",
  "3/4": "¾",
  "1/8": "⅛",
  "3/8": "⅜",
  "5/8": "⅝",
  "7/8": "⅞",
};

/** Longer runs are told in metres, to a centimetre, mm. */
const IN_MILLIMETRES = 10_000;

/** A length in the plan's units: `41″`, `31¾″`, `21′ 6″`, `1850 mm`. */
export function lengthText(mm: number, units: Units): string {
  if (units === "metric") {
    if (Math.abs(mm) < IN_MILLIMETRES) return formatLength(mm, units);
    return formatLength(Math.round(mm / 10) * 10, units, { style: "m" });
  }
  const text = formatLength(mm, units, { style: Math.abs(mm) < IN_INCHES ? "inches" : "feet" });
  return text
    .replace(/(\d )?(\d\/\d)(?=″)/, (whole, before: string | undefined, part: string) =>
      VULGAR[part] === undefined ? whole : (before ?? "").trimEnd() + VULGAR[part],
    )
    .replace(/ 0″$/, "");
}

/** A grade in a table, to a hundredth. */
export const percentText = (percent: number): string => formatGrade(percent);

/** A grade on a drawing, where a tenth is all that is built. */
export const drawnGrade = (percent: number): string => `${percent.toFixed(1)} %`;
