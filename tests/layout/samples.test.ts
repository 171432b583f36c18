import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { curvatureAt, makePath, type Path, poseAt } from "../../src/geometry/path.js";
import type { Segment } from "../../src/geometry/segment.js";
import { LONGEST_STEP, MOST_SAMPLES, SAGITTA, sampleLine } from "../../src/layout/samples.js";

const curvature = fc.oneof(
  fc.constant(0),
  fc.double({ min: -1 / 150, max: 1 / 150, noNaN: true }),
  fc.double({ min: -0.1, max: 0.1, noNaN: true }),
);
const segment: fc.Arbitrary<Segment> = fc.record({
  length: fc.double({ min: 0.01, max: 900, noNaN: true }),
  k0: curvature,
  k1: curvature,
});
const circular = fc
  .record({ length: fc.double({ min: 1, max: 4000, noNaN: true }), k: curvature })
  .map(({ length, k }) => ({ length, k0: k, k1: k }));
const path = fc
  .record({
    heading: fc.double({ min: -7, max: 7, noNaN: true }),
    segments: fc.array(fc.oneof(segment, circular), { maxLength: 6 }),
  })
  .map(({ heading, segments }) => makePath({ x: 1200, y: -800, heading }, segments));

describe("samples of a line", () => {
  test("agree with the path, begin and end with it, and hold every border", () => {
    fc.assert(
      fc.property(path, (p) => {
        const { count, s, x, y, heading, curvature: k } = sampleLine(p);
        expect(s[0]).toBe(0);
        expect(s[count - 1]).toBe(p.length);
        for (const station of p.stations) expect(s).toContain(station);
        for (let i = 0; i < count; i++) {
          const pose = poseAt(p, s[i] as number);
          expect(Math.hypot(pose.x - (x[i] as number), pose.y - (y[i] as number))).toBeLessThan(1e-7);
          expect(Math.abs(pose.heading - (heading[i] as number))).toBeLessThan(1e-9);
          expect(Math.abs(curvatureAt(p, s[i] as number) - (k[i] as number))).toBeLessThan(1e-12);
          if (i > 0) expect((s[i] as number) - (s[i - 1] as number)).toBeGreaterThan(0);
        }
      }),
      { seed: 31, numRuns: 60 },
    );
  });

  test("chords stay within the sagitta of the curve and are no longer than the longest step", () => {
    fc.assert(
      fc.property(path, (p) => {
        const { count, s, x, y } = sampleLine(p);
        for (let i = 1; i < count; i++) {
          const [s0, s1] = [s[i - 1] as number, s[i] as number];
          expect(s1 - s0).toBeLessThanOrEqual(LONGEST_STEP * (1 + 1e-9));
          const middle = poseAt(p, (s0 + s1) / 2);
          const [ux, uy] = [(x[i] as number) - (x[i - 1] as number), (y[i] as number) - (y[i - 1] as number)];
          const off =
            Math.abs(ux * (middle.y - (y[i - 1] as number)) - uy * (middle.x - (x[i - 1] as number))) /
            Math.hypot(ux, uy);
          expect(off).toBeLessThan(SAGITTA * 1.01);
        }
      }),
      { seed: 32, numRuns: 60 },
    );
  });

  test("a path of no length has one sample", () => {
    const samples = sampleLine(makePath({ x: 1, y: 2, heading: 3 }, []));
    expect([samples.count, samples.s[0], samples.x[0], samples.y[0], samples.heading[0]]).toEqual([1, 0, 1, 2, 3]);
  });

  test("a line without end in sight is sampled no more than so often", () => {
    const long: Path = makePath(
      { x: 0, y: 0, heading: 0 },
      Array.from({ length: 50 }, () => ({ length: 6e7, k0: 1e-6, k1: 1e-6 })),
    );
    const { count, s } = sampleLine(long);
    expect(count).toBeLessThanOrEqual(MOST_SAMPLES + long.segments.length + 1);
    expect(s[count - 1]).toBe(long.length);
  });
});
