import { describe, expect, test } from "vitest";
import { makePath, type Path, poseAt } from "../../src/geometry/path.js";
import { type Point, toWorld } from "../../src/geometry/pose.js";
import type { Line } from "../../src/layout/line.js";
import { deriveMeetings, type Meeting } from "../../src/layout/meetings.js";
import { climbing, levelProfiles, lineMap, lineOf, randomPath } from "../support/lines.js";
import { seeded } from "../support/shapes.js";

const origin = { x: 0, y: 0, heading: 0 };
const straightFrom = (x: number, y: number, heading: number, length: number): Path =>
  makePath({ x, y, heading }, [{ length, k0: 0, k1: 0 }]);
const circle = (radius: number, turns: number, start = origin): Path =>
  makePath(start, [{ length: 2 * Math.PI * radius * turns, k0: 1 / radius, k1: 1 / radius }]);
const meetingsOf = (lines: readonly Line[], reach: number): readonly Meeting[] => {
  const map = lineMap(...lines);
  return deriveMeetings(map, levelProfiles(map), reach).meetings;
};
const least = (meeting: Meeting): number => Math.min(...meeting.places.map((p) => p.apart));

/** Distances of a line's true points, every `step`, to the true curve of another: brute force, independent of samples. */
function bruteDistances(a: Path, b: Path, step: number): { s: number; d: number }[] {
  const n = Math.ceil(b.length / 2);
  const points: Point[] = Array.from({ length: n + 1 }, (_, i) => poseAt(b, (b.length * i) / n));
  const m = Math.ceil(a.length / step);
  return Array.from({ length: m + 1 }, (_, i) => {
    const s = (a.length * i) / m;
    const p = poseAt(a, s);
    let d = Number.POSITIVE_INFINITY;
    for (let j = 0; j < n; j++) {
      const [u, v] = [points[j] as Point, points[j + 1] as Point];
      const [ux, uy] = [v.x - u.x, v.y - u.y];
      const t = Math.min(1, Math.max(0, ((p.x - u.x) * ux + (p.y - u.y) * uy) / (ux * ux + uy * uy)));
      d = Math.min(d, Math.hypot(u.x + t * ux - p.x, u.y + t * uy - p.y));
    }
    return { s, d };
  });
}

describe("against brute force", () => {
  const reach = 120;
  test.each(Array.from({ length: 12 }, (_, i) => i + 1))(
    "layout %d: the same stretches, the same least distance",
    (seed) => {
      const random = seeded(seed);
      const lines = Array.from({ length: 5 }, (_, i) =>
        lineOf(`t${i}`, randomPath(random, 1800, 1 + Math.floor(3 * random()))),
      );
      const meetings = meetingsOf(lines, reach);
      for (let i = 0; i < lines.length; i++) {
        for (let j = i + 1; j < lines.length; j++) {
          const [a, b] = [lines[i] as Line, lines[j] as Line];
          const between = meetings.filter((m) => m.a === a.key && m.b === b.key);
          const brute = bruteDistances(a.path, b.path, 5);
          const truth = Math.min(...brute.map(({ d }) => d));
          // Brute force looks every 5 mm, so it may miss the nearest place by up to 2.5 mm where the lines cross.
          const ours = Math.min(Number.POSITIVE_INFINITY, ...between.map(least));
          if (truth < reach - 0.2) expect(ours).toBeLessThan(truth + 0.1);
          if (ours < reach) expect(ours).toBeGreaterThan(truth - 2.6);
          for (const { s, d } of brute) {
            const covered = between.some(({ places }) => (places[0]?.sa ?? 0) <= s && s <= (places.at(-1)?.sa ?? 0));
            if (d < reach - 0.2) expect(covered, `${a.key} at ${s}, ${d} from ${b.key}`).toBe(true);
            if (d > reach + 0.2) expect(covered, `${a.key} at ${s}, ${d} from ${b.key}`).toBe(false);
          }
          for (const { places } of between) {
            for (const [k, place] of places.entries()) {
              const [p, q] = [poseAt(a.path, place.sa), poseAt(b.path, place.sb)];
              expect(Math.abs(Math.hypot(p.x - q.x, p.y - q.y) - place.apart)).toBeLessThan(0.1);
              expect(place.apart).toBeLessThanOrEqual(reach);
              if (k > 0) expect(place.sa).toBeGreaterThan(places[k - 1]?.sa ?? 0);
            }
          }
        }
      }
    },
  );

  test.each([1, 2, 3, 4])("the nearest of all passes is the nearest place of the line, layout %d", (seed) => {
    const random = seeded(100 + seed);
    const a = lineOf("a", randomPath(random, 1000, 3));
    const b = lineOf("b", randomPath(random, 1000, 4));
    const meetings = meetingsOf([a, b], 200);
    const bySample = new Map<number, number>();
    for (const { places } of meetings) {
      for (const { sa, apart } of places)
        bySample.set(sa, Math.min(apart, bySample.get(sa) ?? Number.POSITIVE_INFINITY));
    }
    const near = [...a.samples.s]
      .map((s) => ({ s, d: bruteDistances(makePath(poseAt(a.path, s), []), b.path, 1)[0]?.d ?? Number.NaN }))
      .filter(({ d }) => d < 199.8);
    expect(near.length).toBeGreaterThan(0);
    expect(near.filter(({ s, d }) => !(Math.abs((bySample.get(s) ?? Number.NaN) - d) < 0.1))).toEqual([]);
  });
});

describe("known shapes", () => {
  test("parallel tracks meet along their whole length, at their spacing and difference of height", () => {
    const a = lineOf("a", straightFrom(0, 0, 0, 2000));
    const b = lineOf("b", straightFrom(500, 50, 0, 1000));
    const lines = lineMap(a, b);
    const profiles = new Map([
      [a.key, climbing(a, 900, 940)],
      [b.key, climbing(b, 1200, 1200)],
    ]);
    const { meetings } = deriveMeetings(lines, profiles, 130, undefined);
    expect(meetings).toHaveLength(1);
    const places = meetings[0]?.places ?? [];
    // Past b's ends the end itself is the nearest place: 120 mm farther, by Pythagoras.
    expect(places[0]?.sa).toBeCloseTo(380, 2);
    expect(places.at(-1)?.sa).toBeCloseTo(1620, 2);
    for (const { sa, sb, apart, rise } of places) {
      expect(apart).toBeCloseTo(Math.hypot(50, Math.max(0, 500 - sa, sa - 1500)), 6);
      expect(sb).toBeCloseTo(Math.min(1000, Math.max(0, sa - 500)), 6);
      expect(rise).toBeCloseTo(300 - sa / 50, 9);
    }
  });

  test("concentric curves keep their spacing", () => {
    const a = lineOf("a", circle(500, 0.5));
    const b = lineOf("b", circle(560, 0.5, { x: 0, y: -60, heading: 0 }));
    const [meeting, ...more] = meetingsOf([a, b], 100);
    expect(more).toHaveLength(0);
    for (const { apart } of meeting?.places ?? []) expect(Math.abs(apart - 60)).toBeLessThan(0.1);
    expect(meeting?.places.at(-1)?.sa).toBeCloseTo(a.path.length, 6);
  });

  test("tracks that cross between samples meet at distance nothing", () => {
    const a = lineOf("a", straightFrom(0, 0, 0, 1000));
    const b = lineOf("b", straightFrom(512.5, -487.5, Math.PI / 2, 1000));
    const [meeting, ...more] = meetingsOf([a, b], 100);
    expect(more).toHaveLength(0);
    const nearest = meeting?.places.find(({ apart }) => apart === least(meeting));
    expect(nearest).toMatchObject({ apart: 0 });
    expect(nearest?.sa).toBeCloseTo(512.5, 6);
    expect(nearest?.sb).toBeCloseTo(487.5, 6);
    expect([meeting?.places[0]?.sa, meeting?.places.at(-1)?.sa].map((s) => s?.toFixed(2))).toEqual([
      "412.50",
      "612.50",
    ]);
  });

  test("a helix of four turns passes over itself three, two and one turns later", () => {
    const radius = 450;
    const turn = 2 * Math.PI * radius;
    const helix = lineOf("helix", circle(radius, 4));
    const lines = lineMap(helix);
    const { meetings, computed } = deriveMeetings(lines, new Map([[helix.key, climbing(helix, 0, 400)]]), 100);
    expect(computed).toBe(1);
    expect(meetings.every(({ a, b }) => a === helix.key && b === helix.key)).toBe(true);
    for (const turns of [1, 2, 3]) {
      const passes = meetings.filter(
        ({ places }) => Math.abs((places[0]?.rise ?? 0) - 100 * turns) < 20 && places.length > 2,
      );
      expect(passes).toHaveLength(1);
      const places = passes[0]?.places ?? [];
      // The last places lie past the last that has the helix straight above it, within reach of its end.
      const under = places.filter(({ sa }) => sa <= (4 - turns) * turn);
      expect(under[0]?.sa).toBe(0);
      expect(under.at(-1)?.sa).toBeGreaterThan((4 - turns) * turn - 25);
      for (const { sa, sb, apart, rise } of under) {
        expect(apart).toBeLessThan(0.1);
        expect(Math.abs(sb - sa - turns * turn)).toBeLessThan(1);
        expect(Math.abs(rise - 100 * turns)).toBeLessThan(0.1);
      }
    }
  });

  test("a figure eight crosses itself once, and not where its ends join", () => {
    const radius = 400;
    const long = 2 * radius;
    // Two three-quarter loops of opposite hand, joined by straights that cross in the middle at a right angle.
    const eight = makePath({ x: 0, y: 0, heading: Math.PI / 4 }, [
      { length: radius, k0: 0, k1: 0 },
      { length: 1.5 * Math.PI * radius, k0: 1 / radius, k1: 1 / radius },
      { length: 2 * radius, k0: 0, k1: 0 },
      { length: 1.5 * Math.PI * radius, k0: -1 / radius, k1: -1 / radius },
      { length: radius, k0: 0, k1: 0 },
    ]);
    expect(Math.hypot(eight.end.x, eight.end.y)).toBeLessThan(1e-9);
    // Begun elsewhere, so that the crossing is not at its ends.
    const begin = 300;
    const turned = makePath(poseAt(eight, begin), [
      { length: radius - begin, k0: 0, k1: 0 },
      ...eight.segments.slice(1, 4),
      { length: radius + begin, k0: 0, k1: 0 },
    ]);
    const meetings = meetingsOf([lineOf("eight", turned)], 100);
    expect(meetings).toHaveLength(1);
    const nearest = meetings[0]?.places.find((p) => p.apart < 1e-6);
    const crossing = radius - begin + 1.5 * Math.PI * radius + long / 2;
    expect(nearest?.sa).toBeCloseTo(crossing, 3);
    expect(nearest?.sb).toBeCloseTo(turned.length - begin, 3);
  });

  test("both legs of a hairpin are told beside a track between them", () => {
    const hairpin = makePath(origin, [
      { length: 800, k0: 0, k1: 0 },
      { length: Math.PI * 100, k0: 1 / 100, k1: 1 / 100 },
      { length: 800, k0: 0, k1: 0 },
    ]);
    const between = lineOf("a", straightFrom(100, 90, 0, 700));
    const meetings = meetingsOf([between, lineOf("b", hairpin)], 130).filter(({ places }) => places.length > 20);
    expect(
      meetings
        .map(least)
        .map(Math.round)
        .sort((p, q) => p - q),
    ).toEqual([90, 110]);
  });

  test.each([
    { what: "a straight", path: straightFrom(0, 0, 0, 5000) },
    { what: "half a circle", path: circle(300, 0.5) },
    { what: "a whole circle, closed", path: circle(600, 1) },
    { what: "a path of no length", path: makePath(origin, []) },
  ])("$what does not meet itself", ({ path }) => {
    expect(meetingsOf([lineOf("a", path)], 120)).toEqual([]);
  });

  test("of a helix of very many turns only the nearest laps along it are told, and a line beyond all bounds is left out", () => {
    const spring = lineOf("spring", circle(100, 150));
    const bySample = new Map<number, number>();
    for (const { places } of meetingsOf([spring], 60)) {
      for (const { sa } of places) bySample.set(sa, (bySample.get(sa) ?? 0) + 1);
    }
    const inReach = [...spring.samples.s].map((s) => bySample.get(s) ?? 0);
    expect(Math.max(...inReach)).toBeLessThanOrEqual(64);
    expect(inReach[0]).toBeGreaterThan(60);
    expect(meetingsOf([lineOf("endless", circle(500, 1e6)), lineOf("b", straightFrom(0, 0, 0, 900))], 100)).toEqual([]);
  });

  test("no lines, no meetings", () => {
    expect(deriveMeetings(new Map(), new Map(), 100)).toMatchObject({ meetings: [], computed: 0 });
  });
});

describe("derived from previous meetings", () => {
  const random = seeded(5);
  const lines = Array.from({ length: 40 }, (_, i) => lineOf(`t${i}`, randomPath(random, 4000, 2)));
  const all = lineMap(...lines);
  const profiles = levelProfiles(all);
  const first = deriveMeetings(all, profiles, 150);

  test("nothing changed: nothing computed, the same objects", () => {
    const again = deriveMeetings(new Map(all), new Map(profiles), 150, first);
    expect(again.computed).toBe(0);
    expect(again.meetings).toHaveLength(first.meetings.length);
    again.meetings.forEach((meeting, i) => {
      expect(meeting).toBe(first.meetings[i]);
    });
  });

  test("one line moved: its pairs alone are computed, the result is that of starting afresh", () => {
    const old = lines[7] as Line;
    const moved = lineOf(old.id, makePath(toWorld(old.path.start, { x: 30, y: 20, heading: 0.1 }), old.path.segments));
    const changed = new Map(all).set(moved.key, moved);
    const heights = levelProfiles(changed);
    for (const [key, profile] of profiles) if (key !== moved.key) heights.set(key, profile);
    const next = deriveMeetings(changed, heights, 150, first);
    const fresh = deriveMeetings(changed, heights, 150);
    expect(next.meetings).toEqual(fresh.meetings);
    expect(next.computed).toBeLessThan(40);
    expect(next.computed).toBeGreaterThan(0);
    const untouched = first.meetings.filter(({ a, b }) => a !== moved.key && b !== moved.key);
    for (const meeting of untouched) expect(next.meetings).toContain(meeting);
  });

  test("a line taken away leaves no meeting behind", () => {
    const fewer = new Map(all);
    fewer.delete("track:t3");
    const next = deriveMeetings(fewer, profiles, 150, first);
    expect(next.computed).toBe(0);
    expect(next.meetings).toEqual(deriveMeetings(fewer, profiles, 150).meetings);
  });

  test("one profile changed: only the heights of its pairs are new", () => {
    const raised = lines[7] as Line;
    const heights = new Map(profiles).set(raised.key, climbing(raised, 950, 990));
    const next = deriveMeetings(all, heights, 150, first);
    expect(next.meetings).toEqual(deriveMeetings(all, heights, 150).meetings);
    expect(next.computed).toBe(first.pairs.filter(({ a, b }) => a === raised || b === raised).length);
  });

  test("another reach computes everything anew", () => {
    const next = deriveMeetings(all, profiles, 90, first);
    expect(next.meetings).toEqual(deriveMeetings(all, profiles, 90).meetings);
  });
});
