import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  curvatureAt,
  joinPaths,
  makePath,
  NO_LENGTH,
  poseAt,
  reversePath,
  samplePath,
  segmentIndexAt,
  slicePath,
  splitPath,
  stationsBySagitta,
} from "../../src/geometry/path.js";
import { distance, localPoint, type Pose, reversePose, samePose, toLocal, toWorld } from "../../src/geometry/pose.js";
import { positiveAngle, wrapAngle } from "../../src/geometry/units.js";
import { anyPath, anyPose, finite, SEED, straightOf } from "./samples.js";

const RUNS = { seed: SEED, numRuns: 300 };
const part = finite(0, 1);
/** Whole paths of ten metres and more at several metres from the origin. */
const MM = 1e-8;
const RAD = 1e-9;
/** What slicing may leave out at either end. */
const SLIVER = 1e-9;
const same = (a: Pose, b: Pose): boolean => samePose(a, b, MM, RAD);

describe("a path", () => {
  it("ends where its length leads", () =>
    fc.assert(
      fc.property(anyPath, (p) => {
        expect(same(poseAt(p, p.length), p.end)).toBe(true);
        expect(same(poseAt(p, p.length + 50), p.end)).toBe(true);
        expect(same(poseAt(p, -50), p.start)).toBe(true);
        expect(p.stations.at(-1)).toBe(p.length);
        expect(p.poses).toHaveLength(p.segments.length);
      }),
      RUNS,
    ));

  it("reversed leads back, by the same places and the opposite curvature", () =>
    fc.assert(
      fc.property(anyPath, part, (p, at) => {
        const back = reversePath(p);
        const s = at * p.length;
        expect(same(back.end, reversePose(p.start))).toBe(true);
        expect(back.length).toBeCloseTo(p.length, 9);
        expect(same(poseAt(back, p.length - s), reversePose(poseAt(p, s)))).toBe(true);
        const again = reversePath(back);
        expect(same(again.start, p.start) && same(again.end, p.end)).toBe(true);
        const inside = p.stations.every((border) => Math.abs(border - s) > 1e-6);
        if (inside) expect(curvatureAt(back, p.length - s)).toBeCloseTo(-curvatureAt(p, s), 9);
      }),
      RUNS,
    ));

  it("split keeps its length, and its parts together lead where it leads", () =>
    fc.assert(
      fc.property(anyPath, part, (p, at) => {
        const [a, b] = splitPath(p, at * p.length);
        expect(Math.abs(a.length + b.length - p.length)).toBeLessThan(2 * SLIVER);
        expect(same(a.end, b.start)).toBe(true);
        expect(same(joinPaths(a, b).end, p.end)).toBe(true);
      }),
      RUNS,
    ));

  it("sliced follows the whole", () =>
    fc.assert(
      fc.property(anyPath, part, part, part, (p, u, v, at) => {
        const [from, to] = [Math.min(u, v) * p.length, Math.max(u, v) * p.length];
        const slice = slicePath(p, from, to);
        expect(Math.abs(slice.length - (to - from))).toBeLessThan(3 * SLIVER);
        expect(same(poseAt(slice, at * slice.length), poseAt(p, from + at * slice.length))).toBe(true);
      }),
      RUNS,
    ));

  it("sampled stays within its sagitta and keeps its borders", () =>
    fc.assert(
      fc.property(anyPath, finite(0.05, 20), (p, sagitta) => {
        const stations = stationsBySagitta(p, sagitta, 400);
        for (const border of p.stations) {
          expect(stations.some((s) => Math.abs(s - border) < 1e-6)).toBe(true);
        }
        stations.slice(1).forEach((to, i) => {
          const from = stations[i] ?? 0;
          expect(to - from).toBeLessThanOrEqual(400 + 1e-9);
          const [a, b, middle] = [poseAt(p, from), poseAt(p, to), poseAt(p, (from + to) / 2)];
          const chord = { ...a, heading: Math.atan2(b.y - a.y, b.x - a.x) };
          if (distance(a, b) > 1) expect(Math.abs(localPoint(chord, middle).y)).toBeLessThanOrEqual(sagitta + 1e-6);
        });
      }),
      { ...RUNS, numRuns: 100 },
    ));

  it("keeps whole segments as they are when it is sliced", () => {
    const p = makePath({ x: 0, y: 0, heading: 0 }, [
      straightOf(100),
      { length: 100, k0: 0, k1: 0.001 },
      straightOf(50),
    ]);
    expect(slicePath(p, 50, 210).segments[1]).toBe(p.segments[1]);
  });

  it("of no segments is a place", () => {
    const start = { x: 1, y: 2, heading: 3 };
    const p = makePath(start, [straightOf(0), straightOf(NO_LENGTH / 2)]);
    expect(p).toMatchObject({ segments: [], length: 0, end: start, stations: [0] });
    expect(segmentIndexAt(p, 0)).toBe(-1);
    expect([poseAt(p, 5), curvatureAt(p, 5)]).toEqual([start, 0]);
    expect(samplePath(p, 1)).toEqual([start]);
    expect(splitPath(p, 0).map((q) => q.length)).toEqual([0, 0]);
    expect(reversePath(p).length).toBe(0);
  });

  it("asked for a sagitta of nothing still has an end of points", () => {
    const p = makePath({ x: 0, y: 0, heading: 0 }, [{ length: 100, k0: 0.01, k1: 0.01 }]);
    expect(samplePath(p, 0).length).toBeLessThan(1000);
  });
});

describe("poses and angles", () => {
  it("seen from a frame and put back are themselves", () =>
    fc.assert(
      fc.property(anyPose, anyPose, (f, p) => {
        expect(same(toWorld(f, toLocal(f, p)), p)).toBe(true);
        expect(same(reversePose(reversePose(p)), p)).toBe(true);
      }),
      RUNS,
    ));

  it.each([
    [Math.PI, Math.PI, Math.PI],
    [-Math.PI, Math.PI, Math.PI],
    [3 * Math.PI, Math.PI, Math.PI],
    [-1e-17, -1e-17, 0],
    [2 * Math.PI, 0, 0],
    [-Math.PI / 2, -Math.PI / 2, 1.5 * Math.PI],
  ])("%s wraps to %s and %s", (angle, wrapped, positive) => {
    expect(wrapAngle(angle)).toBeCloseTo(wrapped, 14);
    expect(positiveAngle(angle)).toBeCloseTo(positive, 14);
  });
});
