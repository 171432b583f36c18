import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type BesideOptions, besidePose, pathBeside } from "../../src/geometry/beside.js";
import { nearestOnPath } from "../../src/geometry/nearest.js";
import { curvatureAt, makePath, type Path, poseAt, reversePath } from "../../src/geometry/path.js";
import { distance, type Pose, samePose } from "../../src/geometry/pose.js";
import type { Segment } from "../../src/geometry/segment.js";
import { anyPath, anyPose, easedCurve, finite, SEED, straightOf } from "./samples.js";

const ORIGIN = { x: 100, y: -50, heading: 0.2 };

function built(path: Path, options: BesideOptions): Path {
  const beside = pathBeside(path, options);
  if ("failed" in beside) throw new Error(beside.failed);
  return beside;
}

const samples = (path: Path, n = 200): Pose[] =>
  Array.from({ length: n + 1 }, (_, i) => poseAt(path, (path.length * i) / n));

/** Radii met along a path. */
const sharpest = (path: Path) => 1 / Math.max(...path.segments.map((g) => Math.max(Math.abs(g.k0), Math.abs(g.k1))));

/** Straights and eased curves in turn, straights first and last. */
const chain = fc
  .tuple(
    anyPose,
    fc.array(
      fc.record({
        radius: finite(400, 900),
        angle: finite(0.3, 4),
        easement: fc.constantFrom(0, 80, 200),
        hand: fc.constantFrom<1 | -1>(1, -1),
        onward: finite(200, 900),
      }),
      { minLength: 1, maxLength: 4 },
    ),
  )
  .map(([start, curves]) =>
    makePath(start, [
      straightOf(300),
      ...curves.flatMap(({ radius, angle, easement, hand, onward }) => [
        ...easedCurve(radius, Math.max(angle, (easement * 1.2) / radius), easement, hand),
        straightOf(onward),
      ]),
    ]),
  );

const spacings = finite(30, 70).chain((d) => fc.constantFrom(d, -d));

function expectTangentAndFinite(path: Path): void {
  for (const g of path.segments) {
    expect([g.length, g.k0, g.k1].every(Number.isFinite)).toBe(true);
    expect(g.length).toBeGreaterThan(0);
  }
}

describe("a track beside another", () => {
  it("starts and ends on the offset poses, its straights and curves tangent", () => {
    fc.assert(
      fc.property(chain, spacings, fc.constantFrom(undefined, 0, 150), (host, left, easement) => {
        const options = { from: 0, to: host.length, left, ...(easement === undefined ? {} : { easement }) };
        const beside = built(host, options);
        expectTangentAndFinite(beside);
        expect(samePose(beside.start, besidePose(host, 0, left), 1e-6, 1e-9)).toBe(true);
        expect(samePose(beside.end, besidePose(host, host.length, left), 1e-6, 1e-9)).toBe(true);
      }),
      { seed: SEED, numRuns: 150 },
    );
  });

  it("is nowhere nearer on one curve than on the straight, and no wider than its easements need", () => {
    const one = fc.record({
      radius: finite(400, 900),
      angle: finite(0.5, 2.9),
      easement: fc.constantFrom(0, 80, 200),
      hand: fc.constantFrom<1 | -1>(1, -1),
    });
    fc.assert(
      fc.property(one, spacings, ({ radius, angle, easement, hand }, left) => {
        const host = makePath(ORIGIN, [straightOf(600), ...easedCurve(radius, angle, easement, hand), straightOf(600)]);
        const beside = built(host, { from: 0, to: host.length, left });
        for (const pose of samples(beside)) {
          const near = nearestOnPath(host, pose);
          expect(near.distance).toBeGreaterThan(Math.abs(left) - 2e-3);
          expect(near.distance).toBeLessThan(Math.abs(left) + 2);
          expect(Math.sign(near.left)).toBe(Math.sign(left));
        }
      }),
      { seed: SEED, numRuns: 100 },
    );
  });

  it.each([
    ["inside an eased right angle", 1, 600, Math.PI / 2, 200, 50, 56, undefined],
    ["outside an eased right angle", 1, 600, Math.PI / 2, 200, -50, -52, undefined],
    ["far outside an eased right angle", -1, 600, Math.PI / 2, 200, 50, 58, undefined],
    ["inside a bare right angle", 1, 600, Math.PI / 2, 0, 50, 56, undefined],
    ["outside a bare right angle", 1, 600, Math.PI / 2, 0, -50, -55, undefined],
    ["inside, with its own easement", 1, 600, Math.PI / 2, 0, 50, 53, 150],
    ["outside a right angle, with its own easement", -1, 900, Math.PI / 2, 100, 50, 51, 130],
    ["inside a horseshoe", 1, 600, Math.PI, 200, 50, 56, undefined],
    ["inside three turns of a helix", 1, 600, 6 * Math.PI, 250, 50, 56, undefined],
    ["inside a loop of 270 degrees", -1, 700, 1.5 * Math.PI, 150, -46, -50, undefined],
  ])("is wider in the middle of the curve %s", (_, hand, radius, angle, easement, left, curveLeft, own) => {
    const curve = easedCurve(radius, angle, easement, hand === 1 ? 1 : -1);
    const host = makePath(ORIGIN, [straightOf(900), ...curve, straightOf(900)]);
    const ask = { from: 0, to: host.length, left, curveLeft };
    const beside = built(host, own === undefined ? ask : { ...ask, easement: own });
    expect(samePose(beside.end, besidePose(host, host.length, left), 1e-6, 1e-9)).toBe(true);
    const middle = poseAt(host, host.length / 2);
    // Symmetric, so the middles face each other.
    const across = distance(poseAt(beside, beside.length / 2), middle);
    expect(across).toBeGreaterThan(Math.abs(curveLeft) - 2e-3);
    expect(across).toBeLessThan(Math.abs(curveLeft) + 25);
    if (angle < Math.PI) {
      for (const pose of samples(beside)) {
        expect(nearestOnPath(host, pose).distance).toBeGreaterThan(Math.abs(left) - 2e-3);
      }
    }
    if (own !== undefined)
      expect(beside.segments.some((g) => g.k0 === 0 && g.k1 !== 0 && Math.abs(g.length - own) < 1e-9)).toBe(true);
    const room = radius - Math.abs(curveLeft) - 1;
    expect(sharpest(beside)).toBeGreaterThan(room);
  });

  it.each([
    ["inside", 1, 25],
    ["outside", -1, 55],
  ])("is wider in the middle %s a bare curve of every whole degree", (_, side, least) => {
    for (let degrees = least; degrees <= 160; degrees++) {
      const curve = easedCurve(850, (degrees * Math.PI) / 180, 0, 1);
      const host = makePath(ORIGIN, [straightOf(900), ...curve, straightOf(900)]);
      const beside = built(host, { from: 0, to: host.length, left: side * 55, curveLeft: side * 62, easement: 0 });
      const across = distance(poseAt(beside, beside.length / 2), poseAt(host, host.length / 2));
      expect([degrees, across > 62 - 2e-3 && across < 62.1]).toEqual([degrees, true]);
    }
  });

  it("runs against the host from the greater distance to the smaller", () => {
    const host = makePath(ORIGIN, [straightOf(500), ...easedCurve(600, 1.2, 150), straightOf(500)]);
    const ahead = built(host, { from: 100, to: host.length - 50, left: 40, curveLeft: 43 });
    const back = built(host, { from: host.length - 50, to: 100, left: 40, curveLeft: 43 });
    expect(samePose(back.start, besidePose(host, host.length - 50, 40, true), 1e-6, 1e-9)).toBe(true);
    expect(samePose(back.end, besidePose(host, 100, 40, true), 1e-6, 1e-9)).toBe(true);
    expect(back.length).toBeCloseTo(ahead.length, 9);
    expect(samePose(reversePath(back).end, ahead.end, 1e-9, 1e-12)).toBe(true);
  });

  it("ends on the offset poses beside anything: compound and reverse curves, from and to inside curves", () => {
    const part = finite(0, 1);
    fc.assert(
      fc.property(anyPath, part, part, finite(-70, 70), (host, a, b, left) => {
        const beside = pathBeside(host, { from: a * host.length, to: b * host.length, left });
        if ("failed" in beside) {
          expect(beside.failed).toBe("no-length");
          return;
        }
        expectTangentAndFinite(beside);
        const [s0, s1] = [a * host.length, b * host.length];
        expect(samePose(beside.start, besidePose(host, s0, left, a > b), 1e-6, 1e-9)).toBe(true);
        expect(samePose(beside.end, besidePose(host, s1, left, a > b), 1e-6, 1e-9)).toBe(true);
      }),
      { seed: SEED, numRuns: 300 },
    );
  });

  it.each<[string, Segment[], number]>([
    [
      "a compound curve",
      [
        straightOf(200),
        { length: 300, k0: 1 / 800, k1: 1 / 800 },
        { length: 300, k0: 1 / 500, k1: 1 / 500 },
        straightOf(200),
      ],
      50,
    ],
    [
      "an S of two easements",
      [
        straightOf(200),
        { length: 300, k0: 0, k1: 1 / 500 },
        { length: 500, k0: 1 / 500, k1: -1 / 400 },
        { length: 200, k0: -1 / 400, k1: 0 },
        straightOf(99),
      ],
      -60,
    ],
    [
      "a sharp easement inside",
      [
        { length: 200, k0: 0, k1: 1 / 150 },
        { length: 200, k0: 1 / 150, k1: 0 },
      ],
      100,
    ],
    ["a bare arc with no straights", [{ length: 900, k0: -1 / 500, k1: -1 / 500 }], -46],
  ])("is the true offset beside %s", (_, segments, left) => {
    const host = makePath(ORIGIN, segments);
    const beside = built(host, { from: 0, to: host.length, left, curveLeft: left * 1.1 });
    for (let i = 0; i <= 300; i++) {
      const p = besidePose(host, (host.length * i) / 300, left);
      expect(nearestOnPath(beside, p).distance).toBeLessThan(0.03);
    }
  });

  it("closes beside a closed loop, its seam on a straight or in a curve", () => {
    const half = [...easedCurve(500, Math.PI, 150), straightOf(800)];
    const oval = makePath(ORIGIN, [straightOf(300), ...half, ...half.slice(0, -1), straightOf(500)]);
    const seamed = makePath(ORIGIN, [...easedCurve(500, Math.PI, 150), straightOf(800), ...half]);
    const circle = makePath(ORIGIN, [{ length: 1000 * Math.PI, k0: -1 / 500, k1: -1 / 500 }]);
    for (const host of [oval, seamed, circle]) {
      expect(samePose(host.start, host.end, 1e-6, 1e-9)).toBe(true);
      for (const left of [46, -46]) {
        for (const curveLeft of [left, left * 1.1]) {
          const beside = built(host, { from: 0, to: host.length, left, curveLeft });
          expect(samePose(beside.start, beside.end, 1e-6, 1e-9)).toBe(true);
        }
      }
    }
  });

  it("is the host itself at no spacing, and curves as the host does", () => {
    const host = makePath(ORIGIN, [straightOf(100), ...easedCurve(600, 1, 100), straightOf(100)]);
    const beside = built(host, { from: 0, to: host.length, left: 0 });
    expect(beside.length).toBeCloseTo(host.length, 9);
    expect(curvatureAt(beside, 400)).toBeCloseTo(curvatureAt(host, 400), 12);
  });

  it("keeps the spacing of the straight on a curve whose straights are too short for more", () => {
    const host = makePath(ORIGIN, [straightOf(5), ...easedCurve(600, 1.5, 200), straightOf(5)]);
    const beside = built(host, { from: 0, to: host.length, left: 50, curveLeft: 70 });
    expect(samePose(beside.end, besidePose(host, host.length, 50), 1e-6, 1e-9)).toBe(true);
    expect(sharpest(beside)).toBeCloseTo(550, 2);
  });

  it.each([
    ["a spacing past the centre of a curve", { from: 0, to: 500, left: 120 }, "radius-vanishes", 200],
    ["a spacing to the very centre", { from: 0, to: 500, left: 100 }, "radius-vanishes", 200],
    ["a distance before the host", { from: -5, to: 500, left: 20 }, "off-path", -5],
    ["a distance beyond the host", { from: 0, to: 900, left: 20 }, "off-path", 900],
    ["no length", { from: 70, to: 70, left: 20 }, "no-length", 70],
    ["a spacing that is not a number", { from: 0, to: 70, left: Number.NaN }, "not-finite", 0],
  ])("fails as a value for %s", (_, options, failed, at) => {
    const host = makePath(ORIGIN, [straightOf(200), { length: 200, k0: 0.01, k1: 0.01 }, straightOf(200)]);
    expect(pathBeside(host, options)).toEqual({ failed, at });
  });
});
