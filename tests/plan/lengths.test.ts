import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { formatLength, type LengthFormat } from "../../src/plan/format-length.js";
import { parseLength } from "../../src/plan/parse-length.js";
import type { Plan } from "../../src/plan/schema.js";

type Units = Plan["units"];
const inch = 25.4;

describe("what people type", () => {
  test.each<[string, Units, number]>([
    [`12' 6 1/2"`, "imperial", 150.5 * inch],
    [`12'6-1/2`, "imperial", 150.5 * inch],
    [`12'-6 1/2"`, "imperial", 150.5 * inch],
    ["12' 6", "imperial", 150 * inch],
    ["12'", "imperial", 144 * inch],
    ["12′ 6 1/2″", "imperial", 150.5 * inch],
    ["12’ 6½”", "imperial", 150.5 * inch],
    ["12ʹ 6ʺ", "imperial", 150 * inch],
    ["12' 6''", "imperial", 150 * inch],
    ['6.5"', "imperial", 6.5 * inch],
    ["6,5 in", "imperial", 6.5 * inch],
    ["34 1/2", "imperial", 34.5 * inch],
    ['34-1/2"', "imperial", 34.5 * inch],
    ["34- 1/2", "imperial", 34.5 * inch],
    ['1/2"', "imperial", 0.5 * inch],
    ["½", "imperial", 0.5 * inch],
    ["6 ⅞ inches", "imperial", 6.875 * inch],
    ["3⁄4", "imperial", 0.75 * inch],
    ["5/2", "imperial", 2.5 * inch],
    ["12 125/128", "imperial", (12 + 125 / 128) * inch],
    ["5 ft 3 in", "imperial", 63 * inch],
    ["5ft3in", "imperial", 63 * inch],
    ["5 ft., 3 in.", "imperial", 63 * inch],
    ["5 Feet 3 Inches", "imperial", 63 * inch],
    ["1 foot", "imperial", 12 * inch],
    ["5 1/2'", "imperial", 66 * inch],
    ["2.5 ft", "metric", 30 * inch],
    ["-3 1/4", "imperial", -3.25 * inch],
    ["−1' 6\"", "imperial", -18 * inch],
    ["+4", "imperial", 4 * inch],
    ["0", "imperial", 0],
    ["-0", "metric", 0],
    [".5", "imperial", 0.5 * inch],
    ["5.", "imperial", 5 * inch],
    ["1.85 m", "metric", 1850],
    ["1.85 m", "imperial", 1850],
    ["1,85m", "metric", 1850],
    ["1 m 85 cm", "metric", 1850],
    ["1850", "metric", 1850],
    ["1850mm", "imperial", 1850],
    ["1 850,5 mm", "metric", 1850.5],
    ["1\u202F850,5 mm", "metric", 1850.5],
    ["123 456,7", "metric", 123_456.7],
    ["12 345,6", "metric", 12_345.6],
    ["18,5 cm", "metric", 185],
    ["1.850,5 mm", "metric", 1850.5],
    ["1,850.5 mm", "metric", 1850.5],
    ["1.850 m", "metric", 1850],
    ["0,125", "metric", 0.125],
    ["1234,500", "metric", 1234.5],
    ["1/2 m", "metric", 500],
    ["3 metres", "metric", 3000],
    ["3 meters", "metric", 3000],
    ["  7 \t", "metric", 7],
  ])("%s in a plan in %s units", (text, units, mm) => {
    const parsed = parseLength(text, units);
    if (!parsed.ok) throw new Error(parsed.message);
    expect(parsed.mm).toBeCloseTo(mm, 9);
    expect(Object.is(parsed.mm, -0)).toBe(false);
  });
});

describe("what is not understood is named", () => {
  test.each<[string, Units, string]>([
    ["", "metric", "a length is missing"],
    ["-", "metric", "a number is missing"],
    ["abc", "metric", '"abc" is not a number'],
    ["5 furlongs", "metric", '"furlongs" is not a unit of length'],
    ["5 5", "metric", '"5" is not understood'],
    ["34 1 / 2", "imperial", '"1 / 2" is not understood'],
    ["12 - 6", "imperial", '"- 6" is not understood'],
    ["1,850", "metric", '"1,850" could be 1850 or 1.850; write one of these'],
    ["1'850", "metric", "inches after feet are less than 12, found 850"],
    ["5' 14\"", "imperial", "inches after feet are less than 12, found 14"],
    ["3\" 5'", "imperial", '"5\'" is not understood after inches'],
    ["5' 3' 2\"", "imperial", '"3\' 2"" is not understood after feet'],
    ["5 ft 3 cm", "imperial", '"3 cm" is not understood after feet'],
    ["1 m 20", "metric", '"20" is not understood after metres'],
    ['6" 5', "imperial", '"5" is not understood after inches'],
    ["1/0", "imperial", '"1/0" divides by nothing'],
    ["1/", "imperial", '"1/" is not a fraction'],
    ["1/2/3", "imperial", '"/3" is not understood'],
    ["1.5/2", "imperial", '"1.5/2" is not a fraction'],
    ["34 3/2", "imperial", '"34 3/2" is not a whole number and a fraction'],
    ["1.5 1/2", "imperial", '"1.5 1/2" is not a whole number and a fraction'],
    ["1..2", "metric", '"1..2" is not a number'],
    ["1.2.3", "metric", '"1.2.3" is not a number'],
    ["1,85,0", "metric", '"1,85,0" is not a number'],
    [",", "metric", '"," is not a number'],
    ["1e3", "metric", '"e" is not a unit of length'],
    ["NaN", "metric", '"nan" is not a number'],
    ["Infinity", "metric", '"infinity" is not a number'],
    ["--5", "metric", '"-5" is not a number'],
    ["5 mm mm", "metric", '"mm" is not a number'],
    ["2000 m", "metric", "2000 m is longer than any plan"],
    ["9".repeat(61), "metric", "that is too long to be a length"],
  ])("%s in a plan in %s units", (text, units, message) => {
    expect(parseLength(text, units)).toEqual({ ok: false, message });
  });
});

test("parsing anything ends, without a throw, in a finite length or a sentence", () => {
  const pieces = fc.array(
    fc.constantFrom(
      "1",
      "12",
      "850",
      " ",
      ",",
      ".",
      "/",
      "-",
      "'",
      '"',
      "ft",
      "in",
      "m",
      "mm",
      "½",
      "e",
      "′",
      "”",
      "\u00A0",
    ),
    { maxLength: 25 },
  );
  fc.assert(
    fc.property(
      fc.oneof(
        fc.string({ unit: "binary" }),
        pieces.map((all) => all.join("")),
      ),
      fc.constantFrom<Units>("imperial", "metric"),
      (text, units) => {
        const parsed = parseLength(text, units);
        if (parsed.ok) expect(Math.abs(parsed.mm)).toBeLessThanOrEqual(1_000_000);
        else expect(parsed.message).not.toBe("");
      },
    ),
    { seed: 28, numRuns: 3000 },
  );
});

describe("what people read", () => {
  test.each<[number, Units, LengthFormat, string]>([
    [150.5 * inch, "imperial", {}, "12′ 6 1/2″"],
    [144 * inch, "imperial", {}, "12′ 0″"],
    [6.5 * inch, "imperial", {}, "6 1/2″"],
    [0.75 * inch, "imperial", {}, "3/4″"],
    [0, "imperial", {}, "0″"],
    [-0.1, "imperial", {}, "0″"],
    [-18.25 * inch, "imperial", {}, "−1′ 6 1/4″"],
    [(11 + 31 / 32) * inch, "imperial", { fraction: 32 }, "11 31/32″"],
    [(11 + 31.4 / 32) * inch, "imperial", { fraction: 16 }, "1′ 0″"],
    [(23 + 63.5 / 64) * inch, "imperial", { fraction: 32 }, "2′ 0″"],
    [(5 + 2 / 16) * inch, "imperial", {}, "5 1/8″"],
    [150.5 * inch, "imperial", { style: "inches" }, "150 1/2″"],
    [1850, "metric", {}, "1850 mm"],
    [1850, "metric", { style: "m" }, "1.85 m"],
    [1850, "metric", { style: "cm" }, "185 cm"],
    [18.26, "metric", {}, "18.3 mm"],
    [18.26, "metric", { style: "m" }, "0.0183 m"],
    [-7.5, "metric", {}, "−7.5 mm"],
    [-0.04, "metric", {}, "0 mm"],
    [100, "metric", { style: "m" }, "0.1 m"],
    [100_000, "metric", { style: "m" }, "100 m"],
    [Number.NaN, "metric", {}, "–"],
    [Number.POSITIVE_INFINITY, "imperial", {}, "–"],
  ])("%d mm in %s units %j", (mm, units, format, text) => {
    expect(formatLength(mm, units, format)).toBe(text);
  });
});

test("what was written is read back within half a step", () => {
  const length = fc.double({ min: -999_000, max: 999_000, noNaN: true });
  const step = fc.constantFrom<16 | 32>(16, 32);
  const style = fc.constantFrom<NonNullable<LengthFormat["style"]>>("feet", "inches", "mm", "cm", "m");
  fc.assert(
    fc.property(
      length,
      fc.constantFrom<Units>("imperial", "metric"),
      fc.constantFrom<Units>("imperial", "metric"),
      step,
      style,
      (mm, units, read, fraction, wanted) => {
        const text = formatLength(mm, units, { fraction, style: wanted });
        const parsed = parseLength(text, read);
        if (!parsed.ok) throw new Error(`${text}: ${parsed.message}`);
        const half = units === "imperial" ? inch / fraction / 2 : 0.05;
        expect(Math.abs(parsed.mm - mm)).toBeLessThanOrEqual(half + 1e-6);
        expect(formatLength(parsed.mm, units, { fraction, style: wanted })).toBe(text);
      },
    ),
    { seed: 29, numRuns: 2000 },
  );
});
