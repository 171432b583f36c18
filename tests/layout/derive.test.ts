import { describe, expect, it } from "vitest";
import { deriveLayout, legStationsOf, meetingReach } from "../../src/layout/derive.js";
import type { Plan } from "../../src/plan/schema.js";
import { at, BARE, curve, endOf, from, layoutOf, planOf, straight, track, turnout } from "./small-plan.js";

describe("deriveLayout", () => {
  it("of an empty plan is empty", () => {
    const layout = deriveLayout(BARE);
    for (const size of [layout.lines.size, layout.profiles.size, layout.network.nodes.size]) expect(size).toBe(0);
    expect([layout.meetings, layout.crossings, layout.hidden, layout.findings]).toEqual([[], [], [], []]);
    expect(layout.plan).toBe(BARE);
  });

  it("gathers the findings of every stage", () => {
    const layout = layoutOf({
      tracks: { a: track(at(1000, 1000), [straight(500)]), lost: track(endOf("gone"), [straight(10)]) },
      turnouts: { x: turnout("a", 490) },
      pins: { p: { track: "a", at: 900, height: 1000 } },
      benches: {
        knot: {
          deck: "lower",
          shape: {
            outline: [
              { x: 0, y: 0 },
              { x: 100, y: 100 },
              { x: 100, y: 0 },
              { x: 0, y: 100 },
            ],
          },
        },
      },
    });
    expect(layout.findings.map(({ thing }) => thing)).toEqual([
      "tracks.lost.start",
      "turnouts.x",
      "pins.p",
      "benches.knot",
    ]);
  });

  it("never changes the plan or the layout it starts from", () => {
    const freeze = <T>(value: T): T => {
      if (typeof value === "object" && value !== null && !Object.isFrozen(value) && !ArrayBuffer.isView(value)) {
        Object.freeze(value);
        for (const item of Object.values(value)) freeze(item);
      }
      return value;
    };
    const plan: Plan = freeze(
      planOf({
        tracks: { a: track(at(1000, 1000), [straight(900), curve(600, 60)]), b: track(from("x"), [straight(100)]) },
        turnouts: { x: turnout("a", 300) },
        pins: { p: { track: "a", at: 0, height: 1000 } },
      }),
    );
    const first = freeze(deriveLayout(plan));
    const { a } = plan.tracks;
    if (!a) throw new Error("no track");
    const next = freeze({ ...plan, tracks: { ...plan.tracks, a: { ...a, legs: [straight(950), curve(600, 60)] } } });
    expect(deriveLayout(next, first).lines.get("track:a")?.path.length).toBeCloseTo(950 + 200 * Math.PI, 9);
    expect(first.lines.get("track:a")?.path.length).toBeCloseTo(900 + 200 * Math.PI, 9);
  });

  it("takes a layout it did not make as no help", () => {
    const plan = planOf({ tracks: { a: track(at(1000, 1000), [straight(900)]) } });
    const copy = { ...deriveLayout(plan) };
    expect(deriveLayout(plan, copy).derived.lines).toBe(1);
  });
});

it("stations of legs follow the legs, also where a track is taken over from before", () => {
  const plan = planOf({ tracks: { a: track(at(1000, 1000), [straight(300), straight(200), curve(500, 90)]) } });
  const layout = deriveLayout(plan);
  const stations = legStationsOf(layout, "a");
  expect(stations.slice(0, 3)).toEqual([0, 300, 500]);
  expect(stations[3]).toBe(layout.lines.get("track:a")?.path.length);
  expect(legStationsOf(deriveLayout({ ...plan, title: "Again" }, layout), "a")).toEqual(stations);
  expect(legStationsOf(layout, "b")).toEqual([]);
  expect(legStationsOf({ ...layout }, "a")).toEqual([]);
});

it("the reach of meetings covers the widest spacing asked for and the roadbed over a car", () => {
  const { classes, longestCar, roadbedWidth } = BARE.standards;
  const reach = meetingReach(BARE);
  for (const limits of Object.values(classes)) {
    if (limits) expect(reach).toBeGreaterThan(limits.centres.value);
  }
  expect(reach).toBeGreaterThan((roadbedWidth.value + longestCar.value.width) / 2);
});
