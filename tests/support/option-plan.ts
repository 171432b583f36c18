/** The sample railway with two ways up: the one it has, and a copy whose foot is pinned farther along, so that it climbs more steeply. */
import { readFileSync } from "node:fs";
import type { Edit } from "../../src/plan/edit.js";
import { duplicateOption, addOption, moveToOption, renameOption } from "../../src/plan/option-edits.js";
import { readPlan } from "../../src/plan/read.js";
import type { Plan } from "../../src/plan/schema.js";
import { chooseOption } from "../../src/plan/setting-edits.js";
import { movePin } from "../../src/plan/turnout-edits.js";

export const LONG = "long-way";
export const SHORT = "long-way-2";

const after = (edit: Edit): Plan => {
  if (!edit.ok) throw new Error(edit.message);
  return edit.plan;
};

/** With the long way in hand. */
export function planWithTwoClimbs(): Plan {
  const read = readPlan(readFileSync("sample-plans/larkmoor-and-summit.plan.json", "utf8"));
  if (!read.ok) throw new Error("the sample cannot be read");
  let plan = after(addOption(read.plan, "Long way").edit);
  plan = after(moveToOption(plan, [{ collection: "tracks", id: "climb" }], LONG));
  plan = after(duplicateOption(plan, LONG).edit);
  plan = after(renameOption(plan, SHORT, "Late start"));
  const foot = Object.entries(plan.pins).find(([id, pin]) => id.startsWith("climb-foot") && pin.option === SHORT)?.[0];
  plan = after(movePin(plan, foot ?? "", 3000));
  return after(chooseOption(plan, LONG));
}
