import { expect, test } from "vitest";
import { planPatch, patched } from "../../src/plan/patch.js";
import { COLLECTIONS, type Plan } from "../../src/plan/schema.js";
import { sharing } from "../../src/plan/sharing.js";
import { setTitle, setNotes, overruleSetting } from "../../src/plan/setting-edits.js";
import { Chance, randomEdit, randomPlan } from "../layout/random-plan.js";
import { goldenPlan } from "./golden-plan.js";

/** As sent to someone else. */
const sent = <T>(value: T): T => structuredClone(value);

const inOrder = (plan: Plan): unknown => Object.fromEntries(COLLECTIONS.map((c) => [c, Object.keys(plan[c])]));

test.each(Array.from({ length: 40 }, (_, i) => 900 + i))(
  "a patched plan is the plan it was made for, seed %i",
  (seed) => {
    const chance = new Chance(seed);
    let here = randomPlan(seed);
    const past: Plan[] = [here];
    let there = sent(here);
    for (let step = 0; step < 15; step++) {
      const before = here;
      // Back to an earlier plan brings records back into the middle.
      here = chance.yes(0.2) ? (past[Math.floor(chance.between(0, past.length))] ?? here) : randomEdit(here, chance);
      past.push(here);
      const held = there;
      there = patched(there, sent(planPatch(before, here)));
      expect(there).toEqual(here);
      expect(inOrder(there)).toEqual(inOrder(here));
      for (const collection of COLLECTIONS)
        for (const [id, record] of Object.entries(here[collection]))
          if (before[collection][id] === record) expect(there[collection][id]).toBe(held[collection][id]);
    }
  },
);

test("within a record, what did not change stays the same object", () => {
  const plan = goldenPlan();
  const main = plan.tracks["main"];
  if (!main) throw new Error("no main");
  const [first, ...others] = main.legs;
  const after = { ...plan, tracks: { ...plan.tracks, main: { ...main, legs: [{ straight: 1300 }, ...sent(others)] } } };
  const next = patched(plan, sent(planPatch(plan, after)));
  expect(next.tracks["main"]?.legs[0]).not.toBe(first);
  others.forEach((leg, i) => expect(next.tracks["main"]?.legs[i + 1]).toBe(leg));
  expect(next.tracks["main"]?.start).toBe(main.start);
});

test("properties come, change and go", () => {
  const plan = goldenPlan();
  const edits = [
    setTitle(plan, "Another"),
    setNotes(plan, ""),
    overruleSetting(plan, "classes.main.radius", 900, "wide curves"),
  ];
  for (const edit of edits) {
    if (!edit.ok) throw new Error(edit.message);
    const next = patched(plan, sent(planPatch(plan, edit.plan)));
    expect(next).toEqual(edit.plan);
    expect("notes" in next).toBe("notes" in edit.plan);
    expect(patched(edit.plan, sent(planPatch(edit.plan, plan)))).toEqual(plan);
  }
});

test("nothing to tell is an empty patch, and patching with it changes no record", () => {
  const plan = goldenPlan();
  const patch = planPatch(plan, { ...plan });
  expect(patch).toEqual({ records: {}, properties: [] });
  expect(patched(plan, patch).tracks).toBe(plan.tracks);
});

test.each([
  [[1, 2], [1, 2], true],
  [[1, 2], [1, 2, 3], false],
  [{ a: 1, b: { c: 2 } }, { a: 1, b: { c: 2 } }, true],
  [{ a: 1, b: 2 }, { b: 2, a: 1 }, false],
  [{ a: undefined }, {}, false],
  [[], {}, false],
  [Number.NaN, Number.NaN, true],
  [null, {}, false],
])("sharing %j with %j", (before, next, same) => {
  const result = sharing(before, next);
  expect(Object.is(result, before)).toBe(same);
  expect(JSON.stringify(result)).toBe(JSON.stringify(next));
});
