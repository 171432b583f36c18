/**
 * Random rooms: whatever route is shown, the sampler of the tests finds nothing wrong with it. The suite looks at some;
 * `CLIMB_ROOMS=300` in the environment asks for as many.
 */
import { describe, expect, it } from "vitest";
import type { ClimbRoute } from "../../src/climb/request.js";
import { searchClimb } from "../../src/climb/search-climb.js";
import { randomRoom, type RandomRoom } from "./random-rooms.js";
import { violations } from "./violations.js";

const ROOMS = Number(process.env["CLIMB_ROOMS"] ?? 40);
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

const shards = Array.from({ length: Math.ceil(ROOMS / SHARD) }, (_, i) => i * SHARD);
let found = 0;

describe("random rooms", () => {
  it.each(shards)("have sound routes, from room %i on", { timeout: 600_000 }, (from) => {
    for (let seed = from; seed < Math.min(ROOMS, from + SHARD); seed++) {
      const room = randomRoom(seed);
      const routes = routesOf(room);
      found += routes.length;
      for (const route of routes) expect(violations(room, route), `room ${seed}`).toEqual([]);
    }
  });

  it("have routes at all", () => {
    expect(found).toBeGreaterThan(ROOMS / 2);
  });
});
