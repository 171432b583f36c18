import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { offsetPoints, offsetSegment } from "../../src/geometry/offset.js";
import { curvatureAt, makePath, poseAt } from "../../src/geometry/path.js";
import { offsetPoint } from "../../src/geometry/pose.js";
import { anyPath, finite, SEED } from "./samples.js";

const lefts = finite(-140, 140);
const ORIGIN = { x: 0, y: 0, heading: 0.3 };

describe("a line beside a path", () => {
  it("lies at its offset, its chords within the sagitta, without folds where the path bends less sharply", () => {
    fc.assert(
      fc.property(anyPath, lefts, (path, left) => {
        const { points, stations, folds } = offsetPoints(path, left, 0.1);
        expect(folds).toEqual([]);
        expect(stations.at(-1)).toBeCloseTo(path.length, 9);
        for (let i = 1; i < points.length; i++) {
          const [a, b] = [points[i - 1], points[i]];
          const [sa, sb] = [stations[i - 1] ?? 0, stations[i] ?? 0];
          if (!a || !b) continue;
          const middle = offsetPoint(poseAt(path, (sa + sb) / 2), 0, left);
          const chord = Math.hypot(b.x - a.x, b.y - a.y);
          if (chord < 1e-6) continue;
          const away = Math.abs((b.x - a.x) * (middle.y - a.y) - (b.y - a.y) * (middle.x - a.x)) / chord;
          expect(away).toBeLessThan(0.1 + 1e-9);
        }
      }),
      { seed: SEED, numRuns: 200 },
    );
  });

  it("of a straight or circular segment is the segment through the offset poses", () => {
    for (const left of [-80, 0, 45]) {
      for (const k of [0, 0.01, -0.004]) {
        const g = { length: 900, k0: k, k1: k };
        const beside = offsetSegment(g, left);
        const path = makePath(ORIGIN, [g]);
        const start = { ...offsetPoint(ORIGIN, 0, left), heading: ORIGIN.heading };
        const end = makePath(start, beside ? [beside] : []).end;
        const wanted = offsetPoint(path.end, 0, left);
        expect(end.x).toBeCloseTo(wanted.x, 9);
        expect(end.y).toBeCloseTo(wanted.y, 9);
        expect(end.heading).toBeCloseTo(path.end.heading, 12);
      }
    }
  });

  it("has no segment for an easement or at the centre of a circle", () => {
    expect(offsetSegment({ length: 10, k0: 0, k1: 0.01 }, 5)).toBeUndefined();
    expect(offsetSegment({ length: 10, k0: 0.01, k1: 0.01 }, 100)).toBeUndefined();
  });

  it("reports where it folds, from the place on an easement where the radius equals the offset", () => {
    const path = makePath(ORIGIN, [
      { length: 100, k0: 0, k1: 0 },
      { length: 200, k0: 0, k1: 0.01 },
      { length: 50, k0: 0.01, k1: 0.01 },
      { length: 200, k0: 0.01, k1: 0 },
    ]);
    const { folds } = offsetPoints(path, 125, 0.1);
    expect(folds).toHaveLength(1);
    expect(folds[0]?.from).toBeCloseTo(260, 9);
    expect(folds[0]?.to).toBeCloseTo(390, 9);
    expect(curvatureAt(path, folds[0]?.from ?? 0)).toBeCloseTo(1 / 125, 12);
    expect(offsetPoints(path, -125, 0.1).folds).toEqual([]);
  });
});
