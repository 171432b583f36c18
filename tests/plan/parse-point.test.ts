import { expect, test } from "vitest";
import { formatPoint, parsePoint } from "../../src/plan/parse-point.js";

test.each([
  [`5', 0`, "imperial", 1524, 0],
  [`5' 6", 3' 2 1/2"`, "imperial", 1676.4, 977.9],
  ["12, -4", "imperial", 304.8, -101.6],
  ["1200, 850", "metric", 1200, 850],
  ["1,5 m; 0,85 m", "metric", 1500, 850],
  ["1.5 m,85 cm", "imperial", 1500, 850],
] as const)("%s in %s units", (text, units, x, y) => {
  const read = parsePoint(text, units);
  expect(read.ok && [read.point.x, read.point.y]).toEqual([expect.closeTo(x, 6), expect.closeTo(y, 6)]);
});

test.each(["", "5", "1, 2, 3", "1; 2; 3", "one, 2", "1, two"])("%j is no point", (text) => {
  expect(parsePoint(text, "metric").ok).toBe(false);
});

test("what is written is read again", () => {
  for (const units of ["imperial", "metric"] as const) {
    for (const point of [
      { x: 1524, y: 977.9 },
      { x: -304.8, y: 12.7 },
    ]) {
      const read = parsePoint(formatPoint(point, units), units);
      expect(read.ok && [read.point.x, read.point.y]).toEqual([expect.closeTo(point.x, 0), expect.closeTo(point.y, 0)]);
    }
  }
});
