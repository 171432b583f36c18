/** Edits of turnouts and of the height pins of the track. */
import { amendRecord, type Edit, putRecord, recordAt, refused, removeRecord, type RemovePolicy } from "./edit.js";
import type { Id, Pin, Plan, Turnout } from "./schema.js";

export function placeTurnout(plan: Plan, id: Id, turnout: Turnout): Edit {
  if (recordAt(plan, "turnouts", id) !== undefined) return refused(`there is a turnout "${id}" already`);
  return putRecord(plan, "turnouts", id, turnout, "Place turnout");
}

/** Moves a turnout along its track, or to another. */
export const moveTurnout = (plan: Plan, id: Id, to: { readonly on?: Id; readonly at: number }): Edit =>
  amendRecord(plan, "turnouts", id, to, "Move turnout");

/** `hand`: the diverging route leaves to the other side. `facing`: the points lie at the other end. */
export function flipTurnout(plan: Plan, id: Id, what: "hand" | "facing"): Edit {
  const turnout = recordAt(plan, "turnouts", id);
  if (turnout === undefined) return refused(`there is no turnout "${id}"`);
  if (what === "facing") {
    return amendRecord(
      plan,
      "turnouts",
      id,
      { facing: turnout.facing === "with" ? "against" : "with" },
      "Turn turnout round",
    );
  }
  if (turnout.hand === "wye") return refused(`turnout "${id}" is a wye and has no hand`);
  return amendRecord(plan, "turnouts", id, { hand: turnout.hand === "left" ? "right" : "left" }, "Flip turnout");
}

/** The frog number, or the measured template, in place of whatever the turnout had. */
export const sizeTurnout = (plan: Plan, id: Id, size: { readonly number: number } | { readonly template: Id }): Edit =>
  amendRecord(plan, "turnouts", id, { number: undefined, template: undefined, ...size }, "Change turnout");

/** With its dependants go the tracks that start from it or join it, and theirs. */
export const removeTurnout = (plan: Plan, id: Id, policy: RemovePolicy = "refuse"): Edit =>
  removeRecord(plan, { collection: "turnouts", id }, policy, "Remove turnout");

export const setPin = (plan: Plan, id: Id, pin: Pin): Edit => putRecord(plan, "pins", id, pin, "Pin height");

export const movePin = (plan: Plan, id: Id, at: number): Edit =>
  amendRecord(plan, "pins", id, { at }, "Move height pin");

/** Pins to a height in mm above the floor, or to the height of a deck. */
export const setPinHeight = (plan: Plan, id: Id, to: { readonly height: number } | { readonly deck: Id }): Edit =>
  amendRecord(plan, "pins", id, { height: undefined, deck: undefined, ...to }, "Change height");

export const removePin = (plan: Plan, id: Id): Edit =>
  removeRecord(plan, { collection: "pins", id }, "refuse", "Remove height pin");
