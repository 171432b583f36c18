/** Routes found are what they say they are: walked by the sampler of the tests, and held against all of the plan's readings. */
import { describe, expect, it } from "vitest";
import { areTwo, difference, occupancyOf, type RouteShape } from "../../src/climb/difference.js";
import type { ClimbRequest, ClimbRoute, ClimbStep, Shortfall } from "../../src/climb/request.js";
import { searchClimb } from "../../src/climb/search-climb.js";
import { samplePath } from "../../src/geometry/path.js";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Layout } from "../../src/layout/layout.js";
import { readPlan } from "../../src/plan/read.js";
import { writePlan } from "../../src/plan/write.js";
import { readingKey } from "../../src/readings/reading.js";
import { takeReadings } from "../../src/readings/take.js";
import { sampleRoute } from "./dense-sampler.js";
import {
  around,
  EDGE,
  LIMITS,
  balloon,
  OVER_TRACK,
  pad,
  peninsula,
  REQUEST,
  type Room,
  shelfOnly,
  STRUCTURE,
  WALL,
} from "./rooms.js";

interface Answer {
  readonly steps: readonly ClimbStep[];
  readonly routes: readonly ClimbRoute[];
  readonly shortfall: Shortfall | undefined;
}

const answers = new Map<string, Answer>();

/** Every room is searched once. */
function search(name: string, room: Room, request: ClimbRequest = REQUEST): Answer {
  const known = answers.get(name);
  if (known) return known;
  const steps = [...searchClimb(room.plan, request)];
  const last = steps.at(-1);
  if (last?.kind !== "answer") throw new Error("a search ends with its answer");
  const answer = { steps, routes: last.routes, shortfall: last.shortfall };
  answers.set(name, answer);
  return answer;
}

const failing = (layout: Layout): string[] =>
  takeReadings(layout.plan, layout)
    .filter(({ verdict }) => verdict === "fails")
    .map(readingKey);

/** Rounding of the sampler's steps. */
const STEPPED = 0.03;

const ROOMS: [name: string, room: Room, least: number][] = [
  ["once round a peninsula", peninsula(290), 3],
  // Round it the one way or the other: whatever else there is differs by inches, or is a lap for its own sake.
  ["a balloon on a neck", balloon(250), 2],
  ["round a pad", pad(210, 1700), 1],
  ["straight up", shelfOnly(122), 1],
];

describe.each(ROOMS)("%s", (name, room, least) => {
  const { plan } = room;

  it("has routes", () => {
    expect(search(name, room).routes.length).toBeGreaterThanOrEqual(least);
  });

  it("keeps every limit along every route", () => {
    for (const { edit, track, figures } of search(name, room).routes) {
      const layout = deriveLayout(edit.plan);
      const sampled = sampleRoute(layout, track, around(room));
      expect(sampled.curvature).toBeLessThanOrEqual(1 / LIMITS.radius + 1e-9);
      expect(sampled.sharpness).toBeLessThanOrEqual(1 / (LIMITS.radius * LIMITS.easement) + 1e-9);
      expect(sampled.grade).toBeLessThanOrEqual(LIMITS.grade + STEPPED);
      expect(sampled.felt).toBeLessThanOrEqual(LIMITS.feltGrade + STEPPED);
      expect(sampled.gap).toBeGreaterThanOrEqual(OVER_TRACK + STRUCTURE);
      expect(sampled.spacing).toBeGreaterThanOrEqual(LIMITS.centres - STEPPED);
      expect(sampled.bench).toBeGreaterThanOrEqual(EDGE - STEPPED);
      expect(sampled.wall).toBeGreaterThanOrEqual(WALL - STEPPED);
      expect(figures.run).toBeCloseTo(sampled.length, 6);
      expect(figures.ruling).toBeCloseTo(sampled.grade, 1);
      // The sampler also holds places aslant of one another together: 58 mm at 2.5 %.
      expect(figures.gap ?? sampled.gap).toBeLessThanOrEqual(sampled.gap + 1.5);
    }
  });

  it("joins both ends in place and height", () => {
    const before = deriveLayout(plan);
    const low = before.lines.get("track:low")?.path.end;
    const high = before.lines.get("track:high")?.path.start;
    for (const { edit, track } of search(name, room).routes) {
      const { start, end } = sampleRoute(deriveLayout(edit.plan), track, around(room));
      expect(start.point).toMatchObject({ x: expect.closeTo(low?.x ?? 0, 6), y: expect.closeTo(low?.y ?? 0, 6) });
      expect(end.point).toMatchObject({ x: expect.closeTo(high?.x ?? 0, 2), y: expect.closeTo(high?.y ?? 0, 2) });
      // Half of a vertical curve may lie before the joint, which it lifts by an eighth of its change times its length.
      const lifted = (LIMITS.grade / 100) * ((LIMITS.grade * 200) / 8);
      expect(Math.abs(start.height - 1000)).toBeLessThan(lifted);
      expect(Math.abs(end.height - (plan.decks["upper"]?.height ?? 0))).toBeLessThan(lifted);
    }
  });

  it("adds no failing reading, of all that are taken", () => {
    const before = failing(deriveLayout(plan));
    for (const { edit } of search(name, room).routes) {
      const after = failing(deriveLayout(edit.plan));
      expect(after.filter((key) => !before.includes(key))).toEqual([]);
    }
  });

  it("gives plans that can be written and read again", () => {
    for (const { edit } of search(name, room).routes) {
      const read = readPlan(writePlan(edit.plan));
      expect(read.ok && read.plan).toEqual(edit.plan);
    }
  });

  it("differs from route to route in shape", () => {
    const shapes = search(name, room).routes.map(({ edit, track }): RouteShape => {
      const path = deriveLayout(edit.plan).lines.get(`track:${track}`)?.path;
      if (!path) throw new Error("a route without track");
      const turns = path.segments.map(({ k0, k1, length }) => ((k0 + k1) / 2) * length);
      const sum = (angles: readonly number[]): number => angles.reduce((total, angle) => total + angle, 0);
      return {
        occupancy: occupancyOf(samplePath(path, 0.4, 60).map(({ x, y }) => [x, y] as const)),
        net: sum(turns),
        all: sum(turns.map((angle) => Math.abs(angle))),
      };
    });
    // Points fall a little otherwise than in the search.
    shapes.forEach((a, i) => shapes.slice(i + 1).forEach((b) => expect(areTwo(a, b, 0.03)).toBe(true)));
  });
});

describe("the measure of shapes", () => {
  const line = (...points: (readonly [number, number])[]) => ({ occupancy: occupancyOf(points), net: 0, all: 0 });
  const long = line([0, 0], [8000, 0]);

  it.each([
    [0, 0, false],
    [75, 0.2, false],
    [150, 0.35, false],
    [400, 0.7, true],
    [1700, 1, true],
  ])("a line %d mm beside a line is other by at most %d", (off, most, two) => {
    const beside = line([0, off], [8000, off]);
    expect(difference(long.occupancy, beside.occupancy)).toBeLessThanOrEqual(most + 1e-9);
    expect(areTwo(long, beside)).toBe(two);
  });

  it("is the same whichever comes first, and however finely points lie", () => {
    const bent = line([0, 0], [3000, 2000], [8000, 500]);
    const fine = line(...Array.from({ length: 161 }, (_, i) => [50 * i, 0] as const));
    expect(difference(long.occupancy, bent.occupancy)).toBeCloseTo(difference(bent.occupancy, long.occupancy), 12);
    expect(difference(long.occupancy, fine.occupancy)).toBeLessThan(0.01);
  });

  it("takes two laps of one ring for two routes, one of them for one", () => {
    const lap = (laps: number): RouteShape => ({
      occupancy: occupancyOf(
        Array.from({ length: 60 * laps + 1 }, (_, i) => [600 * Math.cos(i / 9.55), 600 * Math.sin(i / 9.55)] as const),
      ),
      net: 2 * Math.PI * laps,
      all: 2 * Math.PI * laps,
    });
    expect(areTwo(lap(3), lap(4))).toBe(true);
    expect(areTwo(lap(3), lap(3))).toBe(false);
  });
});

describe("known answers", () => {
  it("goes round the peninsula with four quarters of one hand", () => {
    const [best] = search("once round a peninsula", peninsula(290)).routes;
    expect(best?.figures).toMatchObject({ reversals: 0, curves: 3, curvature: expect.closeTo(360, 0), hidden: 0 });
    expect(best?.figures.run).toBeLessThan(12_900);
    expect(best?.figures.gap).toBeGreaterThan(OVER_TRACK + STRUCTURE);
  });

  it("goes straight where straight is enough, and shows no bends for their own sake", () => {
    const { routes } = search("straight up", shelfOnly(122));
    expect(routes.map(({ figures }) => figures.curves)).toEqual([0]);
    expect(routes[0]?.figures).toMatchObject({ run: expect.closeTo(5400, 6), curvature: 0 });
  });

  it("finds none where the way is too short, and says what would do", () => {
    const { routes, shortfall } = search("shelf only", shelfOnly(250));
    expect(routes).toEqual([]);
    // 250 mm at 2.5 %; half of either vertical curve lies on the level track it leaves or joins.
    expect(shortfall?.needed).toBeCloseTo(10_000, 6);
    expect(shortfall?.longest).toBeGreaterThan(5400);
    expect(shortfall?.longest).toBeLessThan(5500);
    const [grade, rise, ...more] = shortfall?.fits ?? [];
    expect(more).toEqual([]);
    // 250 of 5440 is 4.6 %; and 2.5 % of 5440 is 136.
    expect(grade).toMatchObject({ what: "grade", unit: "percent" });
    expect(grade?.value).toBeGreaterThanOrEqual(4.59);
    expect(grade?.value).toBeLessThanOrEqual(4.7);
    expect(rise).toMatchObject({ what: "rise", unit: "mm" });
    expect(rise?.value).toBeGreaterThanOrEqual(114);
    expect(rise?.value).toBeLessThan(118);
  });

  it("fits with what it says would do", () => {
    const { shortfall } = search("shelf only", shelfOnly(250));
    const grade = shortfall?.fits.find(({ what }) => what === "grade")?.value ?? 0;
    const steps = [...searchClimb(shelfOnly(250).plan, { ...REQUEST, grade })];
    expect(steps.some(({ kind }) => kind === "route")).toBe(true);
  });
});

describe("a search", () => {
  it("gives the same steps again", () => {
    const again = [...searchClimb(pad(210, 1700).plan, REQUEST)];
    expect(again).toEqual(search("round a pad", pad(210, 1700)).steps);
  });

  it("shows routes before its answer, and may be left at any step", () => {
    const steps = searchClimb(shelfOnly(122).plan, REQUEST);
    const first = steps.next();
    expect(first.value).toMatchObject({ kind: "progress" });
    for (const step of steps) if (step.kind === "route") break;
    expect(steps.next()).toEqual({ done: true, value: undefined });
  });

  it("refuses ends that are not free, or lie the wrong way round", () => {
    const { plan } = peninsula(250);
    const taken: ClimbRequest = { ...REQUEST, from: { track: "nowhere", end: "end" } };
    expect([...searchClimb(plan, taken)]).toMatchObject([{ kind: "refused" }]);
    const down: ClimbRequest = { ...REQUEST, from: REQUEST.to, to: REQUEST.from };
    expect([...searchClimb(plan, down)]).toMatchObject([{ kind: "refused", why: expect.stringMatching(/above/) }]);
  });
});
