/** Whatever a hand does with the tools of Survey and Frame: no throw, no plan the schema refuses, and undo to the very plan. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { TOOLS } from "../../src/editor/tools/index.js";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import { type Plan, planSchema } from "../../src/plan/schema.js";
import { openSheet, type SheetDriver } from "./sheet-driver.js";

const SEED = 20260417;

const plan: Plan = (() => {
  const empty = emptyPlan({ title: "Loft", width: 4000, depth: 3000, scale: "HO", units: "metric" });
  return {
    ...empty,
    room: {
      ...empty.room,
      openings: {
        door: { kind: "door", wall: 0, at: 600, width: 800, swing: { hinge: "far", into: "room" } },
        window: { kind: "window", wall: 2, at: 1000, width: 1200, sill: 900, head: 2000 },
      },
    },
    benches: {
      shelf: {
        deck: "lower",
        shape: { shelf: { from: { wall: 0, at: 2000 }, to: { wall: 2, at: 500 }, depth: 500, round: 100 } },
      },
      disc: { deck: "lower", shape: { disc: { centre: { x: 2000, y: 1500 }, radius: 400 } } },
    },
  };
})();

type Move = (sheet: SheetDriver) => void;
/** Places that matter, and any other within and outside the room. */
const place = fc.oneof(
  fc.constantFrom<[number, number]>(
    [0, 0],
    [4000, 0],
    [4000, 3000],
    [2000, 0],
    [2000, 3000],
    [2400, 1500],
    [3500, 1500],
  ),
  fc.tuple(fc.integer({ min: -500, max: 4500 }), fc.integer({ min: -500, max: 3500 })),
);
const KEYS = ["Enter", "Enter", "Tab", "Backspace", "Delete", "ArrowLeft", "ArrowRight", "ArrowUp", ..."asbctn"];
const TYPED = ["600", "1200", "2500", "45", "-300", "0", "1e9", "3 ft", "x", "2' 6 1/2\"", "999999999"];
const move: fc.Arbitrary<Move> = fc.oneof(
  {
    weight: 4,
    arbitrary: place.map(
      ([x, y]): Move =>
        (sheet) =>
          void sheet.click(x, y),
    ),
  },
  {
    weight: 3,
    arbitrary: place.map(
      ([x, y]): Move =>
        (sheet) =>
          void sheet.pointerMove(x, y),
    ),
  },
  {
    weight: 3,
    arbitrary: fc.tuple(place, place).map(
      ([a, b]): Move =>
        (sheet) =>
          void sheet.drag(a, b, 2),
    ),
  },
  {
    weight: 1,
    arbitrary: place.map(
      ([x, y]): Move =>
        (sheet) =>
          void sheet.doubleClick(x, y, { alt: true }),
    ),
  },
  {
    weight: 4,
    arbitrary: fc.constantFrom(...KEYS).map(
      (key): Move =>
        (sheet) =>
          void sheet.key(key),
    ),
  },
  {
    weight: 4,
    arbitrary: fc.constantFrom(...TYPED).map(
      (text): Move =>
        (sheet) =>
          void sheet.type(text).key("Enter"),
    ),
  },
  { weight: 1, arbitrary: fc.constant<Move>((sheet) => void sheet.cancel()) },
  { weight: 1, arbitrary: fc.constant<Move>((sheet) => void sheet.undo()) },
  { weight: 1, arbitrary: fc.constant<Move>((sheet) => void sheet.choose("end", "disc").choose("shape", "outline")) },
);

describe.each(TOOLS.filter(({ stage }) => stage === "survey" || stage === "frame"))("$name", ({ id }) => {
  test("holds whatever the hand does", () => {
    fc.assert(
      fc.property(fc.array(move, { minLength: 5, maxLength: 14 }), (moves) => {
        const sheet = openSheet(plan);
        for (const act of moves) {
          // Esc may have handed over to the arrow.
          if (sheet.state.tool !== id) sheet.take(id);
          act(sheet);
          expect(sheet.state.show.hint).not.toBe("");
          for (const seen of [sheet.plan, sheet.state.plan]) {
            if (seen !== plan) expect(planSchema.safeParse(seen).error).toBeUndefined();
          }
        }
        expect(sheet.undoAll().plan).toBe(plan);
        expect(sheet.state.plan).toBe(plan);
      }),
      { seed: SEED, numRuns: 12 },
    );
  });
});
