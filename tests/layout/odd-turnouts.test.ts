/** Turnouts that are not one on its own: three-way, lapped, and measured from the part in hand. */
import { describe, expect, it } from "vitest";
import { makeScenes } from "../../src/drafting/scene.js";
import { drawSvg } from "../../src/exchange/svg/draw.js";
import { wrapAngle } from "../../src/geometry/units.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { findRoute } from "../../src/layout/route.js";
import { amendRecord } from "../../src/plan/edit.js";
import type { Plan, Template } from "../../src/plan/schema.js";
import { joint } from "../../src/readings/joint.js";
import { reverseCurve } from "../../src/readings/reverse-curve.js";
import { trackSpacing } from "../../src/readings/track-spacing.js";
import { frogAngle } from "../../src/standards/turnouts.js";
import { at, from, layoutOf, lineAt, straight, track, turnout } from "./small-plan.js";

describe("a three-way turnout: two of opposite hands at one place", () => {
  const threeWay = (lap: number): Partial<Plan> => ({
    tracks: {
      main: track(at(0, 3000), [straight(3000)]),
      one: track(from("l"), [straight(900)]),
      other: track(from("r"), [straight(900)]),
    },
    turnouts: { l: turnout("main", 500), r: turnout("main", 500 + lap, { hand: "right" }) },
  });

  it.each([0, 20, 60])("lapped by %d mm is laid, and clear", (lap) => {
    const layout = layoutOf(threeWay(lap));
    expect(layout.findings).toEqual([]);
    const { plan } = layout;
    const told = [joint, trackSpacing, reverseCurve]
      .flatMap((rule) => rule.take({ plan, layout }))
      .filter(({ verdict }) => verdict === "fails");
    expect(told.map(({ id, places }) => [id, places[0]])).toEqual([]);
    expect(layout.crossings).toEqual([]);
    for (const end of ["main@2900", "one", "other"]) expect(findRoute(layout, "main@10", end)).toBeDefined();
    expect(findRoute(layout, "one", "other")).toBeUndefined();
    const headings = ["one", "other"].map((id) => lineAt(layout, `track:${id}`).path.end.heading);
    expect(headings[0]).toBeCloseTo(frogAngle(6), 9);
    expect(headings[1]).toBeCloseTo(-frogAngle(6), 9);
  });

  it("is drawn whole", () => {
    const layout = layoutOf(threeWay(0));
    const visible = { minX: 0, minY: 0, maxX: 8000, maxY: 6000 };
    const look = { deck: "lower", others: "alone", scale: 0.05, visible, units: "metric" } as const;
    const { track: batches, marks } = makeScenes().sceneOf(layout, look);
    expect(batches.flatMap(({ shapes }) => shapes)).toHaveLength(layout.lines.size);
    expect(marks.filter(({ kind }) => kind === "points")).toHaveLength(2);
  });
});

describe("a measured template", () => {
  const TEMPLATE: Template = { name: "Old brass", length: 230, points: 30, angle: 10, radius: 800 };
  const plan = layoutOf({
    tracks: { main: track(at(0, 3000), [straight(2000)]), spur: track(from("t"), [straight(400)]) },
    turnouts: {
      t: { on: "main", at: 600, facing: "with", hand: "left", template: "m" },
      u: turnout("main", 1400),
    },
    templates: { m: TEMPLATE },
  }).plan;
  const before = deriveLayout(plan);
  const edit = amendRecord(plan, "templates", "m", { angle: 12, radius: 700 });
  if (!edit.ok) throw new Error(edit.message);
  const after = deriveLayout(edit.plan, before);
  const turned = (layout: typeof before): number =>
    wrapAngle(lineAt(layout, "turnout:t").path.end.heading) / (Math.PI / 180);

  it("that is changed lays its turnouts again, with what hangs on them, and nothing else", () => {
    expect(turned(before)).toBeCloseTo(10, 9);
    expect(turned(after)).toBeCloseTo(12, 9);
    expect(after.turnouts.get("t")?.radius).toBe(700);
    expect(after.derived.lines).toBe(2);
    expect(lineAt(after, "turnout:u")).toBe(lineAt(before, "turnout:u"));
    expect(after.lines).toEqual(deriveLayout(edit.plan).lines);
  });

  it("stays in the plan as it was measured", () => {
    expect(edit.plan.templates["m"]).toEqual({ ...TEMPLATE, angle: 12, radius: 700 });
  });

  it("shows true on paper", () => {
    const ends = [before, after].map((layout) => {
      const drawn = drawSvg(layout.plan, layout, { view: "deck", deck: "lower", scale: 10 });
      return /data-line="turnout:t"[^>]*/.exec(drawn)?.[0];
    });
    expect(ends[0]).toBeDefined();
    expect(ends[0]).not.toBe(ends[1]);
  });
});
