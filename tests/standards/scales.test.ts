import { describe, expect, test } from "vitest";
import { inches, roundDown, roundTo } from "../../src/standards/cited.js";
import { BODIES, findScale, lengthFor, scalesOf, standardScale } from "../../src/standards/scales.js";

describe("findScale", () => {
  test.each([
    ["HO", "NMRA", "HO", 87.1],
    ["h0", "NMRA", "HO", 87.1],
    ["ho", "NEM", "H0", 87],
    ["O", "NMRA", "O", 48],
    ["0", "NEM", "0", 45],
    ["O 1:43.5", "NMRA", "O 1:43.5", 43.5],
    ["0 1:45", "NEM", "0", 45],
    ["n 1 : 148", "NMRA", "N 1:148", 148],
    ["N1:150", "NEM", "N 1:150", 150],
    ["00", "NEM", "00", 76],
    ["tt", "NEM", "TT", 120],
  ] as const)("%s for %s is %s, 1:%d", (typed, body, name, ratio) => {
    expect(findScale(typed, body)).toMatchObject({ name, body, ratio });
  });

  test.each(["", "G", "HOn3", "1:87", "HO 1:90", "__proto__", "constructor", "N 1:"])(
    "%j is no scale here",
    (typed) => {
      expect(findScale(typed, "NMRA")).toBeUndefined();
    },
  );

  test.each(BODIES)("every scale of %s is found by its own name", (body) => {
    for (const scale of scalesOf(body)) expect(findScale(scale.name, body)).toBe(scale);
    const names = scalesOf(body).map((scale) => scale.name);
    expect(new Set(names).size).toBe(names.length);
  });

  test.each(BODIES)("a larger scale of %s never has the narrower gauge", (body) => {
    const gauges = [...scalesOf(body)].sort((a, b) => b.ratio - a.ratio).map((scale) => scale.gauge);
    expect(gauges).toEqual([...gauges].sort((a, b) => a - b));
  });
});

describe("lengthFor", () => {
  const table = {
    HO: { value: 50, source: "a sheet", known: "read" },
    N: { value: 28, source: "a sheet", known: "read" },
  } as const;

  test("its own row, as read", () => {
    expect(lengthFor(standardScale("N", "NEM"), table, "NEM")).toBe(table.N);
    // 1:87 against 1:87.1 is one scale.
    expect(lengthFor(standardScale("HO", "NEM"), table, "NMRA")).toBe(table.HO);
  });

  test.each([
    ["Z", 20.4, "N"],
    ["S", 68, "HO"],
  ] as const)("%s takes the nearest row, scaled, and says so", (name, value, from) => {
    const figure = lengthFor(standardScale(name, "NMRA"), table, "NMRA");
    expect(figure.value).toBe(value);
    expect(figure.known).toBe("derived");
    expect(figure.how).toMatch(new RegExp(`^${from}'s .* scaled by`));
  });

  test("a variant scales its own row", () => {
    const variant = findScale("N 1:148", "NEM");
    expect(variant && lengthFor(variant, table, "NEM").value).toBe(30.3);
  });
});

test("rounding leaves no crumbs", () => {
  expect(inches(12)).toBe(304.8);
  expect(roundTo(0.30000000000000004, 0.1)).toBe(0.3);
  expect(roundDown(inches(30), inches(0.5))).toBe(762);
  expect(roundDown(761.9, inches(0.5))).toBe(749.3);
});
