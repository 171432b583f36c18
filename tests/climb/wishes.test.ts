/** What may be asked of a climb besides: rankings, level stretches, a turnout of its own at an end, benches it may bring. */
import { describe, expect, it } from "vitest";
import { carsUp } from "../../src/climb/figures.js";
import { type ClimbRequest, type ClimbRoute, type ClimbStep, RANKINGS } from "../../src/climb/request.js";
import { searchClimb } from "../../src/climb/search-climb.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { straightHeightAt } from "../../src/layout/profile.js";
import type { Plan } from "../../src/plan/schema.js";
import { readingKey } from "../../src/readings/reading.js";
import { takeReadings } from "../../src/readings/take.js";
import { box } from "../readings/fixture.js";
import { peninsula, REQUEST, shelfOnly } from "./rooms.js";

function answerOf(plan: Plan, request: ClimbRequest): ClimbStep | undefined {
  for (const step of searchClimb(plan, request)) {
    if (step.kind === "answer" || step.kind === "refused") return step;
    // What would have to give is not asked here.
    if (step.kind === "progress" && step.stage.startsWith("easing")) return { kind: "answer", routes: [] };
  }
  return undefined;
}

const routesOf = (plan: Plan, request: ClimbRequest): readonly ClimbRoute[] => {
  const answer = answerOf(plan, request);
  return answer?.kind === "answer" ? answer.routes : [];
};

const failing = (plan: Plan): string[] =>
  takeReadings(plan, deriveLayout(plan))
    .filter(({ verdict }) => verdict === "fails")
    .map(readingKey);

describe("a ranking", () => {
  const { plan } = peninsula(290);
  const all = new Map(RANKINGS.map((rankBy) => [rankBy, routesOf(plan, { ...REQUEST, rankBy })]));

  it("only puts the same routes in another order", () => {
    const tracks = [...all.values()].map((routes) => routes.map(({ cost }) => cost).sort((a, b) => a - b));
    for (const costs of tracks) expect(costs).toEqual(tracks[0]);
    expect(tracks[0]?.length).toBe(3);
  });

  it("puts first what it asks for", () => {
    const figures = (by: (typeof RANKINGS)[number]) => (all.get(by) ?? []).map((route) => route.figures);
    const rises = (values: readonly number[]): boolean =>
      values.every((v, i) => i === 0 || v >= (values[i - 1] ?? v) - 1e-3);
    expect(rises(figures("least-grade").map(({ felt }) => felt))).toBe(true);
    expect(rises(figures("least-hidden").map(({ hidden }) => hidden))).toBe(true);
    expect(rises(figures("most-visible-run").map(({ run, hidden }) => hidden - run))).toBe(true);
    expect(rises(figures("easiest-reach").map(({ reach }) => reach ?? 0))).toBe(true);
    expect(rises(figures("least-new-bench").map(({ newBench }) => newBench))).toBe(true);
    // The cheapest is the shortest here, and no gentler for it.
    const gentlest = all.get("least-grade")?.[0];
    expect(all.get("least-grade")?.some(({ cost }) => cost < (gentlest?.cost ?? 0))).toBe(true);
  });
});

describe("figures", () => {
  it("tell reach and aisle as the readings do, and cars where the engine is known", () => {
    const [route] = routesOf(peninsula(290).plan, { ...REQUEST, most: 1, engineCars: 40 });
    if (!route) throw new Error("there is a route");
    const taken = takeReadings(route.edit.plan, deriveLayout(route.edit.plan));
    const aisle = taken.find((reading) => readingKey(reading) === "aisle");
    expect(route.figures.aisleLeft).toBeCloseTo(aisle?.value ?? 0, 3);
    const reach = taken.find((reading) => readingKey(reading) === "reach:lower");
    expect(route.figures.reach).toBeLessThanOrEqual((reach?.value ?? 0) + 1e-6);
    expect(route.figures.reach).toBeGreaterThan(100);
    expect(route.figures.cars).toBe(carsUp(40, route.figures.felt));
  });

  it("count cars by adhesion and rolling resistance", () => {
    // 40 on the level at 2.5 %: an engine of 4.545 cars' weight; at 2.5 % felt it pulls 4.545 x 19.5 % against 5 % a car.
    expect(carsUp(40, 0)).toBe(40);
    expect(carsUp(40, 2.5)).toBe(17);
    expect(carsUp(40, 30)).toBe(0);
  });
});

describe("a level stretch", () => {
  const length = 1500;
  const routes = routesOf(peninsula(230).plan, { ...REQUEST, level: { length } });

  it("lies on the way of every route, at one height between its vertical curves", () => {
    expect(routes.length).toBeGreaterThan(0);
    for (const { edit, track, figures } of routes) {
      const profile = deriveLayout(edit.plan).profiles.get(`track:${track}`);
      if (!profile || !figures.level) throw new Error("it is there");
      const { from, to } = figures.level;
      expect(to - from).toBeCloseTo(length, 6);
      const heights = [from, (from + to) / 2, to].map((s) => straightHeightAt(profile, s));
      for (const height of heights) expect(height).toBeCloseTo(heights[0] ?? 0, 6);
      expect(heights[0]).toBeGreaterThan(1010);
      expect(heights[0]).toBeLessThan(1220);
      for (const { at, length: curve } of profile.curves)
        expect(at <= from - curve / 2 + 1e-6 || at >= to + curve / 2 - 1e-6).toBe(true);
    }
  });

  it("makes the climb longer by itself", () => {
    // 250 mm of 10 m and 1.5 m of level: more than the shelf has.
    expect(routesOf(shelfOnly(130).plan, { ...REQUEST, level: { length } })).toEqual([]);
    expect(routesOf(shelfOnly(130).plan, REQUEST).length).toBe(1);
  });
});

describe("a place on a track as an end", () => {
  const { plan } = peninsula(250);

  it("brings a turnout of the plan's usual number along", () => {
    const from = { track: "low", at: 300 };
    const routes = routesOf(plan, { ...REQUEST, from });
    expect(routes.length).toBeGreaterThan(0);
    for (const { edit, track } of routes) {
      const [[id, turnout] = ["", undefined]] = Object.entries(edit.plan.turnouts);
      expect(turnout).toMatchObject({ on: "low", at: 300, number: 6 });
      expect(edit.plan.tracks[track]?.start).toEqual({ turnout: id });
      expect(failing(edit.plan).filter((key) => !failing(plan).includes(key))).toEqual([]);
      expect(deriveLayout(edit.plan).findings).toEqual([]);
    }
  });

  it("may be the upper end, and either side be asked for", () => {
    const to = { track: "high", at: 700, facing: "against", hand: "right" } as const;
    const routes = routesOf(plan, { ...REQUEST, to, most: 1 });
    for (const { edit } of routes) {
      const turnouts = Object.values(edit.plan.turnouts);
      expect(turnouts).toMatchObject([{ on: "high", at: 700, facing: "against", hand: "right" }]);
      expect(failing(edit.plan).filter((key) => !failing(plan).includes(key))).toEqual([]);
    }
    expect(routes.length).toBe(1);
  });

  it("is refused in words where no turnout can stand", () => {
    const why = (from: ClimbRequest["from"]) => {
      const answer = answerOf(plan, { ...REQUEST, from });
      return answer?.kind === "refused" ? answer.why : "";
    };
    expect(why({ track: "low", at: 790, facing: "with" })).toMatch(/^from: a No\. 6 turnout cannot stand there: ./);
    expect(why({ track: "low", at: 5000 })).toMatch(/beyond the end/);
    expect(why({ track: "nowhere", at: 50 })).toMatch(/no such track/);
  });
});

describe("benches a climb may bring", () => {
  const { plan, benches } = peninsula(290);
  const { tongue, ...rest } = plan.benches;
  const without = { ...plan, benches: rest };
  const area = [benches[1] ?? []];

  it("come with the routes that need them", () => {
    expect(tongue).toBeDefined();
    const [route] = routesOf(without, { ...REQUEST, allow: [area], most: 1 });
    // 1.5 m by 3.7 m, and 100 mm of it on the shelf.
    expect(route?.figures.newBench).toBeCloseTo(1500 * 3700, -2);
    expect(Object.keys(route?.edit.plan.benches ?? {}).length).toBe(Object.keys(rest).length + 1);
  });

  it("are not built where they leave people no aisle", () => {
    // The room is 8 m wide: a door in the west wall, and a bench that leaves 300 mm to the north of it.
    const { outline } = plan.room;
    const narrow = outline.map(({ x, y }) => ({ x, y: Math.min(y, 4600) }));
    const door = { kind: "door", wall: 3, at: 1000, width: 800 } as const;
    const shut = { ...without, room: { ...plan.room, outline: narrow, openings: { door } } };
    expect(routesOf(shut, { ...REQUEST, allow: [area] })).toEqual([]);
    expect(routesOf(shut, { ...REQUEST, allow: [[box(3250, 500, 4750, 3900)]], most: 1 }).length).toBe(1);
  });
});
