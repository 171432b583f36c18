/** Grades, angles and counts as people type and read them. */
import type { Degrees, Percent } from "../geometry/units.js";
import { plainDecimal } from "./format-length.js";
import { BOUNDS } from "./schema.js";
import {
  type Cursor,
  MOST_TYPED,
  plainText,
  rest,
  skipSpaces,
  takeNumber,
  takeSign,
  type Typed,
} from "./typed-number.js";

const no = <T>(message: string): Typed<T> => ({ ok: false, message });
const MINUS = "\u2212";
const NO_VALUE = "–";

/** `2.4 %`, `2,4`, `24 ‰`, `1 in 42`, `1:42`, `level`; a bare number is percent. */
export function parseGrade(text: string): Typed<Percent> {
  const cursor = cursorOn(text);
  if (cursor.text === "") return no("a grade is missing");
  if (cursor.text === "level") return { ok: true, value: 0 };
  const sign = takeSign(cursor);
  // A half of a percent is no half.
  const ratio = cursor.text.includes("%") ? null : /^\s*(\d+)\s*(?:in\b|:|\/)/.exec(cursor.text.slice(cursor.at));
  if (ratio !== null) {
    cursor.at += ratio[0].length;
    const run = takeNumber(cursor);
    if (!run.ok) return run;
    if (rest(cursor) !== "") return notUnderstood(cursor);
    if (run.value === 0) return no("a grade of one in nothing is no grade");
    return bounded((sign * 100 * Number(ratio[1])) / run.value, 100, "%");
  }
  const number = takeNumber(cursor);
  if (!number.ok) return number;
  skipSpaces(cursor);
  const unit = rest(cursor);
  if (unit === "‰") return bounded((sign * number.value) / 10, 100, "%");
  if (unit !== "" && unit !== "%" && unit !== "percent" && unit !== "per cent") return notUnderstood(cursor);
  return bounded(sign * number.value, 100, "%");
}

/** `2.4 %`, or `1 in 42`; to a hundredth of a percent, or a tenth of the run. */
export function formatGrade(grade: Percent, style: "percent" | "ratio" = "percent"): string {
  if (!Number.isFinite(grade)) return NO_VALUE;
  if (style === "percent") return `${signed(grade, 2)} %`;
  const run = 100 / Math.abs(grade);
  // Flatter than this is level to any builder.
  if (run > 100_000) return "level";
  return `${grade < 0 ? MINUS : ""}1 in ${plainDecimal(run, run < 100 ? 1 : 0)}`;
}

/** `22.5`, `22,5°`, `22.5 deg`, `22° 30'`. */
export function parseAngle(text: string): Typed<Degrees> {
  const cursor = cursorOn(text);
  if (cursor.text === "") return no("an angle is missing");
  const sign = takeSign(cursor);
  const number = takeNumber(cursor);
  if (!number.ok) return number;
  let angle = number.value;
  const mark = /^\s*(?:°|deg(?:rees?)?\b)/.exec(cursor.text.slice(cursor.at));
  cursor.at += mark?.[0].length ?? 0;
  if (mark !== null && rest(cursor) !== "") {
    const after = rest(cursor);
    const minutes = takeNumber(cursor);
    skipSpaces(cursor);
    if (!minutes.ok || minutes.value >= 60 || cursor.text[cursor.at] !== "'") {
      return no(`"${after}" is not understood after the degrees`);
    }
    cursor.at += 1;
    angle += minutes.value / 60;
  }
  if (rest(cursor) !== "") return notUnderstood(cursor);
  return bounded(sign * angle, BOUNDS.angle, "°");
}

/** `22.5°`, to a hundredth of a degree. */
export const formatAngle = (angle: Degrees): string => (Number.isFinite(angle) ? `${signed(angle, 2)}°` : NO_VALUE);

/** A plain number, fractions allowed: the turns of a helix, a frog number. */
export function parseNumber(text: string): Typed<number> {
  const cursor = cursorOn(text);
  if (cursor.text === "") return no("a number is missing");
  const sign = takeSign(cursor);
  const number = takeNumber(cursor);
  if (!number.ok) return number;
  if (rest(cursor) !== "") return notUnderstood(cursor);
  return { ok: true, value: number.value === 0 ? 0 : sign * number.value };
}

/** A whole number from 0; groups of three may be set apart. */
export function parseCount(text: string): Typed<number> {
  const cursor = cursorOn(text);
  if (cursor.text === "") return no("a number is missing");
  const number = takeNumber(cursor);
  if (!number.ok) return number;
  if (rest(cursor) !== "") return notUnderstood(cursor);
  if (!Number.isSafeInteger(number.value)) return no(`"${text.trim()}" is not a whole number`);
  return number;
}

export const formatCount = (count: number): string => (Number.isFinite(count) ? signed(count, 0) : NO_VALUE);

const cursorOn = (text: string): Cursor => ({ text: plainText(text.slice(0, MOST_TYPED + 1)), at: 0 });

const notUnderstood = <T>(cursor: Cursor): Typed<T> => no(`"${rest(cursor)}" is not understood`);

function bounded(value: number, most: number, unit: string): Typed<number> {
  if (Math.abs(value) > most) return no(`more than ${most} ${unit} is beyond any plan`);
  return { ok: true, value: value === 0 ? 0 : value };
}

function signed(value: number, decimals: number): string {
  const text = plainDecimal(Math.abs(value), decimals);
  return value < 0 && Number(text) !== 0 ? `${MINUS}${text}` : text;
}
