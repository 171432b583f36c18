/**
 * A height pin moved in the profile: up and down it holds another height, along it holds it elsewhere. A drag keeps to
 * the way it sets out in.
 *
 * Always holds: heights near a deck's are the deck's; a pin stays on its track.
 */
import type { Millimetres } from "../../../geometry/units.js";
import type { Layout } from "../../../layout/layout.js";
import { type Edit, recordAt, refused } from "../../../plan/edit.js";
import type { Id, Plan } from "../../../plan/schema.js";
import { movePin, setPinHeight } from "../../../plan/turnout-edits.js";

/** Steps a hand sets heights and places in: sixteenths and half inches, or millimetres and centimetres. */
export const STEPS = {
  imperial: { height: 25.4 / 16, along: 12.7, nudge: 25.4 / 8 },
  metric: { height: 1, along: 10, nudge: 2 },
} as const satisfies Record<Plan["units"], Readonly<Record<string, Millimetres>>>;

export const stepped = (value: number, step: number): number => Math.round(value / step) * step;

/** Within `near` of a deck's height, mm, the pin takes hold of the deck. */
export function pinToHeight(plan: Plan, id: Id, height: number, near: number, units: Plan["units"]): Edit {
  const deck = Object.entries(plan.decks).find(([, one]) => Math.abs(one.height - height) <= near);
  if (deck) return setPinHeight(plan, id, { deck: deck[0] });
  return setPinHeight(plan, id, { height: Math.max(0, stepped(height, STEPS[units].height)) });
}

export function pinAlong(plan: Plan, layout: Layout, id: Id, at: number, units: Plan["units"]): Edit {
  const pin = recordAt(plan, "pins", id);
  const length = pin && layout.lines.get(`track:${pin.track}`)?.path.length;
  if (length === undefined) return refused("the pin’s track is not laid");
  // The very ends can be reached whatever the step.
  const steps = at >= length ? length : stepped(at, STEPS[units].along);
  return movePin(plan, id, Math.min(Math.max(steps, 0), length));
}
