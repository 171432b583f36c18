import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { toWorld } from "../../src/geometry/pose.js";
import {
  mirrorSegment,
  reverseSegment,
  type Segment,
  segmentCurvature,
  segmentPose,
  segmentTurn,
  splitSegment,
} from "../../src/geometry/segment.js";
import { anySegment, finite, SEED } from "./samples.js";

const part = finite(0, 1);
const check = <Given>(property: fc.IProperty<Given>): void => fc.assert(property, { seed: SEED, numRuns: 500 });

describe("a segment", () => {
  it("begins at the origin of its own frame", () =>
    check(
      fc.property(anySegment, (g) => {
        const { x, y, heading } = segmentPose(g, 0);
        expect(Math.abs(x) + Math.abs(y) + Math.abs(heading)).toBe(0);
      }),
    ));

  it("reversed twice is itself, and reversed leads back", () =>
    check(
      fc.property(anySegment, (g) => {
        const back = reverseSegment(g);
        const again = reverseSegment(back);
        expect([again.length, again.k0 + 0, again.k1 + 0]).toEqual([g.length, g.k0, g.k1]);
        const end = segmentPose(g, g.length);
        const start = toWorld({ ...end, heading: end.heading + Math.PI }, segmentPose(back, back.length));
        expect(Math.hypot(start.x, start.y)).toBeLessThan(1e-9);
      }),
    ));

  it("split keeps length and turn, and its second part goes on from the first", () =>
    check(
      fc.property(anySegment, part, (g, at) => {
        const [a, b] = splitSegment(g, at * g.length);
        expect(a.length + b.length).toBeCloseTo(g.length, 9);
        expect(segmentTurn(a) + segmentTurn(b)).toBeCloseTo(segmentTurn(g), 11);
        expect(a.k1).toBe(b.k0);
        const whole = segmentPose(g, g.length);
        const parts = toWorld(segmentPose(a, a.length), segmentPose(b, b.length));
        expect(Math.hypot(whole.x - parts.x, whole.y - parts.y)).toBeLessThan(1e-9);
      }),
    ));

  it("turns by what its heading says, and no further than its length", () =>
    check(
      fc.property(anySegment, part, (g, at) => {
        const s = at * g.length;
        const pose = segmentPose(g, s);
        expect(pose.heading).toBeCloseTo(segmentTurn(g, s), 11);
        expect(Math.hypot(pose.x, pose.y)).toBeLessThanOrEqual(s + 1e-9);
        const mirrored = segmentPose(mirrorSegment(g), s);
        expect(mirrored.y).toBeCloseTo(-pose.y, 9);
      }),
    ));

  const ARCS: readonly (readonly [string, Segment, number, number])[] = [
    ["a straight", { length: 100, k0: 0, k1: 0 }, 100, 0],
    ["a quarter circle left", { length: 50 * Math.PI, k0: 0.01, k1: 0.01 }, 100, 100],
    ["a half circle right", { length: 100 * Math.PI, k0: -0.01, k1: -0.01 }, 0, -200],
    ["a whole circle", { length: 200 * Math.PI, k0: 0.01, k1: 0.01 }, 0, 0],
    ["a curve almost straight", { length: 1000, k0: 1e-15, k1: 1e-15 }, 1000, 5e-10],
    ["an easement of no length", { length: 0, k0: 0, k1: 0.01 }, 0, 0],
  ];
  it.each(ARCS)("%s leads where it should", (_what, g, x, y) => {
    const end = segmentPose(g, g.length);
    expect(end.x).toBeCloseTo(x, 10);
    expect(end.y).toBeCloseTo(y, 10);
    expect(Number.isFinite(segmentCurvature(g, g.length) + segmentTurn(g))).toBe(true);
  });
});
