/** What lies under a point: the right thing, nearest first, the deck in hand before the others. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { pick, type PickWishes, within } from "../../src/drafting/pick.js";
import { thingKey } from "../../src/drafting/thing.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { hillPlan } from "../exchange/hill-plan.js";

const layout = deriveLayout(hillPlan);
const at = (x: number, y: number, more: Partial<PickWishes> = {}) =>
  pick(layout, { point: { x, y }, reach: 20, deck: "foot", ...more });
const keys = (hits: ReturnType<typeof pick>) => hits.map(({ thing }) => thingKey(thing));

const CASES: readonly (readonly [string, number, number, Partial<PickWishes>, string])[] = [
  ["a track, with its leg", 400, 304, {}, "tracks.main.0"],
  ["a turnout where its host runs through it", 905, 300, {}, "turnouts.points"],
  ["a pin before the track under it", 2700, 305, {}, "pins.low"],
  ["a bench from inside", 2000, 100, {}, "benches.south"],
  ["an obstacle from inside", 1900, 1500, {}, "obstacle.bench"],
  ["a wall at its face", 5, 2000, {}, "wall.3"],
  ["an opening before its wall", 3998, 500, {}, "opening.door"],
  ["a name of a place by its letters", 950, 522, { px: 5 }, "labels.foot"],
  ["what is preferred before what is nearer", 400, 304, { prefer: ["benches"] }, "benches.south"],
  ["only what is asked for", 400, 304, { only: ["benches"] }, "benches.south"],
  ["another deck where there is nothing else", 2000, 2700, {}, "benches.north"],
  ["the deck in hand", 2000, 2700, { deck: "top" }, "benches.north"],
];

describe("picking", () => {
  it.each(CASES)("finds %s", (_, x, y, wishes, first) => {
    expect(keys(at(x, y, wishes))[0]).toBe(first);
  });

  it("meets nothing on the bare floor, outside, and at no place", () => {
    expect(at(3000, 1200)).toEqual([]);
    expect(at(-5000, 0)).toEqual([]);
    expect(at(Number.NaN, 0)).toEqual([]);
  });

  it("tells how far along the track", () => {
    expect(at(400, 304)[0]).toMatchObject({ s: 100, distance: 4, point: { x: 400, y: 300 } });
  });

  it("keeps every hit within reach or around the point, tier by tier", () => {
    const TIERS = ["mark", "line", "edge", "inside"];
    const coordinate = fc.double({ min: -200, max: 4200, noNaN: true });
    fc.assert(
      fc.property(coordinate, coordinate, fc.double({ min: 1, max: 300, noNaN: true }), (x, y, reach) => {
        const hits = at(x, y, { reach });
        for (const hit of hits) if (hit.tier !== "inside") expect(hit.distance).toBeLessThanOrEqual(reach);
        const tiers = hits.map(({ tier }) => TIERS.indexOf(tier));
        expect(tiers).toEqual([...tiers].sort((a, b) => a - b));
        const lines = hits.filter(({ tier }) => tier === "line").map(({ distance }) => distance);
        for (const [i, d] of lines.entries()) expect(d).toBeGreaterThanOrEqual((lines[i - 1] ?? 0) - 1e-6);
      }),
      { seed: 11, numRuns: 200 },
    );
  });

  it("finds in a box what lies wholly in it", () => {
    const box = { minX: 250, minY: 250, maxX: 2750, maxY: 600 };
    expect(within(layout, box, "foot").map(thingKey).sort()).toEqual([
      "labels.foot",
      "pins.low",
      "tracks.loop",
      "tracks.main",
      "turnouts.points",
    ]);
    expect(within(layout, { ...box, maxX: 2000 }, "foot").map(thingKey)).not.toContain("tracks.main");
  });
});
