/**
 * A route taken into the plan that was asked about: ordinary track with its pins, in the plan itself or in an option of
 * its own that is then in hand.
 */
import { done, type Edit } from "../plan/edit.js";
import { addAndChoose } from "../plan/option-edits.js";
import { asOption } from "../plan/option-in-hand.js";
import type { Plan } from "../plan/schema.js";
import type { ClimbRoute } from "./request.js";

/** Refused where the option's name is taken, or the route hangs on what belongs to another option. */
export function takeRoute(plan: Plan, { edit }: Pick<ClimbRoute, "edit">, option?: string): Edit {
  if (option === undefined) return edit;
  const added = addAndChoose(plan, option);
  if (!added.edit.ok) return added.edit;
  const { options } = added.edit.plan;
  const taken = { ...edit.plan, options, option: added.option };
  return asOption(done(edit.name, taken), plan, added.option);
}
