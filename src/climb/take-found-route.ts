/**
 * A route taken into the very plan that was asked about: ordinary track with its pins, where what is drawn in that plan
 * belongs, or in an option of its own that is then in hand. Limits that were overruled for it stay overruled.
 */
import { amendRecord, andThen, done, type Edit } from "../plan/edit.js";
import { addAndChoose } from "../plan/option-edits.js";
import { asOption } from "../plan/option-in-hand.js";
import type { Plan } from "../plan/schema.js";
import type { ClimbRoute } from "./request.js";

/** Refused where the option's name is taken, or the route hangs on what belongs to another option. */
export function takeFoundRoute(plan: Plan, { edit, track }: Pick<ClimbRoute, "edit" | "track">, option?: string): Edit {
  if (option === undefined) return asOption(edit, plan, plan.option);
  const added = addAndChoose(plan, option);
  if (!added.edit.ok) return added.edit;
  const { options } = added.edit.plan;
  const taken = done(edit.name, { ...edit.plan, options, option: added.option });
  const named = andThen(taken, (next) => amendRecord(next, "tracks", track, { name: option.trim() }), edit.name);
  return asOption(named, plan, added.option);
}
