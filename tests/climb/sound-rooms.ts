/** Random rooms: whatever route is shown, the sampler of the tests finds nothing wrong with it. */
import { describe, expect, it } from "vitest";
import type { ClimbRoute } from "../../src/climb/request.js";
import { searchClimb } from "../../src/climb/search-climb.js";
import { randomRoom, type RandomRoom } from "./random-rooms.js";
import { violations } from "./violations.js";

/** Rooms to a test: a fault is told before all others are through. */
const SHARD = 10;

/** Routes of the answer; what would have to give is not asked for here. */
function routesOf({ plan, request }: RandomRoom): readonly ClimbRoute[] {
  for (const step of searchClimb(plan, request)) {
    if (step.kind === "answer") return step.routes;
    if (step.kind === "refused") throw new Error(step.why);
    if (step.kind === "progress" && step.stage.startsWith("easing")) return [];
  }
  return [];
}

/** Tests of the rooms from one seed up to another; in several files, so that all cores search. */
export function soundRooms(first: number, end: number): void {
  let found = 0;
  describe(`random rooms ${first} to ${end - 1}`, () => {
    const shards = Array.from({ length: Math.ceil((end - first) / SHARD) }, (_, i) => first + i * SHARD);
    it.each(shards)("have sound routes, from room %i on", { timeout: 900_000 }, (from) => {
      for (let seed = from; seed < Math.min(end, from + SHARD); seed++) {
        const room = randomRoom(seed);
        const routes = routesOf(room);
        found += routes.length;
        const faults = routes.map((route) => violations(room, route));
        expect({ seed, faults }).toEqual({ seed, faults: routes.map(() => []) });
      }
    });

    it("have routes at all", () => {
      expect(found).toBeGreaterThan((end - first) / 2);
    });
  });
}
