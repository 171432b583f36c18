/** Crossovers, ladders and curved turnouts against worked examples. T-numbers are those of the data file. */
import { describe, expect, test } from "vitest";
import { curvatureAt, poseAt } from "../../src/geometry/path.js";
import { distance } from "../../src/geometry/pose.js";
import { wrapAngle } from "../../src/geometry/units.js";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Layout } from "../../src/layout/layout.js";
import { makeCrossover } from "../../src/layout/trackwork-makers/crossover.js";
import { makeLadder } from "../../src/layout/trackwork-makers/ladder.js";
import type { Edit } from "../../src/plan/edit.js";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import type { Plan, Track } from "../../src/plan/schema.js";
import { frogAngle, frogNumber, turnoutDimensions } from "../../src/standards/turnouts.js";
import data from "./data/trackwork.json" with { type: "json" };

const HO = emptyPlan({ title: "Test", width: 20000, depth: 8000, scale: "HO", units: "metric", body: "NMRA" });
const track = (x: number, y: number, length: number, more: Partial<Track> = {}): Track => ({
  class: "yard",
  deck: "lower",
  start: { pose: { x, y, heading: 0 } },
  legs: [{ straight: length }],
  ...more,
});
const laid = (edit: Edit): Layout => {
  if (!edit.ok) throw new Error(edit.message);
  return deriveLayout(edit.plan);
};

describe("T9: straight between the noses of a crossover (railway engineering text, read)", () => {
  const { D, G } = data.T9.given;
  // Model millimetres to the prototype's metre: gauge and centres in proportion.
  const per = 10;
  const plan: Plan = { ...HO, scale: { ...HO.scale, gauge: G * per } };
  test.each(Object.entries(data.T9.published))("1 in %s", (crossing, { ST }) => {
    const number = frogNumber(Math.atan(1 / Number(crossing)));
    const layout = deriveLayout({ ...plan, tracks: { a: track(0, 0, 4000), b: track(0, D * per, 4000) } });
    const wishes = { kind: "single", track: "a", at: 1500, onto: "b", number, hand: "left" } as const;
    // The model's joints take more room than the prototype's frogs leave; what is asked here is where the noses lie.
    const crossover = laid(makeCrossover(layout, wishes));
    const [first = Number.NaN, second = Number.NaN] = [...crossover.turnouts.values()].map(({ at }) => at);
    const { lead } = turnoutDimensions(G * per, number);
    expect(Math.abs((second - first - 2 * lead) / per - ST)).toBeLessThan(data.T9.tolerance);
  });
});

describe("T13: a ladder (derived from the formula)", () => {
  const foot = 304.8 / HO.scale.ratio;
  const p = data.T13.given.p * foot;
  test.each(Object.entries(data.T13.by_formula))("number %s: turnouts %d ft apart along it", (number, apart) => {
    const layout = deriveLayout({ ...HO, tracks: { main: track(0, 3000, 500) } });
    const from = { track: "main", end: "end" } as const;
    // Model turnouts take more of a ladder than the prototype's: all is 1.6 times as far apart.
    const shape = { tracks: 4, spacing: 1.6 * p, number: Number(number), hand: "right", length: 600 } as const;
    const ladder = laid(makeLadder(layout, { kind: "straight", from, deck: "lower", ...shape }));
    const places = [...ladder.turnouts.values()].map(({ at }) => at);
    expect(places).toHaveLength(3);
    places.slice(1).forEach((at, i) => expect((at - (places[i] ?? 0)) / foot / 1.6).toBeCloseTo(apart, 2));
    const roads = [1, 2, 3, 4].map((i) => ladder.lines.get(`track:ladder-road-${i}`)?.path);
    for (const road of roads) {
      // At the frog angle to the ladder, which goes on as the main came.
      expect(wrapAngle(road?.end.heading ?? 0)).toBeCloseTo(-frogAngle(Number(number)), 9);
    }
    roads.slice(1).forEach((road, i) => {
      const before = roads[i];
      expect(road && before ? distance(road.end, before.end) : 0).toBeCloseTo(1.6 * p, 6);
    });
    const [one, two] = roads;
    const along = Math.tan(frogAngle(Number(number)));
    expect(one && two ? one.length - two.length : 0).toBeCloseTo((1.6 * p) / along, 6);
  });
});

describe("T12: the diamond of a scissors crossover", () => {
  test.each([5, 6, 8])("number %d: twice the frog angle, midway", (number) => {
    const layout = deriveLayout({ ...HO, tracks: { a: track(0, 3000, 4000), b: track(0, 3054, 4000) } });
    const wishes = { kind: "double", track: "a", at: 1500, onto: "b", number, hand: "right" } as const;
    const { crossings } = laid(makeCrossover(layout, { ...wishes, at: 2500 }));
    expect(crossings).toHaveLength(1);
    expect(crossings[0]?.angle).toBeCloseTo(2 * frogAngle(number), 9);
    expect(crossings[0]?.point.y).toBeCloseTo(3027, 6);
  });
});

describe("a curved turnout: curvatures add up, 1/R = 1/Rhost + 1/Rlead (superposition, prototype practice)", () => {
  test.each([
    [1500, "left", "left"],
    [1500, "left", "right"],
    [900, "right", "right"],
    [2500, "right", "left"],
  ] as const)("host %d mm %s, %s hand", (radius, bend, hand) => {
    const host = track(0, 3000, 0, { legs: [{ curve: { radius, angle: 60, hand: bend, easement: 0 } }] });
    const turnouts = { t: { on: "host", at: 400, facing: "with", hand, number: 6 } } as const;
    const layout = deriveLayout({ ...HO, tracks: { host }, turnouts });
    const path = layout.lines.get("turnout:t")?.path;
    const { leadRadius } = turnoutDimensions(HO.scale.gauge, 6);
    const sign = (side: string): number => (side === "left" ? 1 : -1);
    const k = sign(bend) / radius + sign(hand) / leadRadius;
    expect(path && curvatureAt(path, leadRadius * frogAngle(6) * 0.5)).toBeCloseTo(k, 12);
    // Behind its curve the route bends as the host does, and turned off it by the frog angle.
    expect(path && curvatureAt(path, path.length - 1)).toBeCloseTo(sign(bend) / radius, 12);
    const heading =
      path && poseAt(path, path.length).heading - (path.length * sign(bend)) / radius - path.start.heading;
    expect(Math.abs(wrapAngle(heading ?? 0))).toBeCloseTo(frogAngle(6), 9);
  });
});
