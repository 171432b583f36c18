/** Whose a thing is, where the plan has options: everyone's, or one option's. */
import type { Ref } from "../../../plan/collections.js";
import { moveToOption } from "../../../plan/option-edits.js";
import { canBelong, optionOf } from "../../../plan/option-records.js";
import type { Plan } from "../../../plan/schema.js";
import type { Section } from "./field.js";

/** No id begins so. */
const ALL = "all:";

export function optionSection(plan: Plan, ref: Ref): Section | undefined {
  const options = Object.entries(plan.options);
  if (options.length === 0 || !canBelong(ref)) return undefined;
  return {
    id: "option",
    fields: [
      {
        kind: "choice",
        id: "option",
        label: "Belongs to",
        value: optionOf(plan, ref) ?? ALL,
        choices: [{ value: ALL, name: "all options" }, ...options.map(([value, { name }]) => ({ value, name }))],
        set: (now, value) => moveToOption(now, [ref], value === ALL ? undefined : value),
      },
    ],
  };
}
