import { describe, expect, test } from "vitest";
import { makePath, type Path, poseAt } from "../../src/geometry/path.js";
import { offsetPoint } from "../../src/geometry/pose.js";
import { toRadians } from "../../src/geometry/units.js";
import { deriveCrossings } from "../../src/layout/crossings.js";
import type { Crossing } from "../../src/layout/layout.js";
import type { Line, LineKey, PlacedTurnout } from "../../src/layout/line.js";
import { deriveMeetings } from "../../src/layout/meetings.js";
import { climbing, levelProfiles, lineMap, lineOf, randomPath } from "../support/lines.js";
import { seeded } from "../support/shapes.js";

const REACH = 100;
const straight = (x: number, y: number, degrees: number, length: number): Path =>
  makePath({ x, y, heading: toRadians(degrees) }, [{ length, k0: 0, k1: 0 }]);
const through = (x: number, y: number, degrees: number, length: number): Path => {
  const heading = toRadians(degrees);
  return makePath({ ...offsetPoint({ x, y, heading }, -length / 2, 0), heading }, [{ length, k0: 0, k1: 0 }]);
};

function crossingsOf(lines: readonly Line[], raise = 0, turnouts: readonly PlacedTurnout[] = []): Crossing[] {
  const map = lineMap(...lines);
  const profiles = levelProfiles(map);
  const first = lines[0];
  if (first && raise !== 0) profiles.set(first.key, climbing(first, 900 + raise, 900 + raise));
  const { meetings } = deriveMeetings(map, profiles, REACH);
  return deriveCrossings(map, meetings, profiles, new Map(turnouts.map((t) => [t.id, t])));
}

describe("crossings", () => {
  test.each([90, 60, 30, 19, 9.5, 4, 2])(
    "two straights at %d degrees cross once, there and at that angle",
    (degrees) => {
      const main = lineOf("a", straight(0, 0, 0, 3000));
      const [crossing, ...more] = crossingsOf([main, lineOf("b", through(1507.3, 0, degrees, 1400))]);
      expect(more).toEqual([]);
      expect(crossing?.point.x).toBeCloseTo(1507.3, 6);
      expect(crossing?.point.y).toBeCloseTo(0, 6);
      expect(crossing?.a).toEqual({ line: main.key, s: expect.closeTo(1507.3, 6) });
      expect(crossing?.b.s).toBeCloseTo(700, 6);
      expect(crossing?.angle).toBeCloseTo(toRadians(degrees), 9);
    },
  );

  test.each([
    { raise: 4.9, count: 1 },
    { raise: -4.9, count: 1 },
    { raise: 5.1, count: 0 },
    { raise: -60, count: 0 },
  ])("raised by $raise mm there are $count", ({ raise, count }) => {
    const lines = [lineOf("a", straight(0, 0, 0, 2000)), lineOf("b", through(1000, 0, 70, 900))];
    expect(crossingsOf(lines, raise)).toHaveLength(count);
  });

  test.each([
    { what: "one goes on where the other ends", path: straight(2000, 0, 0, 500) },
    { what: "one goes on at an angle where the other ends", path: straight(2000, 0, 40, 500) },
    { what: "one ends on the other", path: straight(1000, -500, 90, 500) },
    { what: "one ends just short of the other", path: straight(1000, -500, 90, 499.9) },
    { what: "one lies on the other", path: straight(500, 0, 0, 800) },
    {
      what: "one leaves the other on a curve",
      path: makePath({ x: 500, y: 0, heading: 0 }, [{ length: 700, k0: 1 / 600, k1: 1 / 600 }]),
    },
    {
      what: "one touches the other and curves away",
      path: makePath({ x: 1000 - 600 * Math.sin(0.6), y: 600 * (1 - Math.cos(0.6)), heading: -0.6 }, [
        { length: 720, k0: 1 / 600, k1: 1 / 600 },
      ]),
    },
  ])("none where $what", ({ path }) => {
    expect(crossingsOf([lineOf("a", straight(0, 0, 0, 2000)), lineOf("b", path)])).toEqual([]);
  });

  test("a circle is crossed twice", () => {
    const circle = makePath({ x: 0, y: -500, heading: 0 }, [{ length: 2 * Math.PI * 500, k0: 1 / 500, k1: 1 / 500 }]);
    const found = crossingsOf([lineOf("a", circle), lineOf("b", through(300, 0, 90, 1300))]);
    expect(found.map(({ point }) => Math.round(point.y)).sort((p, q) => p - q)).toEqual([-400, 400]);
    for (const { angle } of found) expect(angle).toBeCloseTo(Math.acos(300 / 500), 6);
  });

  test("a loop over itself crosses itself once", () => {
    const loop = makePath({ x: -700, y: 0, heading: 0 }, [
      { length: 1400, k0: 0, k1: 0 },
      { length: 1.5 * Math.PI * 400, k0: 1 / 400, k1: 1 / 400 },
      { length: 1100, k0: 0, k1: 0 },
    ]);
    const found = crossingsOf([lineOf("a", loop)]);
    expect(found).toHaveLength(1);
    expect(found[0]?.angle).toBeCloseTo(Math.PI / 2, 9);
    expect(found[0]?.point.x).toBeCloseTo(300, 6);
  });

  test("every crossing of tracks laid by chance is one, counted by brute force", () => {
    const random = seeded(77);
    let all = 0;
    for (let i = 0; i < 40; i++) {
      const [a, b] = [lineOf("a", randomPath(random, 600, 4)), lineOf("b", randomPath(random, 600, 4))];
      const found = crossingsOf([a, b]).filter(({ a: p, b: q }) => p.line !== q.line);
      expect(found).toHaveLength(bruteCrossings(a.path, b.path));
      for (const { a: p, b: q, point } of found) {
        for (const pose of [poseAt(a.path, p.s), poseAt(b.path, q.s)]) {
          expect(Math.hypot(pose.x - point.x, pose.y - point.y)).toBeLessThan(1e-6);
        }
      }
      all += found.length;
    }
    expect(all).toBeGreaterThan(10);
  });
});

/** Chords of 3 mm of one path that properly cross chords of the other. */
function bruteCrossings(a: Path, b: Path): number {
  const chords = (path: Path) => {
    const n = Math.ceil(path.length / 3);
    const points = Array.from({ length: n + 1 }, (_, i) => poseAt(path, (path.length * i) / n));
    return points.slice(1).map((q, i) => [points[i] ?? q, q] as const);
  };
  const side = (p: { x: number; y: number }, q: { x: number; y: number }, r: { x: number; y: number }) =>
    (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
  let count = 0;
  const others = chords(b);
  for (const [p, q] of chords(a)) {
    for (const [u, v] of others) {
      if (side(p, q, u) < 0 !== side(p, q, v) < 0 && side(u, v, p) < 0 !== side(u, v, q) < 0) count++;
    }
  }
  return count;
}

describe("a turnout and its host", () => {
  const host = lineOf("host", straight(0, 0, 0, 2000));
  const route: Line = {
    ...lineOf(
      "x",
      makePath({ x: 800, y: 0, heading: 0 }, [
        { length: 200, k0: 1 / 900, k1: 1 / 900 },
        { length: 60, k0: 0, k1: 0 },
      ]),
    ),
    key: "turnout:w" as LineKey,
    kind: "turnout",
    id: "w",
  };
  const turnout: PlacedTurnout = {
    id: "w",
    host: host.key,
    at: 800,
    direction: 1,
    hand: "left",
    number: 5,
    departs: 800,
    heel: 1060,
    joint: 770,
    radius: 900,
    angle: 0.2,
    routes: [{ side: "left", line: route.key }],
  };

  test("do not cross where they touch at the points", () => {
    expect(crossingsOf([host, route], 0, [turnout])).toEqual([]);
  });

  test("a route laid across its host beyond the turnout does cross it", () => {
    const back = { ...route, ...pathAndSamples(through(1500, 0, 20, 600)) };
    expect(crossingsOf([host, back], 0, [turnout])).toHaveLength(1);
    const inside = { ...route, ...pathAndSamples(through(900, 0, 20, 600)) };
    expect(crossingsOf([host, inside], 0, [turnout])).toEqual([]);
  });

  test("another track across the turnout crosses both", () => {
    expect(crossingsOf([host, route, lineOf("z", through(950, 0, 100, 600))], 0, [turnout])).toHaveLength(2);
  });
});

const pathAndSamples = (path: Path): Pick<Line, "path" | "samples"> => ({ path, samples: lineOf("p", path).samples });
