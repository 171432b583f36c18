/**
 * Numbers as people type them: decimal point or comma, groups of three, fractions, mixed numbers, typographic signs.
 * The reading is one pass from left to right, so it takes time in proportion to the text.
 */
export type Typed<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly message: string };

/** Longer than any number anyone types. */
export const MOST_TYPED = 60;

const VULGAR: Readonly<Record<string, string>> = {
  "½": "1/2",
  "⅓": "1/3",
  "⅔": "2/3",
  "¼": "1/4",
  "¾": "3/4",
  "⅕": "1/5",
  "⅖": "2/5",
  "⅗": "3/5",
  "⅘": "4/5",
  "⅙": "1/6",
  "⅚": "5/6",
  "⅐": "1/7",
  "⅛": "1/8",
  "⅜": "3/8",
  "⅝": "5/8",
  "⅞": "7/8",
  "⅑": "1/9",
  "⅒": "1/10",
};

/** The text with plain spaces, signs, primes (' and ") and fractions, in lower case. */
export function plainText(text: string): string {
  return text
    .replace(/[\u00BC-\u00BE\u2150-\u215E]/g, (sign) => (VULGAR[sign] === undefined ? sign : ` ${VULGAR[sign]}`))
    .replace(/\s/g, " ")
    .replace(/[\u2010-\u2015\u2212\uFE63\uFF0D]/g, "-")
    .replace(/[\u2044\u2215]/g, "/")
    .replace(/''|′′|’’|[\u2033\u201C\u201D\u201E\u02BA\u3003]/g, '"')
    .replace(/[\u2032\u2018\u2019\u02B9\u02BC\u00B4`]/g, "'")
    .toLowerCase()
    .trim();
}

export interface Cursor {
  readonly text: string;
  at: number;
}

export function skipSpaces(cursor: Cursor): void {
  while (cursor.text[cursor.at] === " ") cursor.at += 1;
}

/** What is left, shortened for a message. */
export function rest(cursor: Cursor): string {
  const left = cursor.text.slice(cursor.at).trim();
  return left.length > 20 ? `${left.slice(0, 20)}…` : left;
}

/** Takes a minus or plus at the cursor: -1 or 1. */
export function takeSign(cursor: Cursor): 1 | -1 {
  skipSpaces(cursor);
  const sign = cursor.text[cursor.at];
  if (sign !== "-" && sign !== "+") return 1;
  cursor.at += 1;
  return sign === "-" ? -1 : 1;
}

const isDigit = (c: string | undefined): boolean => c !== undefined && c >= "0" && c <= "9";

/**
 * Takes a number without sign: `12`, `6.5`, `6,5`, `1 850,5`, `1.850,5`, `1,850.5`, `1/2`, `34 1/2`, `34-1/2`. A point
 * alone is the decimal point; a comma before exactly three digits could be either, and is refused.
 */
export function takeNumber(cursor: Cursor): Typed<number> {
  skipSpaces(cursor);
  const start = cursor.at;
  const digits = takeDigits(cursor);
  if (digits === "")
    return { ok: false, message: rest(cursor) === "" ? "a number is missing" : `"${rest(cursor)}" is not a number` };
  if (cursor.text[cursor.at] === "/") return fraction(cursor, digits);
  const whole = figure(digits);
  if (!whole.ok) return whole;

  // A fraction may follow a whole number after a space or a hyphen.
  const back = cursor.at;
  skipSpaces(cursor);
  if (cursor.text[cursor.at] === "-" && cursor.at === back) {
    cursor.at += 1;
    skipSpaces(cursor);
  }
  const top = cursor.at > back ? takeRun(cursor, isDigit) : "";
  if (top === "" || cursor.text[cursor.at] !== "/") {
    cursor.at = back;
    return whole;
  }
  const part = fraction(cursor, top);
  if (!part.ok) return part;
  if (!Number.isInteger(whole.value) || part.value >= 1 || /[.,]/.test(digits)) {
    return { ok: false, message: `"${cursor.text.slice(start, cursor.at)}" is not a whole number and a fraction` };
  }
  return { ok: true, value: whole.value + part.value };
}

function takeRun(cursor: Cursor, wanted: (c: string | undefined) => boolean): string {
  const start = cursor.at;
  while (wanted(cursor.text[cursor.at])) cursor.at += 1;
  return cursor.text.slice(start, cursor.at);
}

/** Digits with points and commas, and with spaces where exactly three digits follow that are not a fraction's. */
function takeDigits(cursor: Cursor): string {
  let found = takeRun(cursor, (c) => isDigit(c) || c === "." || c === ",");
  while (/^\d{1,3}( \d{3})*$/.test(found)) {
    const group = /^ \d{3}(?![\d/])/.exec(cursor.text.slice(cursor.at, cursor.at + 5))?.[0];
    if (group === undefined) break;
    cursor.at += group.length;
    found += group + takeRun(cursor, (c) => c === "." || c === ",") + takeRun(cursor, isDigit);
  }
  return found;
}

function fraction(cursor: Cursor, top: string): Typed<number> {
  cursor.at += 1;
  const bottom = takeRun(cursor, isDigit);
  const written = `${top}/${bottom}`;
  if (!/^\d+$/.test(top) || bottom === "") return { ok: false, message: `"${written}" is not a fraction` };
  if (Number(bottom) === 0) return { ok: false, message: `"${written}" divides by nothing` };
  return { ok: true, value: Number(top) / Number(bottom) };
}

/** The value of digits with separators. */
function figure(digits: string): Typed<number> {
  const no = (why: string): Typed<number> => ({ ok: false, message: `"${digits}" ${why}` });
  const spaced = digits.includes(" ");
  const joined = digits.replaceAll(" ", "");
  const points = joined.split(".").length - 1;
  const commas = joined.split(",").length - 1;
  let plain = joined;
  if (points > 0 && commas > 0) {
    const decimal = joined.lastIndexOf(".") > joined.lastIndexOf(",") ? "." : ",";
    const group = decimal === "." ? "," : ".";
    const [whole = "", part = "", ...more] = joined.split(decimal);
    if (more.length > 0 || spaced || !grouped(whole, group)) return no("is not a number");
    plain = `${whole.replaceAll(group, "")}.${part}`;
  } else if (points > 1 || commas > 1) {
    if (spaced || !grouped(joined, points > 1 ? "." : ",")) return no("is not a number");
    plain = joined.replaceAll(points > 1 ? "." : ",", "");
  } else if (commas === 1) {
    const [whole = "", part = ""] = joined.split(",");
    if (part.length === 3 && whole !== "" && !whole.startsWith("0") && whole.length <= 3 && !spaced) {
      return no(`could be ${whole}${part} or ${whole}.${part}; write one of these`);
    }
    plain = `${whole}.${part}`;
  }
  if (!/\d/.test(plain)) return no("is not a number");
  return { ok: true, value: Number(plain) };
}

const grouped = (whole: string, separator: string): boolean =>
  whole.split(separator).every((group, i) => (i === 0 ? /^\d{1,3}$/ : /^\d{3}$/).test(group));
