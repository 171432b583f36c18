import { describe, expect, it } from "vitest";
import { deriveLayout, meetingsOf } from "../../src/layout/derive.js";
import type { DerivedCounts, Layout } from "../../src/layout/layout.js";
import { amendRecord, type Edit } from "../../src/plan/edit.js";
import type { Plan } from "../../src/plan/schema.js";
import { moveTrackStart, setLeg, setTrack } from "../../src/plan/track-edits.js";
import { hallPlan } from "../../bench/plans.js";
import { Chance, randomEdit, randomPlan } from "./random-plan.js";

/** Heights of one solve and another agree to this; all else to the last digit. */
const rounded = (_: string, value: unknown): unknown =>
  typeof value === "number" && !Number.isInteger(value) ? Number(value.toFixed(5)) : value;
const plain = (value: unknown): unknown => JSON.parse(JSON.stringify(value, rounded));

/** What must be the same whether derived anew or from another layout: everything but the counts. */
const compared = (layout: Layout, at: string) => ({
  at,
  lines: [...layout.lines],
  turnouts: [...layout.turnouts],
  slips: [...layout.slips],
  turntables: [...layout.turntables],
  nodes: [...layout.network.nodes],
  edges: layout.network.edges,
  pinned: [...layout.network.pinned],
  byLine: [...layout.network.byLine],
  hidden: layout.hidden,
  space: layout.space,
  findings: layout.findings,
  profiles: plain([...layout.profiles]),
  meetings: plain(layout.meetings),
  crossings: plain(layout.crossings),
});

describe("a layout derived from the one before equals one derived from nothing", () => {
  it.each(Array.from({ length: 40 }, (_, i) => 5000 + i))("through ten edits of chance, plan %d", (seed) => {
    const chance = new Chance(seed);
    let plan = randomPlan(seed);
    let layout = deriveLayout(plan);
    const steps: Layout[] = [layout];
    for (let step = 0; step < 10; step++) {
      // Now and then an edit is undone, or a layout of long ago is the one at hand.
      const back = steps[chance.below(steps.length)];
      plan = back && chance.yes(0.15) ? back.plan : randomEdit(plan, chance);
      const from = back && chance.yes(0.15) ? back : layout;
      layout = deriveLayout(plan, from);
      steps.push(layout);
      const place = `seed ${seed} step ${step}`;
      const fresh = deriveLayout(plan);
      const some = new Set([...layout.lines.keys()].filter(() => chance.yes(0.2)));
      const near = fresh.meetings.filter(({ a, b }) => some.has(a) || some.has(b));
      expect(meetingsOf(layout, some)).toEqual(near);
      // Meetings nobody asks for are left out for a while, and caught up with.
      if (chance.yes(0.3)) continue;
      expect(compared(layout, place)).toEqual(compared(fresh, place));
    }
  });
});

describe("pins raised, lowered and slid along their tracks", () => {
  it.each(Array.from({ length: 12 }, (_, i) => 7000 + i))("give what deriving afresh gives, plan %d", (seed) => {
    const chance = new Chance(seed);
    let plan = seed % 2 === 0 ? hallPlan(10) : randomPlan(seed);
    let layout = deriveLayout(plan);
    for (let step = 0; step < 8; step++) {
      const ids = Object.keys(plan.pins);
      const id = ids[chance.below(Math.max(1, ids.length))];
      if (id === undefined) return;
      const at = chance.yes(0.3) ? { at: chance.below(900) } : {};
      plan = edited(amendRecord(plan, "pins", id, { height: 900 + chance.below(700), deck: undefined, ...at }));
      layout = deriveLayout(plan, layout);
      const place = `seed ${seed} step ${step}`;
      expect(compared(layout, place)).toEqual(compared(deriveLayout(plan), place));
    }
  });
});

const edited = (edit: Edit): Plan => {
  if (!edit.ok) throw new Error(edit.message);
  return edit.plan;
};

describe("only what an edit changes is derived anew", () => {
  const plan = hallPlan(40);
  const layout = deriveLayout(plan);
  // Asked for once, so that what follows starts from them.
  if (layout.meetings.length < 100) throw new Error("too few meetings to tell anything");
  const after = (edit: Edit): Layout => deriveLayout(edited(edit), layout);
  const anew = (next: Layout): string[] =>
    [...next.lines].filter(([key, line]) => layout.lines.get(key) !== line).map(([key]) => key);
  const NOTHING: DerivedCounts = { lines: 0, profiles: 0, meetings: 0, decks: 0 };

  it("at first everything", () => {
    expect(layout.findings).toEqual([]);
    expect(layout.derived).toMatchObject({ lines: layout.lines.size, profiles: layout.lines.size, decks: 2 });
    expect(layout.derived.meetings).toBeGreaterThan(layout.meetings.length / 20);
  });

  it("nothing for the same plan, a new title, or a track's new name", () => {
    expect(deriveLayout(plan, layout).derived).toEqual(NOTHING);
    expect(deriveLayout({ ...plan, title: "Another" }, layout).derived).toEqual(NOTHING);
    expect(after(setTrack(plan, "d0-main", { name: "Main line" })).derived).toEqual(NOTHING);
  });

  it("one line, no deck, when a spur's end moves", () => {
    const next = after(setLeg(plan, "d0-spur1", 2, { straight: 333 }));
    expect(next.derived).toMatchObject({ lines: 1, decks: 0 });
    expect(anew(next)).toEqual(["track:d0-spur1"]);
    expect(next.derived.profiles).toBe(1);
    // The spur with its few neighbours, not with every line there is.
    expect(next.derived.meetings).toBeLessThan(20);
  });

  it("one deck, no line, when a bench moves", () => {
    const shape = { disc: { centre: { x: 3000, y: 3000 }, radius: 600 } };
    const next = after(amendRecord(plan, "benches", "d0-bench", { shape }));
    expect(next.derived).toEqual({ ...NOTHING, decks: 1 });
  });

  it("no line and no deck when a pin is raised, but the profiles between pins", () => {
    const next = after(amendRecord(plan, "pins", "d0-top", { height: 1410, deck: undefined }));
    expect(next.derived).toMatchObject({ lines: 0, decks: 0 });
    expect(next.derived.profiles).toBeGreaterThan(0);
    expect(next.derived.profiles).toBeLessThan(layout.lines.size / 2);
    // The network is the one it was, but for the height that is pinned.
    const { edges, nodes, pinned } = next.network;
    expect([edges === layout.network.edges, nodes === layout.network.nodes]).toEqual([true, true]);
    expect([...pinned].filter(([key, height]) => layout.network.pinned.get(key) !== height)).toHaveLength(1);
  });

  it("a turnout's route and what hangs on it when the turnout moves", () => {
    const next = after(amendRecord(plan, "turnouts", "d0-yard2", { at: 800 }));
    expect(anew(next).sort()).toEqual(["track:d0-yard2", "turnout:d0-yard2"]);
    expect(next.derived.lines).toBe(2);
  });

  it("all that hangs on a main, and nothing else, when it moves", () => {
    const next = after(moveTrackStart(plan, "d0-main", { pose: { x: 2010, y: 2503, heading: 0 } }));
    const moved = anew(next);
    // The link is the one track of another district that leads here, or from here to there.
    const expected = [...layout.lines.keys()].filter((key) => /^(track|turnout):d0-/.test(key));
    expect(moved.sort()).toEqual(expected.sort());
    expect(next.derived.lines).toBe(expected.length);
  });

  it("the wider curve and what lies behind it when a radius changes", () => {
    const leg = plan.tracks["d0-branch"]?.legs[1];
    if (!leg || !("curve" in leg)) throw new Error("no curve there");
    const next = after(setLeg(plan, "d0-branch", 1, { curve: { ...leg.curve, radius: leg.curve.radius + 10 } }));
    const behind = ["branch", "shelf", "top0", "top1", "top2"].map((name) => `track:d0-${name}`);
    const routes = ["top0", "top1", "top2"].map((name) => `turnout:d0-${name}`);
    expect(anew(next).sort()).toEqual([...behind, ...routes].sort());
  });

  it("nothing of what was there when an edit is undone", () => {
    const moved = after(setLeg(plan, "d0-spur1", 2, { straight: 333 }));
    const back = deriveLayout(plan, moved);
    expect(back.derived).toMatchObject({ lines: 1, decks: 0 });
    for (const [key, line] of layout.lines) {
      if (key !== "track:d0-spur1") expect(back.lines.get(key)).toBe(line);
    }
  });
});
