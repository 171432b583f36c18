import { Bezier } from "bezier-js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fitCurvature } from "../../src/geometry/curvature-fit.js";
import { FLEX_TOLERANCE, flexPath } from "../../src/geometry/flex.js";
import { nearestOnPath } from "../../src/geometry/nearest.js";
import { curvatureAt, makePath, poseAt } from "../../src/geometry/path.js";
import { bearing, distance, offsetPoint } from "../../src/geometry/pose.js";
import { wrapAngle } from "../../src/geometry/units.js";
import { anyPose, finite, SEED } from "./samples.js";

const away = (reach: number) =>
  fc.record({
    x: finite(-reach, reach),
    y: finite(-reach, reach),
  });

describe("hand-laid track", () => {
  it("follows its curve within tolerance, ends exactly, and its curvature does not jump", () => {
    let laid = 0;
    fc.assert(
      fc.property(anyPose, finite(50, 600), away(900), away(300), (start, h, to, back) => {
        const c1 = offsetPoint(start, h, 0);
        const end = offsetPoint(start, to.x, to.y);
        const c2 = { x: end.x + back.x, y: end.y + back.y };
        const path = flexPath(start, c1, c2, end);
        if (!path) return;
        laid++;
        expect(distance(path.end, end)).toBeLessThan(1e-6);
        expect(Math.abs(wrapAngle(path.end.heading - bearing(c2, end)))).toBeLessThan(1e-9);
        expect(path.start).toEqual(start);
        const curve = new Bezier([{ x: start.x, y: start.y }, c1, c2, end]);
        for (let t = 0; t <= 1; t += 1 / 200) {
          expect(nearestOnPath(path, curve.get(t)).distance).toBeLessThan(FLEX_TOLERANCE);
        }
        expect(Math.abs(path.length - curve.length())).toBeLessThan(0.1 + path.length * 1e-3);
        path.segments.slice(1).forEach((g, i) => {
          expect(g.k0).toBe(path.segments[i]?.k1);
        });
      }),
      { seed: SEED, numRuns: 120 },
    );
    expect(laid).toBeGreaterThan(100);
  });

  it("turns the first handle to the heading of the start and keeps its length", () => {
    const start = { x: 10, y: 20, heading: 0.4 };
    const askew = flexPath(start, { x: 10, y: 320 }, { x: 900, y: 500 }, { x: 1200, y: 500 });
    const turned = flexPath(start, offsetPoint(start, 300, 0), { x: 900, y: 500 }, { x: 1200, y: 500 });
    expect(askew?.length).toBeCloseTo(turned?.length ?? 0, 9);
    expect(askew?.start).toEqual(start);
  });

  it("needs few segments for a curve with handles as they are usually drawn", () => {
    const path = flexPath({ x: 0, y: 0, heading: 0 }, { x: 300, y: 0 }, { x: 600, y: 100 }, { x: 800, y: 300 });
    expect(path?.segments.length).toBeLessThanOrEqual(4);
  });

  it("lays a straight curve as one straight", () => {
    const path = flexPath({ x: 0, y: 0, heading: 0 }, { x: 100, y: 0 }, { x: 200, y: 0 }, { x: 300, y: 0 });
    expect(path?.segments).toHaveLength(1);
    expect(path?.length).toBeCloseTo(300, 9);
    expect(curvatureAt(path ?? makePath({ x: 0, y: 0, heading: 0 }, []), 150)).toBeCloseTo(0, 12);
  });

  it.each([
    ["a first handle without length", [0, 0], [500, 100], [600, 300]],
    ["a last handle without length", [100, 0], [600, 300], [600, 300]],
    ["all points in one place", [0, 0], [0, 0], [0, 0]],
    ["a straight that turns back on itself", [400, 0], [-200, 0], [100, 0]],
    ["a cusp", [300, 300], [0, 300], [300, 0]],
    ["a point that is not a number", [Number.NaN, 0], [100, 0], [200, 0]],
    ["a point at infinity", [100, 0], [100, 0], [Number.POSITIVE_INFINITY, 0]],
    ["points beyond what can be squared", [1e200, 0], [1e201, 5e200], [1e201, 0]],
  ])("lays nothing for %s", (_, c1, c2, end) => {
    const point = ([x = 0, y = 0]: number[]) => ({ x, y });
    const start = { x: 0, y: 0, heading: Math.atan2(c1[1] ?? 0, c1[0] ?? 0) };
    expect(flexPath(start, point(c1), point(c2), point(end))).toBeUndefined();
  });
});

describe("a path through known curvatures", () => {
  it("gives back a path whose curvatures and end it was given", () => {
    const k = 1 / 400;
    const path = makePath({ x: 5, y: 6, heading: 1 }, [
      { length: 200, k0: 0, k1: k },
      { length: 300, k0: k, k1: k },
      { length: 200, k0: k, k1: 0 },
    ]);
    const nodes = [0, 100, 200, 350, 500, 600, 700].map((s) => ({ s, k: curvatureAt(path, s) }));
    for (const keepEnds of [true, false]) {
      const fit = fitCurvature(path.start, nodes, path.end, keepEnds);
      expect(fit?.length).toBeCloseTo(700, 6);
      const moved = fitCurvature(
        path.start,
        nodes,
        { ...path.end, x: path.end.x + 2, heading: path.end.heading - 0.003 },
        keepEnds,
      );
      expect(distance(poseAt(moved ?? path, 1e9), path.end)).toBeCloseTo(2, 6);
    }
  });

  it("has none for an end out of reach or too few curvatures", () => {
    const start = { x: 0, y: 0, heading: 0 };
    expect(fitCurvature(start, [{ s: 0, k: 0 }], start)).toBeUndefined();
    expect(
      fitCurvature(
        start,
        [
          { s: 0, k: 0 },
          { s: 10, k: 0 },
        ],
        { x: 500, y: 0, heading: 0 },
      ),
    ).toBeUndefined();
  });
});
