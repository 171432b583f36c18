import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { nearestOnPath } from "../../src/geometry/nearest.js";
import { makePath, type Path, poseAt, reversePath, slicePath } from "../../src/geometry/path.js";
import { distance, type Point } from "../../src/geometry/pose.js";
import { mirrorSegment } from "../../src/geometry/segment.js";
import { centreThrow, endThrow, sweptThrows } from "../../src/geometry/throw.js";
import { anyPath, easedCurve, finite, SEED, straightOf } from "./samples.js";

const ORIGIN = { x: 7, y: -3, heading: 0.5 };
const CAR = { length: 300, truckCentres: 214 };

const every = (path: Path, step: number) =>
  Array.from({ length: Math.floor(path.length / step) + 1 }, (_, i) => i * step);

/** Reach at s found the slow way: cars at fine steps, trucks by bisection, body points by nearest place. */
function slowReach(path: Path, s: number): { left: number; right: number } {
  const reach = { left: 0, right: 0 };
  const { length, truckCentres } = CAR;
  for (let rear = s - length; rear <= s + length / 2; rear += 2) {
    if (rear < 0 || rear + truckCentres * 1.2 > path.length) continue;
    const q = poseAt(path, rear);
    let [low, high] = [rear + truckCentres, rear + truckCentres * 1.2];
    for (let i = 0; i < 40; i++) {
      const middle = (low + high) / 2;
      if (distance(q, poseAt(path, middle)) < truckCentres) low = middle;
      else high = middle;
    }
    const f = poseAt(path, low);
    const [vx, vy] = [(f.x - q.x) / truckCentres, (f.y - q.y) / truckCentres];
    const near = slicePath(path, rear - 150, low + 150);
    const at = (u: number): Point => ({ x: q.x + u * vx, y: q.y + u * vy });
    const overhang = (length - truckCentres) / 2;
    for (let u = -overhang; u <= truckCentres + overhang; u += 1) {
      const place = nearestOnPath(near, at(u));
      if (Math.abs(Math.max(0, rear - 150) + place.s - s) > 1) continue;
      reach.left = Math.max(reach.left, place.left);
      reach.right = Math.max(reach.right, -place.left);
    }
  }
  return reach;
}

describe("swept reach of a car", () => {
  it("is nowhere negative and never more than half a car, and is exchanged by mirroring and kept by reversing", () => {
    const car = fc.record({ length: finite(60, 320), share: finite(0.5, 0.9) });
    fc.assert(
      fc.property(anyPath, car, (path, { length, share }) => {
        const body = { length, truckCentres: length * share };
        const stations = every(path, 40);
        const { left, right } = sweptThrows(path, body, stations);
        const mirrored = makePath(path.start, path.segments.map(mirrorSegment));
        const other = sweptThrows(mirrored, body, stations);
        const back = sweptThrows(
          reversePath(path),
          body,
          stations.map((s) => path.length - s),
        );
        const sharpest = Math.max(0, ...path.segments.map((g) => Math.max(Math.abs(g.k0), Math.abs(g.k1))));
        stations.forEach((_, i) => {
          for (const side of [left, right]) {
            expect(side[i]).toBeGreaterThanOrEqual(0);
            expect(side[i]).toBeLessThanOrEqual(length / 2);
          }
          expect(Math.abs((left[i] ?? 0) - (other.right[i] ?? 0))).toBeLessThan(1e-6);
          // Run the other way the car is set down on other places; where two reaches cross in a valley each is off by part of a step.
          expect(Math.abs((left[i] ?? 0) - (back.right[i] ?? 0))).toBeLessThan(0.02 + 10 * 10 * 4 * sharpest);
        });
      }),
      { seed: SEED, numRuns: 60, endOnFailure: true },
    );
  });

  it.each([
    ["an eased curve", [straightOf(600), ...easedCurve(500, 1.4, 250), straightOf(600)]],
    ["a bare curve", [straightOf(600), ...easedCurve(500, 1.4, 0, -1), straightOf(600)]],
    [
      "a reverse curve",
      [
        straightOf(400),
        ...easedCurve(500, 0.8, 100),
        straightOf(60),
        ...easedCurve(450, 0.9, 100, -1),
        straightOf(400),
      ],
    ],
  ])("over %s is what moving a car in small steps finds", (_, segments) => {
    const path = makePath(ORIGIN, segments);
    const stations = every(path, 53).filter((s) => s > 320 && s < path.length - 320);
    const { left, right } = sweptThrows(path, CAR, stations);
    let most = 0;
    stations.forEach((s, i) => {
      const slow = slowReach(path, s);
      most = Math.max(most, slow.left, slow.right);
      // The slow way looks at stations 1 mm about s, where the reach of an end may be a quarter of a millimetre more.
      expect(Math.abs((left[i] ?? 0) - slow.left)).toBeLessThan(0.35);
      expect(Math.abs((right[i] ?? 0) - slow.right)).toBeLessThan(0.35);
    });
    expect(most).toBeGreaterThan(5);
  });

  it("reaches over the straight before a curve by the end, and no further than the car", () => {
    const path = makePath(ORIGIN, [straightOf(600), ...easedCurve(500, 1.4, 0), straightOf(600)]);
    const { left, right } = sweptThrows(path, CAR, [600 - 258, 560, 599, 250]);
    expect(right[1]).toBeGreaterThan(1);
    expect(right[2]).toBeGreaterThan(right[1] ?? 0);
    expect(right[0]).toBeLessThan(0.2);
    expect(left[1]).toBeGreaterThan(0);
    expect(right[3]).toBe(0);
    expect(left[3]).toBe(0);
  });

  it("reaches nowhere on a straight however long, nor without length", () => {
    for (const path of [makePath(ORIGIN, [straightOf(5000)]), makePath(ORIGIN, [])]) {
      const { left, right } = sweptThrows(path, CAR, [0, path.length]);
      expect([...left, ...right]).toEqual([0, 0, 0, 0]);
    }
    const curve = makePath(ORIGIN, easedCurve(500, 1, 0));
    expect([...sweptThrows(curve, { length: 0, truckCentres: 0 }, [100]).left]).toEqual([0]);
  });

  it("carries on over the joint to what the path goes on as", () => {
    const k = 1 / 500;
    const whole = makePath(ORIGIN, [straightOf(500), { length: 1000, k0: k, k1: k }, straightOf(500)]);
    const parts = [slicePath(whole, 0, 480), slicePath(whole, 480, 1020), slicePath(whole, 1020, 2000)] as const;
    const stations = every(parts[1], 20);
    const alone = sweptThrows(
      whole,
      CAR,
      stations.map((s) => s + 480),
    );
    const [before, middle, after] = parts;
    const joined = sweptThrows(middle, CAR, stations, { before, after });
    stations.forEach((_, i) => {
      expect(Math.abs((joined.left[i] ?? 0) - (alone.left[i] ?? 0))).toBeLessThan(0.25);
      expect(Math.abs((joined.right[i] ?? 0) - (alone.right[i] ?? 0))).toBeLessThan(0.25);
    });
    expect(joined.left.at(-1)).toBeGreaterThan(sweptThrows(middle, CAR, [540]).left[0] ?? 0);
  });

  it("reaches half its length where its trucks cannot stand", () => {
    const tight = makePath(ORIGIN, [{ length: 2000, k0: 1 / 60, k1: 1 / 60 }]);
    const { left, right } = sweptThrows(tight, CAR, [1000]);
    expect(left[0]).toBe(150);
    expect(right[0]).toBe(150);
    expect(centreThrow(60, 214)).toBe(Number.POSITIVE_INFINITY);
    expect(endThrow(60, 300, 214)).toBe(Number.POSITIVE_INFINITY);
    expect(endThrow(500, 100, 214)).toBe(0);
  });
});
