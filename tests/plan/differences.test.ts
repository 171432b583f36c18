import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { planDifferences } from "../../src/plan/differences.js";
import type { Plan } from "../../src/plan/schema.js";
import { hillPlan } from "../exchange/hill-plan.js";
import { planWithOptions } from "./option-plans.js";

const copyOf = (plan: Plan): Plan => structuredClone(plan);
const names = (items: readonly { readonly record: string }[]): string[] => items.map(({ record }) => record).sort();

describe("laws", () => {
  const seeds = fc.integer({ min: 1, max: 100_000 });
  const FEW = { seed: 20, numRuns: 40 };

  test("a plan does not differ from a copy of itself", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const plan = planWithOptions(seed);
        const same = planDifferences(plan, copyOf(plan));
        expect(same).toEqual({ added: [], removed: [], changed: [], settings: [], properties: [] });
      }),
      FEW,
    );
  });

  test("what is added from one side is removed from the other", () => {
    fc.assert(
      fc.property(seeds, seeds, (one, two) => {
        const [a, b] = [planWithOptions(one), planWithOptions(two)];
        const [there, back] = [planDifferences(a, b), planDifferences(b, a)];
        expect(names(there.added)).toEqual(names(back.removed));
        expect(names(there.removed)).toEqual(names(back.added));
        expect(names(there.changed)).toEqual(names(back.changed));
        expect(there.settings.map(({ path }) => path).sort()).toEqual(back.settings.map(({ path }) => path).sort());
      }),
      FEW,
    );
  });
});

test("what differs is told by record and property, what only lies elsewhere as moved", () => {
  const { door, ...openings } = hillPlan.room.openings;
  const { loop, ...tracks } = hillPlan.tracks;
  const { main } = hillPlan.standards.classes;
  const after: Plan = {
    ...copyOf(hillPlan),
    title: "Another",
    tracks: {
      ...tracks,
      main: { ...hillPlan.tracks["main"], start: { pose: { x: 310, y: 300, heading: 0 } } } as Plan["tracks"][string],
      upper: { ...hillPlan.tracks["upper"], name: "High road", legs: [] } as unknown as Plan["tracks"][string],
    },
    labels: { ...hillPlan.labels, new: { text: "Halt", at: { x: 1, y: 2 } } },
    room: { ...hillPlan.room, ceiling: 2300, openings },
    standards: {
      ...hillPlan.standards,
      aisle: { value: 700, source: "the owner", reason: "narrow room" },
      classes: { ...hillPlan.standards.classes, main: { ...main, radius: { value: 800, source: "the owner" } } },
    },
  };
  expect(loop && door).toBeDefined();
  const found = planDifferences(hillPlan, after);
  expect(names(found.added)).toEqual(["labels.new"]);
  expect(names(found.removed)).toEqual(["room.openings.door", "tracks.loop"]);
  expect(found.changed).toEqual([
    { record: "tracks.main", name: "track Main", properties: ["start"], moved: true },
    { record: "tracks.upper", name: "track High road", properties: ["legs", "name"].reverse(), moved: false },
  ]);
  expect(found.settings.map(({ path, before, after: now }) => [path, before?.value, now?.value])).toEqual([
    ["classes.main.radius", main.radius.value, 800],
    ["aisle", hillPlan.standards.aisle?.value, 700],
  ]);
  expect(found.properties).toEqual(["title", "room.ceiling"]);
});
