/** Which records of a plan are in hand: those of no option, and those of the option chosen. */
import type { Plan } from "../plan/schema.js";

export const inOption = (plan: Plan, record: { readonly option?: string | undefined }): boolean =>
  record.option === undefined || record.option === plan.option;

/** The records of a collection that are in hand, with their ids, in the plan's order. */
export function recordsInHand<T extends { readonly option?: string | undefined }>(
  plan: Plan,
  records: Readonly<Record<string, T>>,
): [string, T][] {
  return Object.entries(records).filter(([, record]) => inOption(plan, record));
}

/** Whether a track may grow: one that belongs to all is not made longer for one option's sake, but begun anew at its end. */
export const growsInHand = (plan: Plan, track: string): boolean => plan.tracks[track]?.option === plan.option;
