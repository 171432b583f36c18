import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  formatAngle,
  formatCount,
  formatGrade,
  parseAngle,
  parseCount,
  parseGrade,
} from "../../src/plan/grade-text.js";
import type { Typed } from "../../src/plan/typed-number.js";

const number = (typed: Typed<number>): number => {
  if (!typed.ok) throw new Error(typed.message);
  return typed.value;
};

describe("grades", () => {
  test.each([
    ["2.4 %", 2.4],
    ["2,4%", 2.4],
    ["2.4", 2.4],
    ["2 1/2 %", 2.5],
    ["1/2 %", 0.5],
    ["24 ‰", 2.4],
    ["1 in 40", 2.5],
    ["1 in 62,5", 1.6],
    ["1:40", 2.5],
    ["1/40", 2.5],
    ["2 IN 50", 4],
    ["-1 in 40", -2.5],
    ["−2.4 percent", -2.4],
    ["level", 0],
    ["-0", 0],
  ])("%s", (text, grade) => {
    expect(number(parseGrade(text))).toBeCloseTo(grade, 12);
  });
  test.each([
    ["", "a grade is missing"],
    ["steep", '"steep" is not a number'],
    ["1 in 0", "a grade of one in nothing is no grade"],
    ["1 in", "a number is missing"],
    ["1 in 40 %", '"in 40 %" is not understood'],
    ["1:40 or so", '"or so" is not understood'],
    ["2.4 °", '"°" is not understood'],
    ["120 %", "more than 100 % is beyond any plan"],
  ])("%s is refused", (text, message) => {
    expect(parseGrade(text)).toEqual({ ok: false, message });
  });
  test.each<[number, "percent" | "ratio", string]>([
    [2.4, "percent", "2.4 %"],
    [100 / 42, "percent", "2.38 %"],
    [-3, "percent", "−3 %"],
    [-0.001, "percent", "0 %"],
    [100 / 42, "ratio", "1 in 42"],
    [3.2, "ratio", "1 in 31.3"],
    [-0.5, "ratio", "−1 in 200"],
    [0, "ratio", "level"],
    [Number.NaN, "percent", "–"],
  ])("%d as %s", (grade, style, text) => {
    expect(formatGrade(grade, style)).toBe(text);
  });
});

describe("angles", () => {
  test.each([
    ["22.5", 22.5],
    ["22,5°", 22.5],
    ["22.5 deg", 22.5],
    ["90 degrees", 90],
    ["22° 30'", 22.5],
    ["22°30′", 22.5],
    ["-45", -45],
    ["1 080", 1080],
  ])("%s", (text, angle) => {
    expect(number(parseAngle(text))).toBeCloseTo(angle, 12);
  });
  test.each([
    ["", "an angle is missing"],
    ["22° 75'", '"75\'" is not understood after the degrees'],
    ["22° 30", '"30" is not understood after the degrees'],
    ["1 rad", '"rad" is not understood'],
    ["40000", "more than 36000 ° is beyond any plan"],
  ])("%s is refused", (text, message) => {
    expect(parseAngle(text)).toEqual({ ok: false, message });
  });
});

describe("counts", () => {
  test.each([
    ["12", 12],
    ["1 200", 1200],
    ["0", 0],
  ])("%s", (text, count) => {
    expect(number(parseCount(text))).toBe(count);
  });
  test.each([
    ["", "a number is missing"],
    ["1.5", '"1.5" is not a whole number'],
    ["-3", '"-3" is not a number'],
    ["12 cars", '"cars" is not understood'],
  ])("%s is refused", (text, message) => {
    expect(parseCount(text)).toEqual({ ok: false, message });
  });
  test("are written as they are", () => {
    expect([12, -3, 1234567].map(formatCount)).toEqual(["12", "−3", "1234567"]);
  });
});

test("what was written is read back within half a step", () => {
  fc.assert(
    fc.property(fc.double({ min: -100, max: 100, noNaN: true }), (value) => {
      expect(Math.abs(number(parseGrade(formatGrade(value))) - value)).toBeLessThanOrEqual(0.005 + 1e-9);
      expect(Math.abs(number(parseAngle(formatAngle(value))) - value)).toBeLessThanOrEqual(0.005 + 1e-9);
      // A run of up to 100 is written to a tenth, a longer one to a whole.
      const run = 100 / number(parseGrade(formatGrade(value, "ratio")));
      if (Math.abs(value) > 0.001)
        expect(Math.abs(run - 100 / value)).toBeLessThanOrEqual(Math.abs(100 / value) < 100 ? 0.05 + 1e-9 : 0.5 + 1e-6);
    }),
    { seed: 30, numRuns: 1000 },
  );
});
