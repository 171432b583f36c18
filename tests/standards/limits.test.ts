import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { carThrow, longestCar } from "../../src/standards/cars.js";
import { curveCentres, straightCentres } from "../../src/standards/centres.js";
import { easementFor, easementShift } from "../../src/standards/easements.js";
import { curveDrag } from "../../src/standards/grades.js";
import { leastRadius } from "../../src/standards/radii.js";
import { BODIES, scalesOf, standardScale } from "../../src/standards/scales.js";

const SEED = { seed: 20240611, numRuns: 200 };
const everyScale = BODIES.flatMap((body) => scalesOf(body).map((scale) => [body, scale.name, scale] as const));
/** Radii of HO, mm, from sharper than any standard to a broad curve. */
const radiusHO = fc.double({ min: 250, max: 6000, noNaN: true });
/** Values are rounded to 0.1 mm, so two of them may stand in the wrong order by that much. */
const ROUNDING = 0.1 + 1e-9;

describe.each(everyScale)("%s %s", (_body, _name, scale) => {
  const size = 87.1 / scale.ratio;

  test("centres on curves grow with curvature, never below the straight", () => {
    fc.assert(
      fc.property(radiusHO, fc.double({ min: 1, max: 2, noNaN: true }), (radius, wider) => {
        const tight = curveCentres(scale, radius * size)?.value ?? Number.NaN;
        const broad = curveCentres(scale, radius * wider * size)?.value ?? Number.NaN;
        expect(broad).toBeLessThanOrEqual(tight + ROUNDING);
        expect(broad).toBeGreaterThanOrEqual(straightCentres(scale).value - 1e-9);
      }),
      SEED,
    );
  });

  test("a wider curve never asks for a shorter easement, and no easement turns further than 43 degrees of its curve", () => {
    fc.assert(
      fc.property(radiusHO, fc.double({ min: 1, max: 2, noNaN: true }), (radius, wider) => {
        const tight = easementFor(scale, radius * size).value;
        expect(easementFor(scale, radius * wider * size).value).toBeGreaterThanOrEqual(tight - ROUNDING);
        expect(tight / (radius * size)).toBeLessThan(0.75);
      }),
      SEED,
    );
  });

  test("least radii: main above branch, branch not below yard, all passable by the longest car", () => {
    const [main, branch, yard, spur] = (["main", "branch", "yard", "spur"] as const).map(
      (use) => leastRadius(scale, use).value,
    );
    expect(main).toBeGreaterThan(branch ?? Number.NaN);
    expect(branch).toBeGreaterThanOrEqual(yard ?? Number.NaN);
    expect(carThrow(longestCar(scale).value, spur ?? 0)).toBeDefined();
  });

  test("a curve drags as much as the same curve in HO", () => {
    // Rounding of both figures to 0.1.
    expect(curveDrag(scale).value / (762 * size)).toBeCloseTo(32 / 30, 3);
  });
});

describe("carThrow", () => {
  const car = { length: 300, truckCentres: 210 };
  test("agrees with b²/8R and (B²-b²)/8R on broad curves", () => {
    const hang = carThrow(car, 5000);
    expect(hang?.inside).toBeCloseTo(210 ** 2 / 40000, 3);
    expect(hang?.outside).toBeCloseTo((300 ** 2 - 210 ** 2) / 40000, 2);
  });
  test("none on the straight; undefined where the trucks cannot stand", () => {
    expect(carThrow(car, Number.POSITIVE_INFINITY)).toEqual({ inside: 0, outside: 0 });
    for (const radius of [104, 0, -700, Number.NaN]) expect(carThrow(car, radius)).toBeUndefined();
    expect(carThrow(car, 105)).toBeDefined();
    expect(curveCentres(standardScale("HO", "NMRA"), 100)).toBeUndefined();
  });
});

test("no easement shifts nothing", () => {
  expect(easementShift(0, 700)).toBe(0);
});
