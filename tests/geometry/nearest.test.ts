import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { nearestOnPath } from "../../src/geometry/nearest.js";
import { makePath, poseAt } from "../../src/geometry/path.js";
import { distance, offsetPoint } from "../../src/geometry/pose.js";
import { anyPath, anyPoint, anyPose, anySegment, finite, SEED } from "./samples.js";

const ORIGIN = { x: 0, y: 0, heading: 0 };

describe("nearest place on a path", () => {
  it("is no further than any place sampled, and the pose there is as far as said", () => {
    fc.assert(
      fc.property(anyPath, anyPoint, (path, point) => {
        const near = nearestOnPath(path, point);
        expect(near.s).toBeGreaterThanOrEqual(0);
        expect(near.s).toBeLessThanOrEqual(path.length);
        expect(Math.abs(distance(poseAt(path, near.s), point) - near.distance)).toBeLessThan(1e-9);
        const n = 300;
        for (let i = 0; i <= n; i++) {
          expect(distance(poseAt(path, (path.length * i) / n), point)).toBeGreaterThan(near.distance - 1e-9);
        }
      }),
      { seed: SEED, numRuns: 150 },
    );
  });

  it("finds the minimum near the best sample to 1e-9, also close to the path and near centres of curvature", () => {
    const along = finite(0, 1);
    const left = finite(-400, 400);
    fc.assert(
      fc.property(
        anyPose,
        fc.array(anySegment, { minLength: 1, maxLength: 3 }),
        along,
        left,
        (start, segments, t, l) => {
          const path = makePath(start, segments);
          const point = offsetPoint(poseAt(path, path.length * t), 0, l);
          const near = nearestOnPath(path, point);
          let best = { s: 0, d: Number.POSITIVE_INFINITY };
          const offer = (s: number) => {
            const d = distance(poseAt(path, s), point);
            if (d < best.d) best = { s, d };
          };
          for (let i = 0; i <= 800; i++) offer((path.length * i) / 800);
          for (let h = path.length / 800; h > 1e-7; h /= 4) {
            const middle = best.s;
            for (let i = -4; i <= 4; i++) offer(middle + (h * i) / 4);
          }
          expect(near.distance).toBeLessThan(best.d + 1e-9);
          expect(near.distance).toBeLessThan(Math.abs(l) + 1e-9);
        },
      ),
      { seed: SEED, numRuns: 150 },
    );
  });

  it.each([
    ["beside a straight", [{ length: 100, k0: 0, k1: 0 }], { x: 30, y: 40 }, { s: 30, distance: 40, left: 40 }],
    ["beyond its end", [{ length: 100, k0: 0, k1: 0 }], { x: 103, y: -4 }, { s: 100, distance: 5, left: -4 }],
    ["before its start", [{ length: 100, k0: 0, k1: 0 }], { x: -3, y: 4 }, { s: 0, distance: 5, left: 4 }],
    [
      "centre of a circle",
      [{ length: 1000, k0: 0.01, k1: 0.01 }],
      { x: 0, y: 100 },
      { s: 0, distance: 100, left: 100 },
    ],
    [
      "five turns of a helix to the right",
      [{ length: 1000 * Math.PI, k0: -0.01, k1: -0.01 }],
      { x: -150, y: -100 },
      { s: 150 * Math.PI, distance: 50, left: 50 },
    ],
    ["no length", [], { x: 3, y: 4 }, { s: 0, distance: 5, left: 4 }],
  ])("%s", (_, segments, point, expected) => {
    const near = nearestOnPath(makePath(ORIGIN, segments), point);
    expect(near.s).toBeCloseTo(expected.s, 9);
    expect(near.distance).toBeCloseTo(expected.distance, 9);
    expect(near.left).toBeCloseTo(expected.left, 9);
  });

  it("answers with the first turn of an eased helix that repeats itself", () => {
    const k = 1 / 500;
    const helix = makePath(ORIGIN, [
      { length: 200, k0: 0, k1: k },
      { length: 6 * Math.PI * 500, k0: k, k1: k },
    ]);
    const point = offsetPoint(poseAt(helix, 1000), 0, -20);
    expect(nearestOnPath(helix, point).s).toBeCloseTo(1000, 8);
  });

  it("keeps a point that is not a number out of the answer's distance along", () => {
    const near = nearestOnPath(makePath(ORIGIN, [{ length: 10, k0: 0, k1: 0.01 }]), { x: Number.NaN, y: 0 });
    expect(near.distance).toBeNaN();
    expect(near.s).toBe(0);
  });
});
