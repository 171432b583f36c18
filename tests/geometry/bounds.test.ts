import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { pathBounds } from "../../src/geometry/bounds.js";
import { makePath, poseAt } from "../../src/geometry/path.js";
import { anyPath, SEED } from "./samples.js";

describe("bounds of a path", () => {
  it("hold every pose and touch the path on each side", () => {
    fc.assert(
      fc.property(anyPath, (path) => {
        const box = pathBounds(path);
        const n = 1500;
        const seen = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity };
        for (let i = 0; i <= n; i++) {
          const p = poseAt(path, (path.length * i) / n);
          seen.minX = Math.min(seen.minX, p.x);
          seen.minY = Math.min(seen.minY, p.y);
          seen.maxX = Math.max(seen.maxX, p.x);
          seen.maxY = Math.max(seen.maxY, p.y);
        }
        // Between samples a curve of radius 150 mm reaches at most h^2 / 8R further where it is smooth; at a segment border inside a step no more than half a step.
        const step = path.length / n;
        for (const side of ["minX", "minY"] as const) {
          expect(box[side]).toBeLessThanOrEqual(seen[side] + 1e-9);
          expect(box[side]).toBeGreaterThan(seen[side] - (step * step) / 150 - 1e-9);
        }
        for (const side of ["maxX", "maxY"] as const) {
          expect(box[side]).toBeGreaterThanOrEqual(seen[side] - 1e-9);
          expect(box[side]).toBeLessThan(seen[side] + (step * step) / 150 + 1e-9);
        }
      }),
      { seed: SEED, numRuns: 200 },
    );
  });

  it.each([
    ["a full circle", 0, [{ length: 200 * Math.PI, k0: 0.01, k1: 0.01 }], [-100, 0, 100, 200]],
    ["four turns to the right", 0, [{ length: 800 * Math.PI, k0: -0.01, k1: -0.01 }], [-100, -200, 100, 0]],
    ["a straight up the sheet", Math.PI / 2, [{ length: 50, k0: 0, k1: 0 }], [0, 0, 0, 50]],
    ["no length", 1, [], [0, 0, 0, 0]],
  ])("%s", (_, heading, segments, [minX, minY, maxX, maxY]) => {
    const box = pathBounds(makePath({ x: 0, y: 0, heading }, segments));
    expect(box.minX).toBeCloseTo(minX ?? 0, 9);
    expect(box.minY).toBeCloseTo(minY ?? 0, 9);
    expect(box.maxX).toBeCloseTo(maxX ?? 0, 9);
    expect(box.maxY).toBeCloseTo(maxY ?? 0, 9);
  });
});
