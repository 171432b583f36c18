/** Rooms with a known answer: what was laid by hand is found or bettered, and what cannot be is not found. */
import { describe, expect, it } from "vitest";
import type { ClimbRoute } from "../../src/climb/request.js";
import { searchClimb } from "../../src/climb/search-climb.js";
import { poseAt } from "../../src/geometry/path.js";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Layout } from "../../src/layout/layout.js";
import type { Plan } from "../../src/plan/schema.js";
import { readingKey } from "../../src/readings/reading.js";
import { takeReadings } from "../../src/readings/take.js";
import { sampleRoute } from "./dense-sampler.js";
import { KNOWN, type KnownRoom } from "./known-rooms.js";
import { around, EDGE, LIMITS, OVER_TRACK, STRUCTURE, WALL } from "./rooms.js";

const failing = (layout: Layout): string[] =>
  takeReadings(layout.plan, layout)
    .filter(({ verdict }) => verdict === "fails")
    .map(readingKey);

/** The room with the route that was laid by hand. */
function withHand({ plan, built }: KnownRoom): Plan {
  if (!built) throw new Error("nothing was laid by hand");
  const track = { class: "main", deck: "lower", start: { track: "low", end: "end" }, legs: [...built.legs] } as const;
  const pins = {
    foot: { track: "hand", at: built.from, height: 1000 },
    head: { track: "hand", at: built.to, deck: "upper" },
  };
  return { ...plan, tracks: { ...plan.tracks, hand: track }, pins: { ...plan.pins, ...pins } };
}

/** What the search would say a line costs: turning, reversals and curves; counted by walking it. */
function costOf(layout: Layout, track: string): number {
  const path = layout.lines.get(`track:${track}`)?.path;
  if (!path) throw new Error("it was not laid");
  let [turning, reversals, curves, hand, curved] = [0, 0, 0, 0, false];
  for (let s = 10; s <= path.length; s += 10) {
    const turned = poseAt(path, s).heading - poseAt(path, s - 10).heading;
    turning += Math.abs(turned);
    const straight = Math.abs(turned) < 1e-4;
    if (!straight && !curved) curves++;
    curved = !straight;
    if (straight) continue;
    if (hand !== 0 && Math.sign(turned) !== hand) reversals++;
    hand = Math.sign(turned);
  }
  return 0.6 * turning + 1.6 * reversals + 0.45 * curves;
}

function routesOf({ plan, request }: KnownRoom): readonly ClimbRoute[] {
  for (const step of searchClimb(plan, request)) {
    if (step.kind === "answer") return step.routes;
    if (step.kind === "progress" && step.stage.startsWith("easing")) return [];
  }
  return [];
}

const STEPPED = 0.03;

it.each(KNOWN.filter(({ built }) => built))(
  "$name: the readings have nothing against what was laid by hand",
  (room) => {
    const layout = deriveLayout(withHand(room));
    expect(layout.findings).toEqual([]);
    expect(failing(layout)).toEqual(failing(deriveLayout(room.plan)));
  },
);

describe.each(KNOWN.filter(({ impossible }) => impossible === undefined))("$name", (room) => {
  const routes = routesOf(room);

  it("is found, and no worse than by hand", () => {
    expect(routes.length).toBeGreaterThan(0);
    if (!room.built) return;
    // Length beyond need costs a little too, which is not counted of what was laid by hand.
    expect(routes[0]?.cost).toBeLessThan(costOf(deriveLayout(withHand(room)), "hand") + 0.5);
  });

  it("keeps every limit", () => {
    for (const { edit, track } of routes) {
      const sampled = sampleRoute(deriveLayout(edit.plan), track, around(room));
      expect(sampled.curvature).toBeLessThanOrEqual(1 / LIMITS.radius + 1e-9);
      expect(sampled.sharpness).toBeLessThanOrEqual(1 / (LIMITS.radius * LIMITS.easement) + 1e-9);
      expect(sampled.grade).toBeLessThanOrEqual(LIMITS.grade + STEPPED);
      expect(sampled.felt).toBeLessThanOrEqual(LIMITS.feltGrade + STEPPED);
      expect(sampled.gap).toBeGreaterThanOrEqual(OVER_TRACK + STRUCTURE);
      expect(sampled.spacing).toBeGreaterThanOrEqual(LIMITS.centres - STEPPED);
      expect(sampled.bench).toBeGreaterThanOrEqual(EDGE - STEPPED);
      expect(sampled.wall).toBeGreaterThanOrEqual(WALL - STEPPED);
    }
  });
});

describe.each(KNOWN.filter(({ impossible }) => impossible !== undefined))("$name", (room) => {
  it("has none: $impossible", () => {
    expect(routesOf(room)).toEqual([]);
  });
});
