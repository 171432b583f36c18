import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { makePath } from "../../src/geometry/path.js";
import { centreThrow, endThrow, sweptThrows } from "../../src/geometry/throw.js";

interface Data {
  nem103: {
    ratio: Record<string, number>;
    gauge: Record<string, number>;
    bogiePitchMetres: Record<string, number>;
    bodyMm: Record<string, number>;
    wideningMm: Record<string, Record<string, number>>;
  };
  indianBroadGauge: Record<"bodyMm" | "centresMm" | "overthrowTimesRadius" | "endThrowTimesRadius", number>;
}
const data = JSON.parse(readFileSync(new URL("data/throws.json", import.meta.url), "utf8")) as Data;

describe("throws against published figures", () => {
  // Lecture notes on railway engineering (read in a search excerpt): C^2 / 8R and (L^2 - C^2) / 8R, approximate forms.
  it.each([
    [600, 300, 214],
    [380, 150, 107],
    [2000, 600, 400],
  ])("approach the approximate formulas on a radius of %d mm", (radius, length, centres) => {
    expect(centreThrow(radius, centres) / (centres ** 2 / (8 * radius))).toBeCloseTo(1, 1);
    expect(endThrow(radius, length, centres) / ((length ** 2 - centres ** 2) / (8 * radius))).toBeCloseTo(1, 1);
    const far = radius * 1000;
    expect(centreThrow(far, centres) / (centres ** 2 / (8 * far))).toBeCloseTo(1, 6);
    expect(endThrow(far, length, centres) / ((length ** 2 - centres ** 2) / (8 * far))).toBeCloseTo(1, 5);
  });

  // Indian Railways Schedule of Dimensions, 27330/R and 29600/R mm for R in metres (from memory, rounded to 10).
  it.each([175, 400, 875])("are the Indian broad gauge's on %d m", (metres) => {
    const { bodyMm, centresMm, overthrowTimesRadius, endThrowTimesRadius } = data.indianBroadGauge;
    const radius = metres * 1000;
    expect(centreThrow(radius, centresMm) * metres).toBeCloseTo(overthrowTimesRadius, -2);
    expect(endThrow(radius, bodyMm, centresMm) * metres).toBeCloseTo(endThrowTimesRadius, -2);
  });

  /*
   * NEM 103 (2016) prints a widening E in whole millimetres by radius and vehicle group, without its formula. For N and H0
   * it is the centre throw of the group's largest car less about a tenth of the gauge (the play the straight gauge
   * already holds), to within 1.2 mm in every cell and 1 mm in all but one: a relation found here, not stated by the standard.
   */
  const cells = Object.entries(data.nem103.wideningMm).flatMap(([column, rows]) =>
    Object.entries(rows).map(([radius, e]) => [column, Number(radius), e] as const),
  );
  it.each(cells)(
    "less a tenth of the gauge are the widening of NEM 103, column %s, radius %d mm",
    (column, radius, e) => {
      const [scale = "", group = ""] = column.split("_");
      const centres = ((data.nem103.bogiePitchMetres[group] ?? 0) * 1000) / (data.nem103.ratio[scale] ?? 1);
      const play = (data.nem103.gauge[scale] ?? 0) / 10;
      const expected = Math.max(0, centreThrow(radius, centres) - play);
      expect(Math.abs(expected - e)).toBeLessThan(1.2);
    },
  );

  it("of a car moved round a circle are those of the formulas", () => {
    for (const [column, radius] of cells.filter(([c, r]) => c.startsWith("H0") && r <= 800)) {
      const centres = ((data.nem103.bogiePitchMetres[column.slice(3)] ?? 0) * 1000) / 87;
      const car = { length: data.nem103.bodyMm[column] ?? 0, truckCentres: centres };
      const k = 1 / radius;
      const circle = makePath({ x: 0, y: 0, heading: 0 }, [{ length: 1200, k0: k, k1: k }]);
      const { left, right } = sweptThrows(circle, car, [580, 600, 607]);
      for (let i = 0; i < 3; i++) {
        expect(Math.abs((left[i] ?? 0) - centreThrow(radius, centres))).toBeLessThan(0.1);
        expect(Math.abs((right[i] ?? 0) - endThrow(radius, car.length, centres))).toBeLessThan(0.1);
      }
    }
  });
});
