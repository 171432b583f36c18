import { Bezier } from "bezier-js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { pathToBeziers } from "../../src/geometry/bezier.js";
import { nearestOnPath } from "../../src/geometry/nearest.js";
import { makePath } from "../../src/geometry/path.js";
import { distance } from "../../src/geometry/pose.js";
import { anyPath, SEED } from "./samples.js";

describe("a path as cubic Bezier curves", () => {
  it("stays within the error stated, and that within the tolerance; curves join and keep tangents", () => {
    fc.assert(
      fc.property(anyPath, fc.constantFrom(1, 0.05, 0.001), (path, tolerance) => {
        const { curves, error } = pathToBeziers(path, tolerance);
        expect(error).toBeLessThanOrEqual(tolerance);
        let from = { x: path.start.x, y: path.start.y };
        let length = 0;
        for (const [a, b, c, d] of curves) {
          expect(distance(from, a)).toBeLessThan(1e-8);
          const bezier = new Bezier([a, b, c, d].map((p) => ({ ...p })));
          for (let t = 0; t <= 1; t += 1 / 60) {
            expect(nearestOnPath(path, bezier.get(t)).distance).toBeLessThanOrEqual(error + 1e-8);
          }
          length += bezier.length();
          from = d;
        }
        expect(distance(from, path.end)).toBeLessThan(1e-8);
        expect(Math.abs(length - path.length)).toBeLessThan(tolerance * 2 * Math.max(1, curves.length));
        for (let i = 1; i < curves.length; i++) {
          const [before, after] = [curves[i - 1], curves[i]];
          if (!before || !after) continue;
          const u = Math.atan2(before[3].y - before[2].y, before[3].x - before[2].x);
          const v = Math.atan2(after[1].y - after[0].y, after[1].x - after[0].x);
          expect(Math.abs(Math.sin(u - v))).toBeLessThan(2e-6);
        }
      }),
      { seed: SEED, numRuns: 60 },
    );
  });

  it("draws a quarter circle with the usual handle and its known error", () => {
    const { curves, error } = pathToBeziers(
      makePath({ x: 0, y: 0, heading: 0 }, [{ length: 500 * Math.PI, k0: 1e-3, k1: 1e-3 }]),
      1,
    );
    expect(curves).toHaveLength(1);
    // 4/3 tan(90/4 degrees) = 0.5522847; greatest radial error of that curve 2.7253e-4 of the radius (elementary).
    expect(curves[0]?.[1].x).toBeCloseTo(552.2847498, 6);
    expect(error).toBeGreaterThan(0.27253);
    expect(error).toBeLessThan(0.31);
  });

  it("has no curves for a path without length", () => {
    expect(pathToBeziers(makePath({ x: 0, y: 0, heading: 0 }, []), 0.1)).toEqual({ curves: [], error: 0 });
  });
});
