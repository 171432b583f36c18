import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { makePath } from "../../src/geometry/path.js";
import { bearing, distance, localPoint, offsetPoint, type Point } from "../../src/geometry/pose.js";
import type { Steering } from "../../src/geometry/steering.js";
import { towardPoint } from "../../src/geometry/toward.js";
import { easedTurn, type Hand } from "../../src/geometry/turn.js";
import { seeded } from "../support/shapes.js";
import { pathFaults } from "./path-faults.js";
import { anyPoint, anyPose, finite, SEED } from "./samples.js";

const ORIGIN = { x: 0, y: 0, heading: 0 };
const steering = fc.record({
  radius: finite(200, 1000),
  easement: fc.oneof(fc.constant(0), finite(1, 200), finite(1, 900)),
});
const RUNS = { seed: SEED, numRuns: 1000 };

/** Shortest turn-and-straight to a point by one hand, by trying deflections one after another; undefined if there is none. */
function byTrial(to: Point, { radius, easement }: Steering, hand: Hand, steps: number): number | undefined {
  const side = hand === "left" ? 1 : -1;
  let before: { aside: number; ahead: number } | undefined;
  for (let i = 1; i < steps; i++) {
    const angle = (2 * Math.PI * i) / steps;
    const turn = makePath(ORIGIN, easedTurn({ radius, angle, hand, easeIn: easement, easeOut: easement }));
    const { x: ahead, y: left } = localPoint(turn.end, to);
    const aside = side * left;
    if (before && before.aside > 0 && aside <= 0 && ahead >= 0 && before.ahead >= 0) return turn.length + ahead;
    before = { aside, ahead };
  }
  return undefined;
}

describe("toward", () => {
  it("ends at the point, along its own heading, within the limits", () =>
    fc.assert(
      fc.property(anyPose, anyPoint, steering, (from, to, s) => {
        const path = towardPoint(from, to, s);
        if (!path) {
          // Only a point by the turning circle on its own side is out of reach.
          fc.pre(s.easement <= s.radius);
          const { x, y } = localPoint(from, to);
          expect(Math.hypot(x - s.easement / 2, Math.abs(y) - s.radius)).toBeLessThan(s.radius + s.easement / 2);
          return;
        }
        expect(pathFaults(path, { ...to, heading: path.end.heading }, s)).toEqual([]);
        const hands = new Set(path.segments.map((g) => Math.sign(g.k0 + g.k1)).filter((hand) => hand !== 0));
        expect(hands.size).toBeLessThan(2);
        expect(path.length).toBeGreaterThanOrEqual(distance(from, to) - 1e-9);
      }),
      RUNS,
    ));

  it("the mirrored point gives the mirrored path", () =>
    fc.assert(
      fc.property(anyPoint, steering, ({ x, y }, s) => {
        if (Math.abs(y) < 1e-6) return;
        const [up, down] = [towardPoint(ORIGIN, { x, y }, s), towardPoint(ORIGIN, { x, y: -y }, s)];
        expect(up?.length).toBe(down?.length);
        expect(up?.segments.map((g) => [g.length, g.k0 + 0, g.k1 + 0])).toEqual(
          down?.segments.map((g) => [g.length, -g.k0 + 0, -g.k1 + 0]),
        );
      }),
      RUNS,
    ));

  it("finds what trial finds, and the other hand is never shorter", () => {
    const random = seeded(31);
    const STEPS = 720;
    let near = 0;
    for (let n = 0; n < 120; n++) {
      const s = { radius: 300 + 300 * random(), easement: 50 + 400 * random() };
      // Half of the points lie close ahead, where the easements do not fit.
      const to = n % 2 ? { x: 1500 * random(), y: 200 * random() } : { x: 3000 * (random() - 0.5), y: 1500 * random() };
      const path = towardPoint(ORIGIN, to, s);
      const trial = byTrial(to, s, "left", STEPS);
      const other = byTrial(to, s, "right", STEPS);
      // A step of trial is half a degree of turn; it may slip past a root at the very edge of reach.
      if (trial !== undefined) expect(Math.abs((path?.length ?? 0) - trial)).toBeLessThan(8);
      if (path && other !== undefined) expect(path.length).toBeLessThan(other + 8);
      if (path && path.segments.length < 4) near++;
    }
    expect(near).toBeGreaterThan(20);
  });

  it.each([
    ["dead ahead", { x: 700, y: 0 }, 700, 1],
    ["where one stands", { x: 0, y: 0 }, 0, 0],
    ["dead ahead but for rounding", { x: 700, y: 1e-12 }, 700, 1],
  ] as const)("%s there is no turn", (_what, to, length, segments) => {
    const path = towardPoint(ORIGIN, to, { radius: 500, easement: 200 });
    expect(path?.length).toBeCloseTo(length, 12);
    expect(path?.segments).toHaveLength(segments);
  });

  it.each([
    ["the centre of the turn", { x: 100, y: 500 }],
    ["close abeam", { x: 0, y: 40 }],
    ["just astern", { x: -1, y: 0.5 }],
  ])("%s cannot be reached", (_what, to) => {
    expect(towardPoint(ORIGIN, to, { radius: 500, easement: 200 })).toBeUndefined();
  });

  it("goes left to a point dead astern", () => {
    const path = towardPoint(ORIGIN, { x: -2000, y: 0 }, { radius: 500, easement: 200 });
    expect(path?.segments[0]?.k1).toBeCloseTo(1 / 500, 12);
    expect(path?.end.x).toBeCloseTo(-2000, 9);
  });

  it("to a point almost ahead is almost straight, however little it lies aside", () => {
    for (let aside = 1e-8; aside < 20; aside *= 3) {
      const path = towardPoint(ORIGIN, { x: 1000, y: aside }, { radius: 500, easement: 200 });
      expect(path?.length).toBeGreaterThanOrEqual(1000);
      expect((path?.length ?? 0) - 1000).toBeLessThan(0.002 * aside * aside + 1e-9);
      expect(bearing(ORIGIN, path?.end ?? ORIGIN)).toBeCloseTo(aside / 1000, 4);
    }
  });

  it("without easement, the point at the end of a quarter circle takes the quarter circle alone", () => {
    const path = towardPoint({ x: 5, y: 5, heading: 1 }, offsetPoint({ x: 5, y: 5, heading: 1 }, 500, 500), {
      radius: 500,
      easement: 0,
    });
    expect(path?.segments).toHaveLength(1);
    expect(path?.length).toBeCloseTo(250 * Math.PI, 9);
  });
});
