import { describe, expect, it } from "vitest";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Layout } from "../../src/layout/layout.js";
import { findRoute } from "../../src/layout/route.js";
import { makeCrossover } from "../../src/layout/trackwork-makers/crossover.js";
import { type LadderWishes, makeLadder } from "../../src/layout/trackwork-makers/ladder.js";
import { makeYard, type YardWishes } from "../../src/layout/trackwork-makers/yard.js";
import { turnoutSize } from "../../src/layout/trackwork-makers/turnout-size.js";
import type { Edit } from "../../src/plan/edit.js";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import type { Plan } from "../../src/plan/schema.js";
import { readingKey } from "../../src/readings/reading.js";
import { easement } from "../../src/readings/easement.js";
import { joint } from "../../src/readings/joint.js";
import { radius } from "../../src/readings/radius.js";
import { reverseCurve } from "../../src/readings/reverse-curve.js";
import { trackSpacing } from "../../src/readings/track-spacing.js";
import { at, curve, endOf, straight, track } from "./small-plan.js";

const SCALES = [
  ["HO", "NMRA"],
  ["N", "NMRA"],
] as const;
const bare = (scale: "HO" | "N"): Plan =>
  emptyPlan({ title: "Test", width: 20000, depth: 8000, scale, units: "metric", body: "NMRA" });

/** Centres so much wider than the least are clear and not only kept. */
const CLEAR = 1.06;
/** What the makers answer for: joints, centres, reverse curves, radii and easements. */
const ANSWERED = [joint, trackSpacing, reverseCurve, radius, easement];
function laid(edit: Edit): Layout {
  if (!edit.ok) throw new Error(edit.message);
  return deriveLayout(edit.plan);
}
function faults(layout: Layout): unknown[] {
  return (
    ANSWERED.flatMap((rule) => rule.take({ plan: layout.plan, layout }))
      // A turnout's own radius is its number's.
      .filter(({ id, places }) => id !== "radius" || places[0]?.thing.startsWith("tracks."))
      .filter(({ verdict }) => verdict === "fails" || verdict === "tight")
      .map((reading) => [readingKey(reading), reading.verdict, reading.value, reading.places[0]])
  );
}
const why = (edit: Edit): string => (edit.ok ? "done" : edit.message);
const goes = (layout: Layout, a: string, b: string): boolean => findRoute(layout, a, b) !== undefined;

describe("a crossover", () => {
  const pair = (scale: "HO" | "N", apart: number, second = at(500, 3000 + apart)): Layout => {
    const plan = bare(scale);
    const tracks = { a: track(at(0, 3000), [straight(4000)]), b: track(second, [straight(3000)]) };
    return deriveLayout({ ...plan, tracks });
  };
  const wishes = { kind: "single", track: "a", at: 1800, onto: "b", number: 6, hand: "left" } as const;

  describe.each(SCALES)("in %s", (scale) => {
    const centres = CLEAR * bare(scale).standards.classes.main.centres.value;
    it.each([
      [6, "single", "left"],
      [6, "single", "right"],
      [8, "single", "left"],
      [6, "double", "left"],
      [6, "double", "right"],
      [8, "double", "right"],
    ] as const)("number %d, %s, %s hand, is clear", (number, kind, hand) => {
      for (const second of [at(500, 3000 + centres), at(3600, 3000 + centres, 180), at(500, 3000 - centres)]) {
        const layout = laid(makeCrossover(pair(scale, centres, second), { ...wishes, number, kind, hand }));
        expect(faults(layout)).toEqual([]);
        expect(layout.turnouts.size).toBe(kind === "single" ? 2 : 4);
        for (const turnout of layout.turnouts.values()) expect(turnout.number).toBe(number);
        const hands = [...layout.turnouts.values()].filter((turnout) => turnout.hand === hand);
        expect(hands).toHaveLength(2);
        const ways = ["a@100", "a@3900"].flatMap((a) => ["b@100", "b@2900"].filter((b) => goes(layout, a, b)));
        expect(ways).toHaveLength(kind === "double" ? 2 : 1);
        expect(layout.crossings).toHaveLength(kind === "single" ? 0 : 1);
      }
    });
  });

  it("double: the diamond has twice the frog angle and lies midway", () => {
    const layout = laid(makeCrossover(pair("HO", 52), { ...wishes, kind: "double" }));
    const [diamond] = layout.crossings;
    expect(diamond?.angle).toBeCloseTo(2 * turnoutSize(layout.plan, 6).angle, 9);
    expect(diamond?.point.y).toBeCloseTo(3026, 6);
  });

  it("a single one leads from each track to the other, one way", () => {
    const layout = laid(makeCrossover(pair("HO", 50), wishes));
    expect(
      ["a@100 b@2900", "a@3900 b@100", "a@100 b@100", "a@3900 b@2900"].map((way) =>
        goes(layout, ...(way.split(" ") as [string, string])),
      ),
    ).toEqual([true, false, false, false]);
  });

  it("says what does not fit and by how much", () => {
    // Number 6 in HO: 2 x 1.37 x 99 x sin F, sin F = 24/145, is 44.9 mm.
    expect(why(makeCrossover(pair("HO", 40), wishes))).toMatch(
      /wants tracks 44\.9 mm apart; the tracks are 40\.0 mm apart, 4\.9 mm short/,
    );
    expect(why(makeCrossover(pair("HO", 50), { ...wishes, at: 3900 }))).toMatch(/too short for the turnout/);
    expect(why(makeCrossover(pair("HO", 50, at(500, 3050, 1)), wishes))).toMatch(/not parallel/);
    expect(why(makeCrossover(pair("HO", 50), { ...wishes, onto: "c" }))).toMatch(/from one track to another/);
    const bent = { a: track(at(0, 3000), [straight(1900), curve(900, 20)]), b: track(at(0, 3050), [straight(3000)]) };
    expect(why(makeCrossover(deriveLayout({ ...bare("HO"), tracks: bent }), wishes))).toMatch(/wants straight track/);
  });

  it("does not lie on a turnout that is there", () => {
    const once = laid(makeCrossover(pair("HO", 50), wishes));
    expect(why(makeCrossover(once, { ...wishes, at: 1850 }))).toMatch(/would lie on turnout/);
  });
});

const lead = (scale: "HO" | "N"): Layout =>
  deriveLayout({ ...bare(scale), tracks: { main: track(at(500, 3000), [straight(600)], { class: "lead" }) } });

describe("a ladder", () => {
  const wishes = (layout: Layout, more: Partial<LadderWishes> = {}): LadderWishes => ({
    kind: "straight",
    from: endOf("main"),
    tracks: 5,
    spacing: CLEAR * (layout.plan.standards.classes.yard?.centres.value ?? 50),
    number: 6,
    hand: "right",
    length: 900,
    deck: "lower",
    ...more,
  });

  describe.each(SCALES)("in %s", (scale) => {
    it.each([
      ["straight", 2, 6, "left"],
      ["straight", 5, 6, "right"],
      ["straight", 6, 5, "left"],
      ["straight", 4, 8, "right"],
      ["curved-lead", 5, 6, "left"],
      ["curved-lead", 4, 5, "right"],
      ["compound", 4, 6, "right"],
      ["compound", 6, 6, "left"],
      ["compound", 7, 5, "right"],
      ["compound", 8, 8, "left"],
    ] as const)("%s, %d tracks, number %d, %s, is clear", (kind, tracks, number, hand) => {
      const from = lead(scale);
      // Bodies of a compound ladder turn beside one another, and want the centres of curves.
      const spacing = (kind === "compound" ? 1.4 : 1) * wishes(from).spacing;
      const layout = laid(makeLadder(from, wishes(from, { kind, tracks, number, hand, spacing })));
      expect(faults(layout)).toEqual([]);
      expect(layout.turnouts.size).toBe(tracks - 1);
      const roads = Object.entries(layout.plan.tracks).filter(([, { bumpers }]) => bumpers);
      expect(roads).toHaveLength(tracks);
      expect(roads.filter(([, { legs }]) => legs.some((leg) => "beside" in leg))).toHaveLength(tracks - 1);
      for (const [id] of roads) expect(goes(layout, "main", id)).toBe(true);
    });
  });

  it("lies on from a turnout's branch, too", () => {
    const before = lead("HO");
    const turnouts = { t: { on: "main", at: 100, facing: "with", hand: "left", number: 6 } } as const;
    const from = deriveLayout({ ...before.plan, turnouts });
    const layout = laid(makeLadder(from, wishes(from, { from: { turnout: "t" } })));
    expect(faults(layout)).toEqual([]);
    expect(why(makeLadder(layout, wishes(from, { from: { turnout: "t" } })))).toMatch(/goes on from there already/);
  });

  it("keeps its bodies parallel when the first is laid elsewhere", () => {
    const from = lead("HO");
    const layout = laid(makeLadder(from, wishes(from)));
    const main = layout.plan.tracks["main"];
    const moved = deriveLayout({
      ...layout.plan,
      tracks: { ...layout.plan.tracks, main: { ...main, start: at(900, 2500, 20) } as typeof main & object },
    });
    expect(moved.findings).toEqual([]);
    expect(faults(moved)).toEqual([]);
  });

  it("says what does not fit and by how much", () => {
    const from = lead("HO");
    // A number 6 takes 33 + 152.2 + 36.6 = 221.8 mm; 35 mm over sin F leave 211.5.
    expect(why(makeLadder(from, wishes(from, { spacing: 35 })))).toMatch(
      /takes 221\.8 mm of ladder and has 211\.\d mm, 10\.\d mm short/,
    );
    expect(why(makeLadder(from, wishes(from, { tracks: 1 })))).toMatch(/two tracks or more/);
    expect(why(makeLadder(from, wishes(from, { from: endOf("nowhere") })))).toMatch(/begins at the end/);
  });
});

describe("a yard", () => {
  const wishes = (layout: Layout, more: Partial<YardWishes> = {}): YardWishes => ({
    from: endOf("main"),
    tracks: 5,
    spacing: CLEAR * (layout.plan.standards.classes.yard?.centres.value ?? 50),
    number: 6,
    hand: "left",
    length: 1200,
    lead: 800,
    ends: "stub",
    runaround: false,
    deck: "lower",
    ...more,
  });

  describe.each(SCALES)("in %s", (scale) => {
    it.each([
      [2, 6, "left", "stub", false],
      [5, 6, "left", "stub", true],
      [5, 5, "right", "stub", true],
      [3, 6, "right", "double", false],
      [5, 6, "left", "double", true],
      [4, 5, "right", "double", true],
      [4, 8, "left", "double", true],
      [2, 6, "right", "double", true],
    ] as const)("%d tracks, number %d, %s, %s, runaround %s, is clear", (tracks, number, hand, ends, runaround) => {
      const from = lead(scale);
      const layout = laid(makeYard(from, wishes(from, { tracks, number, hand, ends, runaround })));
      expect(faults(layout)).toEqual([]);
      const roads = Object.entries(layout.plan.tracks).filter(([, { name }]) => /road/.test(name ?? ""));
      expect(roads).toHaveLength(tracks);
      for (const [id, { class: trackClass, bumpers }] of roads) {
        expect(trackClass).toBe("yard");
        expect(bumpers).toEqual(ends === "stub" ? ["end"] : undefined);
        expect(goes(layout, "main", id)).toBe(true);
        if (ends === "double") expect(goes(layout, id, "yard-far-lead")).toBe(true);
      }
      expect(layout.turnouts.size).toBe((tracks - 1) * (ends === "double" ? 2 : 1) + (runaround ? 2 : 0));
      if (runaround) expect(goes(layout, "main", "Yard runaround")).toBe(true);
    });
  });

  it("has the lead, and in its shortest road the length, that were asked for", () => {
    const from = lead("HO");
    const layout = laid(makeYard(from, wishes(from)));
    const ladder = [...layout.turnouts.values()].find(({ host }) => host === "track:yard-lead");
    expect(ladder?.joint).toBeCloseTo(800, 6);
    const ends = Object.keys(layout.plan.tracks).flatMap((id) =>
      /road/.test(id) ? (layout.lines.get(`track:${id}`)?.path.end.x ?? []) : [],
    );
    expect(Math.max(...ends) - Math.min(...ends)).toBeLessThan(1e-6);
    const legs = layout.plan.tracks["yard-road-5"]?.legs;
    const beside = legs?.find((leg) => "beside" in leg);
    const host = layout.lines.get("track:yard-road-4")?.path.length ?? 0;
    expect(beside && "beside" in beside ? host - (beside.beside.from ?? 0) : 0).toBeCloseTo(1200, 6);
  });

  it("says what does not fit and by how much", () => {
    const from = lead("HO");
    expect(why(makeYard(from, wishes(from, { spacing: 35 })))).toMatch(/mm short/);
    expect(why(makeYard(from, wishes(from, { length: 0 })))).toMatch(/no length/);
  });
});
