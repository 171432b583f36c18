/** What always holds of readings, on plans of chance. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Layout } from "../../src/layout/layout.js";
import type { Anchor, Leg, Plan } from "../../src/plan/schema.js";
import { READING_IDS, type Reading } from "../../src/readings/reading.js";
import { readingKey } from "../../src/readings/reading.js";
import { takeReadings } from "../../src/readings/take.js";
import { judge } from "../../src/readings/verdict.js";
import { seeded } from "../support/shapes.js";
import { LOWER, straight } from "./fixture.js";
import { randomPlan } from "./random-plans.js";

const read = (plan: Plan): Reading[] => takeReadings(plan, deriveLayout(plan));

/** Values are sums taken in another order: they agree to a thousandth of a millimetre and a millionth of a per cent or so. */
const NEAR = 1e-3;

/** Everything of a reading that must agree to the letter. */
const gist = (readings: readonly Reading[]) =>
  readings.map((r) => ({ key: readingKey(r), verdict: r.verdict, limit: r.limit, places: r.places.length }));

/** What differs between two takings of the same readings, in words; nothing where they agree. */
function differences(a: readonly Reading[], b: readonly Reading[]): string[] {
  const [p, q] = [JSON.stringify(gist(a)), JSON.stringify(gist(b))];
  if (p !== q) return [p, q];
  return a.flatMap((reading, i) => {
    const [one, other] = [reading.value ?? 0, b[i]?.value ?? 0];
    return Math.abs(one - other) < NEAR ? [] : [`${readingKey(reading)}: ${one} and ${other}`];
  });
}

describe("a verdict", () => {
  const RANK = { fails: 0, tight: 1, clear: 2, none: 3 } as const;

  test("never gets worse as the value gets better", () => {
    const number = fc.double({ min: -1e5, max: 1e5, noNaN: true });
    fc.assert(
      fc.property(number, number, number, fc.double({ min: 0, max: 50, noNaN: true }), (a, b, limit, margin) => {
        const [low, high] = [Math.min(a, b), Math.max(a, b)];
        const rank = (value: number, bound: "least" | "most") => RANK[judge(value, limit, bound, margin)];
        expect(rank(high, "least")).toBeGreaterThanOrEqual(rank(low, "least"));
        expect(rank(low, "most")).toBeGreaterThanOrEqual(rank(high, "most"));
      }),
      { seed: 1, numRuns: 500 },
    );
  });

  test.each([
    [100, 100, "least", 5, "tight"],
    [100, 100, "least", 0, "clear"],
    [100 - 1e-9, 100, "least", 0, "clear"],
    [99.99, 100, "least", 0, "fails"],
    [105, 100, "least", 5, "clear"],
    [95, 100, "most", 5, "clear"],
    [0, 0, "most", 5, "clear"],
    [0.01, 0, "most", 5, "fails"],
    [0, 0, "least", 5, "clear"],
    [Number.NaN, 100, "least", 5, "fails"],
    [undefined, 100, "least", 5, "none"],
    [100, undefined, undefined, 5, "none"],
  ] as const)("of %s against %s at %s with a margin of %s %% is %s", (value, limit, bound, margin, verdict) => {
    expect(judge(value, limit, bound, margin)).toBe(verdict);
  });
});

describe("readings of 300 plans of chance", () => {
  const plans = Array.from({ length: 300 }, (_, seed) => randomPlan(seeded(seed + 1)));

  test("hold no number that is none, and every rule is met with", () => {
    const met = new Set<string>();
    plans.forEach((plan, seed) => {
      const readings = read(plan);
      for (const r of readings) {
        met.add(`${r.id} ${r.verdict}`);
        const places = r.places.flatMap(({ point, s, value }) => [point.x, point.y, s ?? 0, value ?? 0]);
        const figures = Object.values(r.figures ?? {}).map(({ value }) => value);
        const numbers = [r.value ?? 0, r.limit ?? 0, ...places, ...figures];
        expect([seed, readingKey(r), numbers.filter((n) => !Number.isFinite(n))]).toEqual([seed, readingKey(r), []]);
        expect(r.places.length).toBeLessThanOrEqual(50);
        if (r.verdict !== "none" && r.id !== "climb") expect(r.value).toBeDefined();
      }
      const keys = readings.map(readingKey);
      expect(new Set(keys).size).toBe(keys.length);
    });
    // Nothing limits length, hidden turnouts are advised against, and chance hardly ever pins a climb at both decks.
    const rarely: Readonly<Record<string, readonly string[]>> = {
      length: [],
      hidden: ["clear"],
      runs: [],
      totals: [],
      climb: ["fails"],
    };
    for (const id of READING_IDS) {
      const verdicts = ["clear", "fails"].filter((verdict) => met.has(`${id} ${verdict}`));
      expect([id, verdicts]).toEqual([id, rarely[id] ?? ["clear", "fails"]]);
    }
  });

  test("do not depend on the order of records", () => {
    plans.forEach((plan, seed) => {
      if (seed >= 150 || firstCounts(plan)) return;
      const turned = <T>(records: Readonly<Record<string, T>>): Record<string, T> =>
        Object.fromEntries(Object.entries(records).reverse());
      const { tracks, turnouts, pins, benches, decks, backdrops } = plan;
      const reversed = read({
        ...plan,
        tracks: turned(tracks),
        turnouts: turned(turnouts),
        pins: turned(pins),
        benches: turned(benches),
        decks: turned(decks),
        backdrops: turned(backdrops),
      });
      expect([seed, differences(read(plan), reversed)]).toEqual([seed, []]);
    });
  });

  test("are the same of a plan and its mirror image", () => {
    let compared = 0;
    plans.slice(0, 120).forEach((plan, seed) => {
      const [there, here] = [deriveLayout(plan), deriveLayout(mirrored(plan))];
      // Of two ways to a place that are equally short one is taken, and it may be the same one in the mirror.
      if (!turnsOf(there).every((turn, i) => Math.abs(turn + (turnsOf(here)[i] ?? 0)) < 1e-9)) return;
      const found = differences(takeReadings(there.plan, there), takeReadings(here.plan, here));
      expect([seed, found]).toEqual([seed, []]);
      compared++;
    });
    expect(compared).toBeGreaterThan(100);
  });

  test("of a layout derived by steps are those of one derived at once", () => {
    const edits: readonly ((plan: Plan) => Plan)[] = [
      (plan) => withTrack(plan, (track) => ({ ...track, legs: [...track.legs, straight(137)] })),
      (plan) => ({ ...plan, pins: { ...plan.pins, extra: { track: "t0", at: 10, height: LOWER + 12 } } }),
      (plan) => withTrack(plan, (track) => ({ ...track, class: "siding" })),
      (plan) => ({ ...plan, standards: { ...plan.standards, overTrack: { value: 120, source: "edited" } } }),
      (plan) => ({
        ...plan,
        decks: { ...plan.decks, upper: { name: "Up", kind: "scenic", height: 1333, thickness: 50 } },
      }),
      (plan) => ({ ...plan, benches: {} }),
      (plan) => ({ ...plan, turnouts: {} }),
      (plan) => ({
        ...plan,
        standards: {
          ...plan.standards,
          longestCar: {
            value: { length: 200, truckCentres: 140, width: 36, height: 50, overCouplers: 210 },
            source: "edited",
          },
        },
      }),
    ];
    plans.slice(0, 40).forEach((start, seed) => {
      let plan = start;
      let layout = deriveLayout(plan);
      takeReadings(plan, layout);
      for (const edit of edits) {
        plan = edit(plan);
        layout = deriveLayout(plan, layout);
        const [stepwise, atOnce] = [takeReadings(plan, layout), read(JSON.parse(JSON.stringify(plan)) as Plan)];
        expect([seed, differences(atOnce, stepwise)]).toEqual([seed, []]);
      }
    });
  });
});

/** Faults that are settled in favour of whoever comes first: pins that disagree, several tracks at one end, circles. */
const firstCounts = (plan: Plan): boolean =>
  read(plan).some((r) => r.places.some(({ note }) => /pins disagree|wants a turnout|in a circle/.test(note ?? "")));

/** How far each track turns from end to end. */
const turnsOf = ({ lines }: Layout): number[] =>
  [...lines.values()]
    .filter(({ kind }) => kind === "track")
    .map(({ path }) => path.segments.reduce((sum, g) => sum + (g.length * (g.k0 + g.k1)) / 2, 0));

function withTrack(plan: Plan, change: (track: Plan["tracks"][string]) => Plan["tracks"][string]): Plan {
  const track = plan.tracks.t1;
  return track ? { ...plan, tracks: { ...plan.tracks, t1: change(track) } } : plan;
}

/** The plan seen in a mirror that lies along the x axis. */
function mirrored(plan: Plan): Plan {
  const over = <P extends { readonly x: number; readonly y: number }>(p: P): P => ({ ...p, y: -p.y });
  const other = <H extends "left" | "right" | "wye">(hand: H) =>
    (hand === "left" ? "right" : hand === "right" ? "left" : hand) as H;
  const each = <T>(records: Readonly<Record<string, T>>, change: (record: T) => T): Record<string, T> =>
    Object.fromEntries(Object.entries(records).map(([id, record]) => [id, change(record)]));
  // A wye's route is the left one where none is named.
  const anchor = (a: Anchor): Anchor => {
    if ("pose" in a) return { pose: { ...over(a.pose), heading: -a.pose.heading } };
    const wye = "turnout" in a && plan.turnouts[a.turnout]?.hand === "wye";
    return wye ? { ...a, route: other(a.route ?? "left") } : a;
  };
  const leg = (l: Leg): Leg =>
    "curve" in l
      ? { curve: { ...l.curve, hand: other(l.curve.hand) } }
      : "join" in l
        ? { join: { ...l.join, to: anchor(l.join.to) } }
        : l;
  const { room } = plan;
  return {
    ...plan,
    room: {
      ...room,
      outline: room.outline.map(over).reverse(),
      obstacles: each(room.obstacles, (o) => ({ ...o, outline: o.outline.map(over).reverse() })),
      openings: each(room.openings, (o) => ({
        ...o,
        wall: (2 * room.outline.length - 2 - o.wall) % room.outline.length,
        at: wallLength(room.outline, o.wall) - o.at - o.width,
        ...(o.swing && { swing: { ...o.swing, hinge: o.swing.hinge === "near" ? "far" : "near" } }),
      })),
    },
    gates: each(plan.gates, (g) => ({
      ...g,
      outline: g.outline.map(over).reverse(),
      ...(g.hinge !== undefined && { hinge: g.outline.length - 1 - g.hinge }),
    })),
    benches: each(plan.benches, (bench) =>
      "outline" in bench.shape ? { ...bench, shape: { outline: bench.shape.outline.map(over).reverse() } } : bench,
    ),
    backdrops: each(plan.backdrops, (b) => ({ ...b, line: b.line.map(over) })),
    tracks: each(plan.tracks, (t) => ({ ...t, start: anchor(t.start), legs: t.legs.map(leg) })),
    turnouts: each(plan.turnouts, (t) => ({ ...t, hand: other(t.hand) })),
  };
}

function wallLength(outline: Plan["room"]["outline"], wall: number): number {
  const [p, q] = [outline[wall], outline[(wall + 1) % outline.length]];
  return p && q ? Math.hypot(q.x - p.x, q.y - p.y) : 0;
}
