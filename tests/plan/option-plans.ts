/** Plans of chance with three options, whose records hang only on what is there with them. */
import { OPTION_COLLECTIONS, strayReferences } from "../../src/plan/option-records.js";
import { without } from "../../src/plan/edit.js";
import type { Plan } from "../../src/plan/schema.js";
import { Chance, randomPlan } from "../layout/random-plan.js";

export const OPTIONS = ["a", "b", "c"] as const;

export function planWithOptions(seed: number): Plan {
  const labels = { town: { text: "Brackwater", at: { x: 10, y: 20 } }, halt: { text: "Halt", at: { x: 30, y: 20 } } };
  return splitIntoOptions({ ...randomPlan(seed), labels }, new Chance(seed));
}

/** Half of the records belong to one option or another; those that would hang on another's are left out. */
export function splitIntoOptions(whole: Plan, chance: Chance): Plan {
  let plan: Plan = {
    ...whole,
    options: Object.fromEntries(OPTIONS.map((id) => [id, { name: `Climb ${id.toUpperCase()}` }])),
  };
  for (const collection of OPTION_COLLECTIONS) {
    const records = Object.entries(plan[collection]).map(([id, { option: _option, ...record }]) => [
      id,
      chance.yes(0.5) ? record : { ...record, option: chance.one(OPTIONS) },
    ]);
    plan = { ...plan, [collection]: Object.fromEntries(records) };
  }
  for (let strays = strayReferences(plan); strays.length > 0; strays = strayReferences(plan)) {
    plan = without(
      plan,
      strays.map(({ from }) => from),
    );
  }
  const { option: _none, ...rest } = plan;
  return chance.yes(0.5) ? { ...rest, option: chance.one(OPTIONS) } : rest;
}
