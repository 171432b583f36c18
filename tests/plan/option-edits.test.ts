import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Layout } from "../../src/layout/layout.js";
import { printRef } from "../../src/plan/collections.js";
import { done, type Edit, putRecord } from "../../src/plan/edit.js";
import * as options from "../../src/plan/option-edits.js";
import { asOption, changedForAll } from "../../src/plan/option-in-hand.js";
import { optionOf, recordsOfOption, strayReferences } from "../../src/plan/option-records.js";
import { danglingReferences } from "../../src/plan/references.js";
import { type Id, type Plan, planSchema } from "../../src/plan/schema.js";
import { chooseOption } from "../../src/plan/setting-edits.js";
import { takeReadings } from "../../src/readings/take.js";
import { addTrack, setTrack } from "../../src/plan/track-edits.js";
import { hillPlan } from "../exchange/hill-plan.js";
import { Chance } from "../layout/random-plan.js";
import { randomPlan as readingPlan } from "../readings/random-plans.js";
import { seeded } from "../support/shapes.js";
import { OPTIONS, planWithOptions, splitIntoOptions } from "./option-plans.js";

const after = (edit: Edit): Plan => {
  if (!edit.ok) throw new Error(edit.message);
  return edit.plan;
};
const message = (edit: Edit): string => (edit.ok ? `done: ${edit.name}` : edit.message);

/** What is there to see and to measure, without the plan itself; a placed turntable holds its record. */
const shown = ({ plan: _plan, derived: _derived, ...layout }: Layout): unknown => ({
  ...layout,
  turntables: [...layout.turntables].map(([id, { turntable: _own, ...placed }]) => [id, placed]),
  meetings: layout.meetings.length,
  crossings: layout.crossings,
});
const layoutOf = (plan: Plan): unknown => shown(deriveLayout(plan));

const withOptions = after(options.addOption(after(options.addOption(hillPlan, "Climb A").edit), "Climb B").edit);
const inA = after(chooseOption(withOptions, "climb-a"));
const spur = (turnout: Id) => ({ class: "spur", deck: "foot", start: { turnout }, legs: [{ straight: 300 }] }) as const;
const points = (on: Id) => ({ on, at: 1300, facing: "with", hand: "left", number: 6 }) as const;

const seeds = fc.integer({ min: 1, max: 100_000 });
const FEW = { seed: 20, numRuns: 60 };

describe("laws", () => {
  test("an option that is duplicated and the copy removed leaves the plan as it was", () => {
    fc.assert(
      fc.property(seeds, fc.constantFrom(...OPTIONS), (seed, id) => {
        const plan = planWithOptions(seed);
        const { edit, option } = options.duplicateOption(plan, id);
        const copied = after(edit);
        expect(planSchema.safeParse(copied).success).toBe(true);
        expect(recordsOfOption(copied, option)).toHaveLength(recordsOfOption(plan, id).length);
        expect(strayReferences(copied)).toEqual([]);
        expect(after(options.deleteOption(copied, option))).toEqual(plan);
      }),
      FEW,
    );
  });

  test("the copy of an option lies as the option does", () => {
    fc.assert(
      fc.property(seeds, fc.constantFrom(...OPTIONS), (seed, id) => {
        const plan = planWithOptions(seed);
        const { edit, option } = options.duplicateOption(plan, id);
        const lengths = (now: Id): number[] =>
          [...deriveLayout(after(chooseOption(after(edit), now))).lines.values()]
            .map(({ path }) => path.length)
            .sort((a, b) => a - b);
        expect(lengths(option)).toEqual(lengths(id));
      }),
      FEW,
    );
  });

  test("an option taken for good is laid out as it was in hand, and no option is left", () => {
    fc.assert(
      fc.property(seeds, fc.constantFrom(...OPTIONS), (seed, id) => {
        const plan = planWithOptions(seed);
        const kept = after(options.promoteOption(plan, id));
        expect(kept.options).toEqual({});
        expect(kept.option).toBeUndefined();
        expect(danglingReferences(kept)).toEqual(
          danglingReferences(after(chooseOption(plan, id))).filter(({ from }) => {
            const owner = optionOf(plan, from);
            return owner === undefined || owner === id;
          }),
        );
        expect(layoutOf(kept)).toEqual(layoutOf(after(chooseOption(plan, id))));
      }),
      FEW,
    );
  });

  test("chosen back and forth, also from the layout before, an option has the same layout", () => {
    fc.assert(
      fc.property(
        seeds,
        fc.array(fc.constantFrom(undefined, ...OPTIONS), { minLength: 2, maxLength: 4 }),
        (seed, way) => {
          let plan = planWithOptions(seed);
          let layout = deriveLayout(plan);
          for (const id of way) {
            plan = after(chooseOption(plan, id));
            layout = deriveLayout(plan, layout);
            expect(shown(layout)).toEqual(layoutOf(plan));
          }
        },
      ),
      FEW,
    );
  });

  test("and the same readings, whatever was kept of those of another", () => {
    const way = fc.array(fc.constantFrom(undefined, ...OPTIONS), { minLength: 2, maxLength: 4 });
    fc.assert(
      fc.property(seeds, way, (seed, ids) => {
        const made = readingPlan(seeded(seed));
        const chance = new Chance(seed);
        let plan = splitIntoOptions(made, chance);
        let layout = deriveLayout(plan);
        takeReadings(plan, layout);
        for (const id of ids) {
          plan = after(chooseOption(plan, id));
          layout = deriveLayout(plan, layout);
          const alone = structuredClone(plan);
          expect(takeReadings(plan, layout)).toEqual(takeReadings(alone, deriveLayout(alone)));
        }
      }),
      { seed: 20, numRuns: 8 },
    );
  });

  test("records moved into an option or to all never hang on another's", () => {
    let moves = 0;
    fc.assert(
      fc.property(seeds, fc.constantFrom(undefined, ...OPTIONS), fc.nat(), (seed, to, pick) => {
        const plan = planWithOptions(seed);
        const refs = [undefined, ...OPTIONS].flatMap((id) => recordsOfOption(plan, id));
        const ref = refs[pick % refs.length];
        if (!ref) return;
        const edit = options.moveToOption(plan, [ref], to);
        if (!edit.ok) return;
        moves++;
        expect(strayReferences(edit.plan)).toEqual([]);
        expect(optionOf(edit.plan, ref)).toBe(to);
        // And back: what had come along from all options is there again.
        if (optionOf(plan, ref) === undefined)
          expect(strayReferences(after(options.moveToOption(edit.plan, [ref], undefined)))).toEqual([]);
      }),
      FEW,
    );
    expect(moves).toBeGreaterThan(30);
  });
});

describe("names", () => {
  test("are needed, and nobody else's", () => {
    expect(message(options.addOption(hillPlan, "  ").edit)).toBe("an option needs a name");
    expect(message(options.addOption(withOptions, "climb a").edit)).toBe("there is an option called climb a already");
    expect(message(options.renameOption(withOptions, "climb-b", "Climb A"))).toMatch(/already/);
    expect(after(options.renameOption(withOptions, "climb-b", " Helix ")).options["climb-b"]?.name).toBe("Helix");
    expect(message(options.renameOption(withOptions, "none", "x"))).toMatch(/there is no option/);
    expect(options.freeOptionName(hillPlan)).toBe("Option A");
    expect(options.freeOptionName(withOptions, "Climb A")).toBe("Climb A 2");
  });
});

describe("what an edit adds", () => {
  test("belongs to the option in hand; what was there stays whose it was", () => {
    const edit = asOption(addTrack(inA, "new", spur("points")), inA, "climb-a");
    expect(after(edit).tracks["new"]?.option).toBe("climb-a");
    expect(after(edit).tracks["main"]).toBe(hillPlan.tracks["main"]);
    expect(after(asOption(addTrack(inA, "new", spur("points")), inA, undefined)).tracks["new"]?.option).toBeUndefined();
    const refusedEdit: Edit = { ok: false, message: "no" };
    expect(asOption(refusedEdit, inA, "climb-a")).toBe(refusedEdit);
  });

  test("hangs on nothing of another option", () => {
    const own = after(asOption(putRecord(inA, "turnouts", "t", points("main")), inA, "climb-a"));
    const inB = after(chooseOption(own, "climb-b"));
    expect(message(asOption(addTrack(inB, "new", spur("t")), inB, "climb-b"))).toBe(
      "track new of Climb B hangs on turnout t of Climb A: that is there with this option only",
    );
    const common = asOption(setTrack(own, "main", { start: { turnout: "t" } }), own, "climb-a");
    expect(message(common)).toBe(
      "track Main of all options hangs on turnout t of Climb A: that is there with this option only",
    );
    expect(asOption(addTrack(own, "new", spur("t")), own, "climb-a").ok).toBe(true);
  });

  test("tells what it changed for every option", () => {
    const changed = after(setTrack(inA, "main", { class: "branch" }));
    expect(changedForAll(inA, changed).map(printRef)).toEqual(["tracks.main"]);
    expect(changedForAll(inA, after(asOption(addTrack(inA, "n", spur("points")), inA, "climb-a")))).toEqual([]);
  });
});

describe("moved into an option", () => {
  const moved = after(options.moveToOption(withOptions, [{ collection: "tracks", id: "climb" }], "climb-a"));
  test("a track takes along what hangs on it, and nothing else", () => {
    const names = recordsOfOption(moved, "climb-a").map(printRef);
    expect(names).toEqual(["tracks.climb", "tracks.upper", "pins.high"]);
  });
  test("to all, a track takes along what it hangs on", () => {
    const back = after(options.moveToOption(moved, [{ collection: "pins", id: "high" }], undefined));
    expect(recordsOfOption(back, "climb-a")).toEqual([]);
    expect(back).toEqual(withOptions);
  });
  test("a third option's records are in the way, decks belong to all, and gone options are gone", () => {
    const third = after(
      asOption(putRecord(withOptions, "pins", "p", { track: "climb", at: 5, height: 9 }), withOptions, "climb-b"),
    );
    expect(message(options.moveToOption(third, [{ collection: "tracks", id: "climb" }], "climb-a"))).toBe(
      "height pin p of Climb B hangs on track climb",
    );
    expect(message(options.moveToOption(withOptions, [{ collection: "decks", id: "foot" }], "climb-a"))).toBe(
      "a deck belongs to all options",
    );
    expect(message(options.moveToOption(withOptions, [], "none"))).toBe('there is no option "none"');
    const none = options.moveToOption(withOptions, [{ collection: "tracks", id: "climb" }], undefined);
    expect(none).toEqual(done("Move to all options", withOptions));
    expect(after(none)).toBe(withOptions);
  });
});

describe("removed and taken for good", () => {
  const stray: Plan = {
    ...withOptions,
    turnouts: { ...withOptions.turnouts, t: { ...points("main"), option: "climb-a" } },
    tracks: { ...withOptions.tracks, late: spur("t") },
  };
  test("an option goes with its records and is no longer chosen", () => {
    const own = after(asOption(putRecord(inA, "turnouts", "t", points("main")), inA, "climb-a"));
    const gone = after(options.deleteOption(own, "climb-a"));
    expect(Object.keys(gone.options)).toEqual(["climb-b"]);
    expect(gone.turnouts).toEqual(hillPlan.turnouts);
    expect(gone.option).toBeUndefined();
    expect(options.goneWith(own, "climb-b")).toEqual({ options: ["climb-a"], records: 1 });
  });
  test("not while something else hangs on it", () => {
    expect(message(options.deleteOption(stray, "climb-a"))).toBe("track late hangs on turnout t of Climb A");
    expect(message(options.promoteOption(stray, "climb-b"))).toBe("track late hangs on turnout t of Climb A");
    expect(options.promoteOption(stray, "climb-a").ok).toBe(true);
    expect(message(options.promoteOption(stray, "none"))).toBe('there is no option "none"');
  });
  test("what hangs on another option's is a finding in words, whichever is in hand", () => {
    for (const id of [undefined, "climb-a", "climb-b"]) {
      const { findings } = deriveLayout(after(chooseOption(stray, id)));
      const notes = findings.filter(({ thing }) => thing.startsWith("tracks.late")).map(({ note }) => note);
      expect(notes).toHaveLength(1);
      expect(notes[0]).toContain("turnout t of Climb A");
    }
  });
});
