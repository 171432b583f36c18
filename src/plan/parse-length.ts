/**
 * Lengths as people type them: `12' 6 1/2"`, `6.5"`, `34 1/2`, `5 ft 3 in`, `1.85 m`, `1850`, `1 850,5 mm`.
 * A bare number is in the plan's units, inches or millimetres; a unit that is given always wins.
 */
import type { Millimetres } from "../geometry/units.js";
import { BOUNDS, type Plan } from "./schema.js";
import { type Cursor, MOST_TYPED, plainText, rest, skipSpaces, takeNumber, takeSign } from "./typed-number.js";

export type ParsedLength =
  | { readonly ok: true; readonly mm: Millimetres }
  | { readonly ok: false; readonly message: string };

/** 12 inches are 304.8 mm, not 304.79999999999995: nothing is measured to a billionth of a millimetre. */
const withoutCrumbs = (mm: Millimetres): Millimetres => Math.round(mm * 1e9) / 1e9;

/** The international inch. */
export const INCH: Millimetres = 25.4;
export const FOOT: Millimetres = 12 * INCH;

interface Unit {
  readonly name: string;
  readonly mm: Millimetres;
  readonly system: Plan["units"];
}
const feet: Unit = { name: "feet", mm: FOOT, system: "imperial" };
const inches: Unit = { name: "inches", mm: INCH, system: "imperial" };
const metres: Unit = { name: "metres", mm: 1000, system: "metric" };
const centimetres: Unit = { name: "centimetres", mm: 10, system: "metric" };
const millimetres: Unit = { name: "millimetres", mm: 1, system: "metric" };

const UNITS: ReadonlyMap<string, Unit> = new Map([
  ...["'", "ft", "ft.", "foot", "feet"].map((word) => [word, feet] as const),
  ...['"', "in", "in.", "inch", "inches"].map((word) => [word, inches] as const),
  ...["m", "metre", "metres", "meter", "meters"].map((word) => [word, metres] as const),
  ...["cm", "centimetre", "centimetres", "centimeter", "centimeters"].map((word) => [word, centimetres] as const),
  ...["mm", "millimetre", "millimetres", "millimeter", "millimeters"].map((word) => [word, millimetres] as const),
]);

/** Never throws. Refused: nothing typed, what is not understood, two meanings, and lengths beyond any plan. */
export function parseLength(text: string, units: Plan["units"]): ParsedLength {
  if (text.length > MOST_TYPED) return no("that is too long to be a length");
  const cursor: Cursor = { text: plainText(text), at: 0 };
  if (cursor.text === "") return no("a length is missing");
  const sign = takeSign(cursor);
  let total = 0;
  let last: Unit | undefined;
  for (let part = 0; part === 0 || rest(cursor) !== ""; part += 1) {
    if (part > 0) skipJoint(cursor);
    const from = cursor.at;
    const number = takeNumber(cursor);
    if (!number.ok) return number;
    const word = takeUnit(cursor);
    let unit = UNITS.get(word);
    if (word !== "" && unit === undefined) return no(`"${word}" is not a unit of length`);
    // Inches may go without their sign after feet; nothing else may.
    unit ??= part === 0 ? (units === "imperial" ? inches : millimetres) : last === feet ? inches : undefined;
    if (unit === undefined || (last !== undefined && (unit.system !== last.system || unit.mm >= last.mm))) {
      return no(`"${cursor.text.slice(from).trim()}" is not understood after ${last?.name ?? "that"}`);
    }
    if (part === 0 && word === "" && rest(cursor) !== "") return no(`"${rest(cursor)}" is not understood`);
    // 1'850 is how some write thousands; nobody means feet and 850 inches.
    if (last === feet && number.value >= 12) return no(`inches after feet are less than 12, found ${number.value}`);
    total += number.value * unit.mm;
    last = unit;
  }
  if (total > BOUNDS.length) return no(`${text.trim()} is longer than any plan`);
  return { ok: true, mm: total === 0 ? 0 : sign * withoutCrumbs(total) };
}

const no = (message: string): ParsedLength => ({ ok: false, message });

/** Feet and inches may be joined by a hyphen or a comma: `12'-6"`. */
function skipJoint(cursor: Cursor): void {
  skipSpaces(cursor);
  const c = cursor.text[cursor.at];
  if (c === "-" || c === ",") cursor.at += 1;
}

function takeUnit(cursor: Cursor): string {
  skipSpaces(cursor);
  const start = cursor.at;
  const c = cursor.text[cursor.at];
  if (c === "'" || c === '"') cursor.at += 1;
  else {
    while (/\p{L}/u.test(cursor.text[cursor.at] ?? "")) cursor.at += 1;
    if (cursor.at > start && cursor.text[cursor.at] === ".") cursor.at += 1;
  }
  return cursor.text.slice(start, cursor.at);
}
