/** Turntables, slips and bumpers on the sheet and on paper: drawn, pointed at, told in words. */
import { describe, expect, it } from "vitest";
import { objectsOf } from "../../src/drafting/objects.js";
import { pick } from "../../src/drafting/pick.js";
import { makeScenes } from "../../src/drafting/scene.js";
import { thingBox } from "../../src/drafting/thing-shape.js";
import { drawSvg } from "../../src/exchange/svg/draw.js";
import { edge } from "../../src/readings/edge.js";
import type { Bench } from "../../src/plan/schema.js";
import { at, layoutOf, straight, track } from "../layout/small-plan.js";

const PIT = { turntable: "pit" };
const layout = layoutOf({
  tracks: {
    approach: track(at(1000, 3000), [straight(1000)], { class: "lead" }),
    s0: track({ ...PIT, stall: 0 }, [straight(400)], { class: "spur", bumpers: ["end"] }),
    a: track(at(1000, 4000), [straight(2000)]),
    b: track(at(1000, 3900, 6), [straight(2000)]),
  },
  slips: { x: { name: "Throat", on: "a", at: 1000, across: "b", kind: "double" } },
  turntables: { pit: { name: "Roundhouse", on: "approach", end: "end", bridge: 300, stalls: [-20, 20] } },
});
const visible = { minX: 0, minY: 0, maxX: 8000, maxY: 6000 };
const look = (scale: number) => ({ deck: "lower", others: "alone", scale, visible, units: "metric" }) as const;

describe("on the sheet", () => {
  it.each([
    // Pit; bridge and the one free stall as single lines; a bumper's bar with two braces.
    [0.05, [1, 2, 3]],
    [0.3, [1, 4, 3]],
  ])("parts are drawn at %d px to the mm", (scale, chains) => {
    const parts = makeScenes()
      .sceneOf(layout, look(scale))
      .track.find(({ key }) => key === "lower parts");
    expect(parts?.shapes.map((shape) => shape.chains.length)).toEqual(chains);
    expect(parts?.shapes[0]?.box).toMatchObject({ minX: 2000, maxX: 2300 });
  });

  it("points stand at both ends of both curves of a double slip", () => {
    const { marks } = makeScenes().sceneOf(layout, look(0.05));
    expect(marks.filter(({ kind }) => kind === "points")).toHaveLength(4);
  });

  it("are pointed at", () => {
    const under = (x: number, y: number, reach = 4) =>
      pick(layout, { point: { x, y }, reach, deck: "lower" })[0]?.thing;
    expect(under(2150, 3050)).toEqual({ kind: "record", collection: "turntables", id: "pit" });
    const at = layout.slips.get("x")?.point;
    expect(at && under(at.x, at.y, 1)).toEqual({ kind: "record", collection: "slips", id: "x" });
  });

  it("have boxes to look at and words to stand for them", () => {
    const box = thingBox(layout, { kind: "record", collection: "turntables", id: "pit" });
    expect(box).toMatchObject({ minX: 2000, maxX: 2300 });
    expect(thingBox(layout, { kind: "record", collection: "slips", id: "x" })).toBeDefined();
    const told = objectsOf(layout, "metric").map(({ name, facts }) => `${name}: ${facts}`);
    expect(told).toContainEqual(expect.stringMatching(/^turntable Roundhouse: bridge 300.*, 2 stalls, at the end of/));
    expect(told).toContainEqual(expect.stringMatching(/^double slip Throat: No\. 9\.5, between a and b/));
    expect(told).toContainEqual(expect.stringMatching(/stall 1 of turntable Roundhouse to its own end, with a bumper/));
  });
});

it("on paper a turntable, a bumper and both curves of a slip are drawn", () => {
  const svg = drawSvg(layout.plan, layout, { view: "deck", deck: "lower", scale: 10 });
  expect(svg).toMatch(/<path [^>]*data-turntable="pit"/);
  expect(svg).toMatch(/<path [^>]*data-mark="bumpers"/);
  expect(svg).toMatch(/data-line="slip:x:left"/);
  expect(svg).toMatch(/data-line="slip:x:right"/);
});

describe("the pit lies on the bench", () => {
  const bench = (east: number): Record<string, Bench> => ({
    b: {
      deck: "lower",
      shape: {
        outline: [
          { x: 900, y: 2500 },
          { x: east, y: 2500 },
          { x: east, y: 4500 },
          { x: 900, y: 4500 },
        ],
      },
    },
  });
  // The pit's far edge lies at x = 2300; the least is 31.75 mm.
  it.each([
    [2600, 100, "clear"],
    [2320, 20, "fails"],
    [2250, -50, "fails"],
  ] as const)("that ends at %d", (east, value, verdict) => {
    const { tracks, turntables } = layout.plan;
    const { approach } = tracks;
    const own = layoutOf({ tracks: approach ? { approach } : {}, turntables, benches: bench(east) });
    const [told] = edge.take({ plan: own.plan, layout: own });
    expect(told?.value).toBeCloseTo(value, 6);
    expect(told?.verdict).toBe(verdict);
    expect(told?.places[0]).toMatchObject({ thing: "tracks.approach" });
  });
});
