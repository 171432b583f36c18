import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type JoinOptions, joinPoses, type PathFamily } from "../../src/geometry/join.js";
import { makePath } from "../../src/geometry/path.js";
import { distance, type Pose, reversePose, toWorld } from "../../src/geometry/pose.js";
import { easedTurn } from "../../src/geometry/turn.js";
import { pathFaults, reverseStraights } from "./path-faults.js";
import { anyPose, finite, SEED } from "./samples.js";

const ORIGIN: Pose = { x: 0, y: 0, heading: 0 };
const RUNS = { seed: SEED, numRuns: 1000 };
const FAMILIES: readonly PathFamily[] = ["LSL", "RSR", "LSR", "RSL", "LRL", "RLR"];

const options: fc.Arbitrary<JoinOptions> = fc.record({
  radius: finite(150, 1000),
  easement: fc.oneof(fc.constant(0), finite(1, 150), finite(50, 1000)),
  straight: fc.oneof(fc.constant(0), finite(0, 400)),
});

/** Goals near and far, beside, behind, and off the line ahead by next to nothing. */
const tiny = fc.constantFrom(0, 1e-13, -1e-11, 1e-9, -1e-7, 1e-5, -1e-3, 0.1, -2);
const angles = fc.constantFrom(0, Math.PI, -Math.PI, Math.PI / 2, -Math.PI / 2, 2 * Math.PI, -7 * Math.PI);
const seenGoal: fc.Arbitrary<Pose> = fc.oneof(
  fc.record({ x: finite(-4000, 4000), y: finite(-4000, 4000), heading: finite(-7, 7) }),
  fc.record({ x: finite(-300, 300), y: finite(-300, 300), heading: finite(-7, 7) }),
  fc.record({ x: tiny, y: tiny, heading: tiny }),
  fc.record({ x: finite(-3000, 3000), y: tiny, heading: tiny }),
  fc
    .record({ x: finite(-3000, 3000), y: fc.oneof(tiny, finite(-900, 900)), turn: angles, off: tiny })
    .map(({ x, y, turn, off }) => ({ x, y, heading: turn + off })),
);

const lengthOf = (from: Pose, to: Pose, o: JoinOptions): number => joinPoses(from, to, o)?.length ?? Number.NaN;

/** As far apart as two searches may end that meet the same goal rounded in two ways: whole turns are never at stake. */
const ROUNDED = 1e-4;

describe("a join", () => {
  it("always exists, ends at the goal, keeps the limits and is no shorter than the straight line", () =>
    fc.assert(
      fc.property(anyPose, seenGoal, options, (from, seen, o) => {
        const to = toWorld(from, seen);
        const path = joinPoses(from, to, o);
        if (!path) throw new Error("no path");
        expect(pathFaults(path, to, o)).toEqual([]);
        expect(path.length).toBeGreaterThanOrEqual(distance(from, to) - 1e-9);
        expect(Math.min(Number.POSITIVE_INFINITY, ...reverseStraights(path))).toBeGreaterThanOrEqual(
          (o.straight ?? 0) - 1e-9,
        );
      }),
      { ...RUNS, numRuns: 4000 },
    ));

  it("is as long the other way, and as long to the mirrored goal", () =>
    fc.assert(
      fc.property(
        fc.record({ x: finite(-3000, 3000), y: finite(-3000, 3000), heading: finite(-3, 3) }),
        options,
        (to, o) => {
          const there = lengthOf(ORIGIN, to, o);
          expect(Math.abs(lengthOf(reversePose(to), reversePose(ORIGIN), o) - there)).toBeLessThan(ROUNDED);
          expect(Math.abs(lengthOf(ORIGIN, { x: to.x, y: -to.y, heading: -to.heading }, o) - there)).toBeLessThan(
            ROUNDED,
          );
        },
      ),
      RUNS,
    ));

  it("is the shortest of the families asked for one by one, each of the hands it names", () =>
    fc.assert(
      fc.property(seenGoal, options, (to, o) => {
        const best = joinPoses(ORIGIN, to, o);
        const each = FAMILIES.map((family) => joinPoses(ORIGIN, to, { ...o, family }));
        each.forEach((path, i) => {
          if (!path) return;
          expect(path.family).toBe(FAMILIES[i]);
          expect(pathFaults(path, to, o)).toEqual([]);
        });
        const shortest = Math.min(...each.map((path) => path?.length ?? Number.POSITIVE_INFINITY));
        expect(best?.length).toBeLessThanOrEqual(shortest + 1e-6);
        expect(best?.length).toBeGreaterThanOrEqual(shortest - 1e-9);
      }),
      RUNS,
    ));

  it("eased is no shorter than plain", () =>
    fc.assert(
      fc.property(seenGoal, options, (to, o) => {
        const plain = lengthOf(ORIGIN, to, { radius: o.radius, easement: 0 });
        expect(lengthOf(ORIGIN, to, o)).toBeGreaterThanOrEqual(plain - 1e-6);
      }),
      RUNS,
    ));

  it("finds again a turn, a straight and a small turn laid by hand", () =>
    fc.assert(
      fc.property(
        anyPose,
        finite(0.01, 3),
        finite(0.001, 0.4),
        fc.boolean(),
        finite(600, 2500),
        (from, wide, small, same, run) => {
          const [radius, easement] = [500, 250];
          const turn = (angle: number, left: boolean) =>
            easedTurn({ radius, angle, hand: left ? "left" : "right", easeIn: easement, easeOut: easement });
          const laid = makePath(from, [...turn(wide, true), { length: run, k0: 0, k1: 0 }, ...turn(small, same)]);
          const path = joinPoses(from, laid.end, { radius, easement });
          expect(path?.length).toBeLessThanOrEqual(laid.length + 1e-6);
        },
      ),
      RUNS,
    ));
});

describe("joins with a plain answer", () => {
  const o = { radius: 500, easement: 200 };
  const turn = makePath(ORIGIN, easedTurn({ radius: 500, angle: 1.2, hand: "right", easeIn: 200, easeOut: 200 }));
  const small = makePath(ORIGIN, easedTurn({ radius: 500, angle: 0.1, hand: "left", easeIn: 200, easeOut: 200 }));

  it.each([
    ["the same pose", ORIGIN, 0, 0],
    ["the same pose a full turn on", { x: 0, y: 0, heading: 2 * Math.PI }, 0, 0],
    ["straight ahead", { x: 800, y: 0, heading: 0 }, 800, 1],
    ["straight ahead, less than an easement", { x: 30, y: 0, heading: 0 }, 30, 1],
    ["straight ahead but for rounding", { x: 800, y: 1e-11, heading: -1e-13 }, 800, 1],
    ["the end of a turn", turn.end, turn.length, 3],
    ["the end of a turn too small for its easements", small.end, small.length, 2],
    [
      "a turn and a straight",
      makePath(ORIGIN, [...turn.segments, { length: 300, k0: 0, k1: 0 }]).end,
      turn.length + 300,
      4,
    ],
    [
      "a straight and a turn",
      makePath(ORIGIN, [{ length: 300, k0: 0, k1: 0 }, ...turn.segments]).end,
      turn.length + 300,
      4,
    ],
    [
      "a straight and a small turn",
      makePath(ORIGIN, [{ length: 300, k0: 0, k1: 0 }, ...small.segments]).end,
      small.length + 300,
      3,
    ],
  ] as const)("%s", (_what, to, length, segments) => {
    const path = joinPoses(ORIGIN, to, o);
    expect(path?.length).toBeCloseTo(length, 7);
    expect(path?.segments).toHaveLength(segments);
    const elsewhere: Pose = { x: 3210.9, y: -876.5, heading: 2.345 };
    expect(lengthOf(elsewhere, toWorld(elsewhere, to), o)).toBeCloseTo(length, 6);
  });

  it.each([
    ["LSL", "a goal turned about on the left", { x: 0, y: 2000, heading: Math.PI }],
    ["RSR", "a goal turned about on the right", { x: 0, y: -2000, heading: Math.PI }],
    ["LSR", "a parallel line on the left", { x: 3000, y: 600, heading: 0 }],
    ["RSL", "a parallel line on the right", { x: 3000, y: -600, heading: 0 }],
    ["RLR", "a goal turned about close on the left", { x: 0, y: 200, heading: Math.PI }],
    ["LRL", "a goal turned about close on the right", { x: 0, y: -200, heading: Math.PI }],
    [
      "LSR",
      "of mirror images, turned about dead astern, the one that begins to the left",
      { x: -2000, y: 0, heading: Math.PI },
    ],
    ["RSL", "unless another is wanted", { x: -2000, y: 0, heading: Math.PI }, "RSL"],
    ["LRL", "of mirror images, turned about on the spot, the left", { x: 0, y: 0, heading: Math.PI }],
  ] as const)("%s: %s", (family, _what, to, wanted?: PathFamily) => {
    expect(joinPoses(ORIGIN, to, { ...o, ...(wanted && { family: wanted }) })?.family).toBe(family);
  });

  it.each([
    ["a family that cannot lead there", { x: 6000, y: 0, heading: 1 }, { ...o, family: "LRL" }],
    ["a radius of nothing", { x: 600, y: 0, heading: 1 }, { radius: 0, easement: 0 }],
    ["an easement below zero", { x: 600, y: 0, heading: 1 }, { radius: 500, easement: -1 }],
    ["a goal that is not a number", { x: Number.NaN, y: 0, heading: 1 }, o],
    ["a goal without bounds", { x: 0, y: Number.POSITIVE_INFINITY, heading: 1 }, o],
  ] as const)("%s gives none", (_what, to, how) => {
    expect(joinPoses(ORIGIN, to, how)).toBeUndefined();
  });

  it("with easements of several radii still arrives within the limits", () =>
    fc.assert(
      fc.property(seenGoal, finite(300, 2500), (to, easement) => {
        const steering = { radius: 300, easement };
        const path = joinPoses(ORIGIN, to, steering);
        if (!path) throw new Error("no path");
        expect(pathFaults(path, to, steering)).toEqual([]);
      }),
      RUNS,
    ));
});
