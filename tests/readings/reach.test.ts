/** Reach over a shelf along the bottom wall, 700 deep, reached from the floor above it on the paper. */
import { describe, expect, test } from "vitest";
import { deriveLayout } from "../../src/layout/derive.js";
import { reachAt } from "../../src/plan/settings.js";
import { reach, reaching } from "../../src/readings/reach.js";
import { seeded } from "../support/shapes.js";
import { at, box, type Draft, plan, right, straight } from "./fixture.js";
import { randomPlan } from "./random-plans.js";

const ROWS = [
  { height: 1000, reach: 600 },
  { height: 1400, reach: 400 },
];

const room = (): Draft =>
  plan()
    .standards({ reach: ROWS, reachUnder: 100 })
    .opening("door", { kind: "door", wall: 2, at: 4000, width: 800 })
    .bench("shelf", box(0, 0, 8000, 700));

/** A track so far in from the edge of the shelf. */
const inBy = (far: number, wishes = {}): Draft => room().track("t", at(2000, 700 - far), [straight(3000)], wishes);

describe("reach by height", () => {
  test.each([
    [900, 600],
    [1000, 600],
    [1100, 550],
    [1400, 400],
    [1700, 400],
  ])("at %s is %s", (height, far) => {
    expect(reachAt(ROWS, height)).toBeCloseTo(far, 9);
  });

  test("of one row is that row's, of none nothing", () => {
    expect([reachAt(ROWS.slice(0, 1), 2000), reachAt([], 2000)]).toEqual([600, 0]);
  });
});

describe("reach", () => {
  test.each([
    [500, {}, 500, "clear", undefined],
    [590, {}, 590, "tight", undefined],
    [640, {}, 640, "tight", undefined],
    [450, { hidden: true }, 550, "clear", "hidden, counted farther in"],
    [490, { hidden: true }, 590, "tight", "hidden, counted farther in"],
    [550, { hidden: true }, 650, "fails", "hidden, counted farther in"],
  ] as const)("of track %s in, %o, counts %s and is %s", (far, wishes, value, verdict, note) => {
    const reading = inBy(far, wishes).reading("reach:lower");
    expect(reading).toMatchObject({ value: expect.closeTo(value, 1) as number, limit: 600, bound: "most", verdict });
    expect(reading?.places[0]).toMatchObject({ thing: "tracks.t", point: { y: 700 - far } });
    expect(reading?.places[0]?.note).toBe(note);
  });

  test("is less under another deck, and at the height of the deck", () => {
    const two = room()
      .deck("upper", 1400, { name: "Upper" })
      .bench("over", box(0, 0, 8000, 350), "upper")
      .track("low", at(2000, 250), [straight(3000)])
      .track("high", at(2000, 500), [straight(3000)], { deck: "upper" });
    expect(two.reading("reach:lower")).toMatchObject({ value: expect.closeTo(550, 1) as number, verdict: "clear" });
    expect(two.reading("reach:lower")?.places[0]?.note).toBe("under Upper, counted farther in");
    expect(two.reading("reach:upper")).toMatchObject({ value: expect.closeTo(200, 1) as number, limit: 400 });
  });

  test("into a corner of two shelves is 1.41 times as far", () => {
    const corner = room()
      .bench("side", box(0, 0, 700, 6000))
      .track("t", at(300, 300), [straight(50)]);
    expect(corner.reading("reach:lower")?.value).toBeCloseTo(400 * Math.SQRT2, 0);
  });

  test("counts from both sides, and not from a gap nobody can stand in", () => {
    const gap = (width: number): Draft =>
      room()
        .bench("back", box(0, 700 + width, 8000, 2000))
        .track("t", at(3000, 600), [straight(2000)]);
    expect(gap(700).reading("reach:lower")?.value).toBeCloseTo(100, 1);
    expect(gap(400).reading("reach:lower")?.value).toBeCloseTo(1400, 1);
    expect(gap(400).reading("reach:lower")?.verdict).toBe("tight");
  });

  test("is not read where there are no benches", () => {
    expect(
      plan()
        .track("t", at(2000, 200), [straight(3000)])
        .reading("reach:lower"),
    ).toBeUndefined();
  });
});

describe("turnouts within reach", () => {
  test.each([
    [500, {}, "clear"],
    [590, {}, "tight"],
    [640, {}, "fails"],
    [550, { hidden: true }, "fails"],
  ] as const)("with points %s in, %o, are %s", (far, wishes, verdict) => {
    const reading = inBy(far, wishes).turnout("k", { on: "t", at: 1000, hand: "left" }).reading("turnout-reach:lower");
    const less = "hidden" in wishes ? 100 : 0;
    expect(reading).toMatchObject({ value: expect.closeTo(far + less, 1) as number, verdict });
    expect(reading?.places[0]).toMatchObject({ thing: "turnouts.k", point: { x: 3000, y: 700 - far } });
  });

  test("are not read where there are none", () => {
    expect(inBy(500).reading("turnout-reach:lower")).toBeUndefined();
  });
});

test("the farthest place of every line is that of looking at each of its points, on 60 random plans", () => {
  let compared = 0;
  for (let seed = 1; seed <= 60; seed++) {
    const random = randomPlan(seeded(seed));
    const layout = deriveLayout(random);
    const by = reaching(random, layout);
    if (!by) continue;
    for (const reading of reach.take({ plan: random, layout })) {
      let most = Number.NEGATIVE_INFINITY;
      for (const line of layout.lines.values()) {
        if (line.deck !== reading.scope) continue;
        for (let i = 0; i < line.samples.count; i++) {
          const p = { x: line.samples.x[i] ?? 0, y: line.samples.y[i] ?? 0 };
          const s = line.samples.s[i] ?? 0;
          const hidden = by.hidden.get(line.key)?.some(({ from, to }) => s >= from && s <= to) === true;
          const under = by.overhead(line.deck).some(({ bench }) => bench.contains(p));
          const far = by.from.contains(p) ? 0 : (by.from.nearestEdge(p)?.distance ?? 0);
          most = Math.max(most, far + (hidden || under ? by.less : 0));
        }
      }
      const values = reading.places.map(({ value }) => value ?? 0);
      // A hidden place that fails stands before one in the open that is farther.
      if (reading.verdict !== "fails") expect(reading.value).toBeCloseTo(most, 6);
      else expect(Math.max(...values)).toBeLessThanOrEqual(most + 1e-6);
      compared++;
    }
  }
  expect(compared).toBeGreaterThan(50);
});

test("an edit of one track leaves what was measured of another", () => {
  const before = inBy(500).track("curve", at(500, 300), [right(2000, 5)]);
  const first = before.layout;
  const second = deriveLayout(before.track("t", at(2000, 300), [straight(3000)]).plan, first);
  expect(reaching(second.plan, second)?.from).toBe(reaching(first.plan, first)?.from);
});
