/** What is carried on from layout to layout: the readings of a plan edited step by step, and how much is asked anew. */
import { describe, expect, test } from "vitest";
import { EDIT_KINDS } from "../../bench/edits.js";
import { hallPlan } from "../../bench/plans.js";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Layout } from "../../src/layout/layout.js";
import { setTrack } from "../../src/plan/track-edits.js";
import type { Plan } from "../../src/plan/schema.js";
import { whileSame } from "../../src/readings/carry.js";
import { reversals } from "../../src/readings/facing-curves.js";
import { foundByLine, lineContexts } from "../../src/readings/line-context.js";
import { foundByMeeting } from "../../src/readings/meeting-sides.js";
import { nearestTracks } from "../../src/readings/nearest-track.js";
import { readingKey } from "../../src/readings/reading.js";
import { RULES, takeReadings } from "../../src/readings/take.js";
import { turnoutStretches } from "../../src/readings/turnout-stretches.js";
import { firstFew } from "../../src/readings/worst-few.js";
import { seeded } from "../support/shapes.js";

type Step = readonly [name: string, edit: (plan: Plan, n: number) => Plan];

const KINDS: readonly Step[] = [
  ...EDIT_KINDS.map(
    ({ name, make }): Step => [
      name,
      (plan, n) => {
        const edit = make(plan, `d${n % 2}`, n);
        if (!edit.ok) throw new Error(`${name}: ${edit.message}`);
        return edit.plan;
      },
    ],
  ),
  ["track hidden", (plan, n) => hide(plan, `d${n % 2}-spur1`)],
  ["main hidden", (plan, n) => hide(plan, `d${n % 2}-main`)],
  [
    "turnout turned",
    (plan) => {
      const turnout = plan.turnouts["d0-spur1"];
      if (!turnout) throw new Error("no such turnout");
      const hand = turnout.hand === "left" ? "right" : "left";
      return { ...plan, turnouts: { ...plan.turnouts, "d0-spur1": { ...turnout, hand } } };
    },
  ],
  [
    "upper deck lowered",
    (plan, n) => {
      const { upper } = plan.decks;
      if (!upper) throw new Error("no such deck");
      return { ...plan, decks: { ...plan.decks, upper: { ...upper, height: 1400 - n } } };
    },
  ],
  ["limits set", (plan, n) => ({ ...plan, standards: { ...plan.standards, wall: { value: 40 + n, source: "set" } } })],
  [
    "track taken out",
    (plan) => {
      const { "d1-top2": _gone, ...tracks } = plan.tracks;
      return { ...plan, tracks };
    },
  ],
];

function hide(plan: Plan, id: string): Plan {
  const edit = setTrack(plan, id, { hidden: plan.tracks[id]?.hidden !== true });
  if (!edit.ok) throw new Error(edit.message);
  return edit.plan;
}

/** Values are sums taken in another order: they agree to a thousandth. */
const gist = (plan: Plan, layout: Layout) =>
  takeReadings(plan, layout).map((r) => ({
    key: readingKey(r),
    verdict: r.verdict,
    value: r.value === undefined ? undefined : Math.round(r.value * 1000) / 1000,
    places: r.places.map(({ thing, note }) => `${thing} ${note ?? ""}`),
  }));

const afresh = (plan: Plan) => {
  const copy = structuredClone(plan);
  return gist(copy, deriveLayout(copy));
};

describe("a hall of two districts, edited step by step", () => {
  test("has the readings of the same plan read afresh, whatever the order of edits", () => {
    const random = seeded(11);
    let plan = hallPlan(40);
    let layout = deriveLayout(plan);
    takeReadings(plan, layout);
    for (let n = 0; n < 24; n++) {
      // Every kind once, then by chance; the last of them takes a track out.
      const [name, edit] = KINDS[n < KINDS.length - 1 ? n : Math.floor(random() * KINDS.length)] ?? [
        "none",
        (p: Plan) => p,
      ];
      plan = edit(plan, n);
      layout = deriveLayout(plan, layout);
      expect([n, name, gist(plan, layout)]).toEqual([n, name, afresh(plan)]);
    }
  });

  test("and the plan before, read once more, has the readings it had", () => {
    const before = hallPlan(40);
    const first = deriveLayout(before);
    const had = gist(before, first);
    for (const [name, edit] of KINDS) {
      const plan = edit(before, 3);
      const layout = deriveLayout(plan, first);
      gist(plan, layout);
      expect([name, gist(before, first)]).toEqual([name, had]);
    }
  });
});

describe("after one edit", () => {
  const plan = hallPlan(40);
  const layout = deriveLayout(plan);
  const edited = (name: string): Layout => {
    const kind = KINDS.find(([own]) => own === name);
    if (!kind) throw new Error("no such edit");
    return deriveLayout(kind[1](plan, 0), layout);
  };
  const renamed = edited("track renamed");
  const moved = edited("spur's end moved");

  test("lines near it alone are asked about again", () => {
    let asked = 0;
    const keys = foundByLine(({ line }) => {
      asked++;
      return line.key;
    });
    const all = keys(layout);
    expect(asked).toBe(layout.lines.size);
    asked = 0;
    expect(keys(renamed)).toBe(all);
    expect(asked).toBe(0);
    expect(keys(moved)).toEqual([...moved.lines.keys()]);
    // The spur, and the route it leaves by, whose cars now come out on another line.
    expect(asked).toBe(2);
  });

  test("meetings near it alone are asked about again", () => {
    const asked: string[] = [];
    const pairs = foundByMeeting((meeting, a: object, b: object) => {
      asked.push(`${meeting.a} ${meeting.b}`);
      return { a, b };
    });
    const all = pairs(layout, lineContexts(layout));
    expect(asked).toHaveLength(layout.meetings.length);
    asked.length = 0;
    expect(pairs(renamed, lineContexts(renamed))).toBe(all);
    expect(asked).toEqual([]);
    expect(pairs(moved, lineContexts(moved))).toHaveLength(moved.meetings.length);
    expect(asked.length).toBeGreaterThan(0);
    expect(asked.length).toBeLessThan(layout.meetings.length / 4);
  });

  test("a name changes nothing that is known of track", () => {
    for (const rule of RULES) rule.take({ plan, layout });
    const known = [lineContexts, reversals, turnoutStretches].map((of) => of(layout));
    expect([lineContexts, reversals, turnoutStretches].map((of) => of(renamed))).toEqual(known);
    known.forEach((one, i) => expect([lineContexts, reversals, turnoutStretches][i]?.(renamed)).toBe(one));
    expect(nearestTracks(renamed).answers).toBe(nearestTracks(layout).answers);
    const kept = RULES.filter(
      (rule) => rule.take({ plan, layout })[0] === rule.take({ plan: renamed.plan, layout: renamed })[0],
    );
    expect(kept.length).toBeGreaterThan(12);
  });

  test("a rule is asked again when something it leans on changed, and only then", () => {
    let taken = 0;
    const take = whileSame(
      ({ plan: of }) => [of.standards, of.decks] as const,
      () => {
        taken++;
        return [];
      },
    );
    take({ plan, layout });
    take({ plan: renamed.plan, layout: renamed });
    expect(taken).toBe(1);
    const lowered = edited("upper deck lowered");
    take({ plan: lowered.plan, layout: lowered });
    expect(taken).toBe(2);
  });
});

test("the first few of many are those sorting would put first", () => {
  const random = seeded(3);
  for (let n = 0; n < 60; n++) {
    const items = Array.from({ length: n }, (_, i) => ({ value: Math.floor(10 * random()), i }));
    const order = (a: { value: number }, b: { value: number }): number => a.value - b.value;
    expect(firstFew(items, 7, order)).toEqual([...items].sort(order).slice(0, 7));
  }
});
