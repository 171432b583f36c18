import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { POINTS_JOINT_OVER_GAUGE, turnoutDimensions } from "../../src/standards/turnouts.js";

const SEED = { seed: 20240611, numRuns: 300 };
const number = fc.double({ min: 2, max: 40, noNaN: true });
const gauge = fc.double({ min: 6, max: 45, noNaN: true });

/** From the points to where the lead curve leaves the through route. */
const departs = (t: ReturnType<typeof turnoutDimensions>) =>
  t.lead - t.intersectionToFrog - t.leadRadius * Math.tan(t.angle / 2);

describe("turnoutDimensions", () => {
  test("in proportion to the gauge", () => {
    fc.assert(
      fc.property(number, gauge, (n, g) => {
        const one = turnoutDimensions(9, n);
        const other = turnoutDimensions(g, n);
        for (const key of [
          "lead",
          "frogToe",
          "frogHeel",
          "leadRadius",
          "pointsJoint",
          "heelJoint",
          "intersectionToFrog",
        ] as const)
          expect(other[key]).toBeCloseTo((one[key] * g) / 9, 6);
        expect(other.angle).toBe(one.angle);
      }),
      SEED,
    );
  });

  test("the lead curve departs after the points' joint and ends at the frog's toe", () => {
    fc.assert(
      fc.property(number, gauge, (n, g) => {
        const t = turnoutDimensions(g, n);
        expect(departs(t)).toBeGreaterThan(-t.pointsJoint);
        expect(t.leadRadius * Math.tan(t.angle / 2)).toBeLessThanOrEqual(t.intersectionToFrog - t.frogToe + 1e-6);
        expect(t.leadRadius).toBeGreaterThan(0);
        expect(t.heelJoint).toBeGreaterThan(t.frogHeel);
      }),
      SEED,
    );
  });

  test("two of a number make a crossover at the closest straight centres, NEM 112's 46 mm in 16.5 mm gauge", () => {
    fc.assert(
      fc.property(fc.double({ min: 4, max: 20, noNaN: true }), gauge, (n, g) => {
        const t = turnoutDimensions(g, n);
        const centres = (46 / 16.5) * g;
        const betweenIntersections = centres / Math.sin(t.angle);
        expect(2 * (t.intersectionToFrog + t.heelJoint)).toBeLessThan(betweenIntersections);
      }),
      SEED,
    );
  });

  test("a higher number is longer and gentler", () => {
    fc.assert(
      fc.property(number, fc.double({ min: 0.01, max: 5, noNaN: true }), (n, more) => {
        const small = turnoutDimensions(16.5, n);
        const large = turnoutDimensions(16.5, n + more);
        expect(large.angle).toBeLessThan(small.angle);
        expect(large.leadRadius).toBeGreaterThan(small.leadRadius);
        expect(large.lead + large.heelJoint).toBeGreaterThan(small.lead + small.heelJoint);
      }),
      SEED,
    );
  });

  test.each([4, 5, 6, 7])("no jump from the printed No. %d to its neighbours", (n) => {
    // The formula and the printed lead differ by the sheet's rounding.
    for (const near of [n - 1e-9, n + 1e-9])
      expect(Math.abs(turnoutDimensions(9, near).lead - turnoutDimensions(9, n).lead)).toBeLessThan(0.75);
  });

  test("No. 6 in 9 mm gauge departs farthest before its points, within the points' joint", () => {
    const t = turnoutDimensions(9, 6);
    expect(departs(t)).toBeCloseTo(-15.5, 9);
    expect(-departs(t) / 9).toBeLessThan(POINTS_JOINT_OVER_GAUGE);
  });

  test.each([
    [9, 6, "read", undefined],
    [16.5, 6, "derived", "No. 6, scaled from 9 mm to 16.5 mm gauge"],
    [9, 8, "derived", "not in its table: the parts of No. 7 in proportion to the number, lead by formula"],
    [9, 5.5, "derived", "not in its table: between its neighbours, lead by formula"],
  ] as const)("gauge %d, No. %d is known: %s", (g, n, known, how) => {
    const t = turnoutDimensions(g, n);
    expect(t.known).toBe(known);
    expect(t.how).toBe(how);
  });
});
