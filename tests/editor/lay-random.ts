/** A hand that does anything at all, for a while: what it leaves must be a plan, and undo must give the very plan back. */
import fc from "fast-check";
import { expect } from "vitest";
import type { Plan } from "../../src/plan/schema.js";
import { planSchema } from "../../src/plan/schema.js";
import { danglingReferences } from "../../src/plan/references.js";
import type { Selected, Tool } from "../../src/editor/tool.js";
import { openSheet, type SheetDriver } from "./sheet-driver.js";

type Act = (sheet: SheetDriver) => unknown;

/** Places of the plan the hand is drawn to, so that it finds ends, tracks and turnouts as often as bare paper. */
const places = (spots: readonly (readonly [number, number])[]) =>
  fc.oneof(
    fc.tuple(fc.integer({ min: -200, max: 6200 }), fc.integer({ min: -200, max: 4200 })),
    fc
      .tuple(fc.constantFrom(...spots), fc.integer({ min: -60, max: 60 }), fc.integer({ min: -60, max: 60 }))
      .map(([[x, y], dx, dy]): [number, number] => [x + dx, y + dy]),
    fc.constantFrom(...spots).map(([x, y]): [number, number] => [x, y]),
  );

const KEYS = [
  ..."0123456789./'\" fFmMDJR[]{}-",
  "Enter",
  "Enter",
  "Tab",
  "Backspace",
  "Delete",
  "ArrowLeft",
  "ArrowUp",
];
const TEXTS = ["600", "34 1/2", "12' 6\"", "0", "-5", "1e9", "999999999", "90", "2.5", "8", "1 in 40", "Upper", "x"];

function acts(spots: readonly (readonly [number, number])[], selections: readonly Selected[]): fc.Arbitrary<Act> {
  const place = places(spots);
  const held = fc.record({
    shift: fc.boolean(),
    alt: fc.boolean(),
    touch: fc.boolean(),
    clicks: fc.constantFrom(1, 1, 2),
  });
  return fc.oneof(
    {
      weight: 5,
      arbitrary: fc.tuple(place, held).map(
        ([[x, y], h]): Act =>
          (s) =>
            s.pointerMove(x, y, h),
      ),
    },
    {
      weight: 3,
      arbitrary: fc.tuple(place, held).map(
        ([[x, y], h]): Act =>
          (s) =>
            s.pointerDown(x, y, h),
      ),
    },
    {
      weight: 3,
      arbitrary: place.map(
        ([x, y]): Act =>
          (s) =>
            s.pointerUp(x, y),
      ),
    },
    {
      weight: 4,
      arbitrary: fc.tuple(place, held).map(
        ([[x, y], h]): Act =>
          (s) =>
            s.click(x, y, h),
      ),
    },
    {
      weight: 2,
      arbitrary: fc.tuple(place, place).map(
        ([a, b]): Act =>
          (s) =>
            s.drag(a, b, 2),
      ),
    },
    {
      weight: 4,
      arbitrary: fc.tuple(fc.constantFrom(...KEYS), fc.boolean()).map(
        ([key, shift]): Act =>
          (s) =>
            s.key(key, { shift }),
      ),
    },
    {
      weight: 2,
      arbitrary: fc.constantFrom(...TEXTS).map(
        (text): Act =>
          (s) =>
            s.type(text).key("Enter"),
      ),
    },
    { weight: 1, arbitrary: fc.constant<Act>((s) => s.cancel()) },
    {
      weight: 1,
      arbitrary: fc.constantFrom<Act>(
        (s) => s.undo(),
        (s) => s.redo(),
      ),
    },
    {
      weight: 1,
      arbitrary: fc.constantFrom(...selections).map(
        (thing): Act =>
          (s) =>
            s.select(thing),
      ),
    },
    {
      weight: 1,
      arbitrary: fc
        .constantFrom(
          ["class", "yard"],
          ["class", "nothing"],
          ["frog", "4"],
          ["frog", "x"],
          ["to", "upper"],
          ["to", "attic"],
        )
        .map(
          ([choice = "", value = ""]): Act =>
            (s) =>
              s.choose(choice, value),
        ),
    },
  );
}

/** The things chosen and changed by other panels meanwhile are part of the hand's doings. */
const selectionsOf = (plan: Plan): Selected[] => [
  ...Object.keys(plan.tracks).map((id): Selected => ({ kind: "record", collection: "tracks", id })),
  ...Object.keys(plan.turnouts).map((id): Selected => ({ kind: "record", collection: "turnouts", id })),
  ...Object.keys(plan.pins).map((id): Selected => ({ kind: "record", collection: "pins", id })),
  ...Object.keys(plan.benches).map((id): Selected => ({ kind: "record", collection: "benches", id })),
];

export interface RandomHand {
  readonly plan: Plan;
  readonly spots: readonly (readonly [number, number])[];
  readonly seed: number;
  readonly runs: number;
  readonly events: number;
  readonly tools?: readonly Tool[];
}

/** Nothing the hand does throws, breaks the schema, or leaves a trace after undoing it all. Tells how often it changed the plan. */
export function expectHarmless(tool: string, { plan, spots, seed, runs, events }: RandomHand): number {
  let changes = 0;
  const act = acts(spots, selectionsOf(plan));
  fc.assert(
    fc.property(fc.array(act, { minLength: events, maxLength: events }), (sequence) => {
      const sheet = openSheet(plan).take(tool);
      for (const one of sequence) {
        const before = sheet.plan;
        one(sheet);
        // The tool may have been put aside: the hand takes it up again.
        if (sheet.state.tool !== tool) sheet.take(tool);
        if (sheet.plan === before) continue;
        changes++;
        expect(planSchema.safeParse(sheet.plan).error?.issues).toBeUndefined();
        expect(danglingReferences(sheet.plan)).toEqual([]);
      }
      sheet.cancel().undoAll();
      expect(sheet.plan).toBe(plan);
      expect(sheet.state.plan).toBe(plan);
    }),
    { seed, numRuns: runs },
  );
  return changes;
}
