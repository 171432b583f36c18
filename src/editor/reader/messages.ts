/** What page and worker say to one another. Both remember what was sent last, so that only differences are sent. */
import type { PlanPatch } from "../../plan/patch.js";
import type { Plan } from "../../plan/schema.js";
import type { Reading } from "../../readings/reading.js";

/** The plan whose readings are wanted: whole, or as a patch of the one before. */
export type Asked = { readonly plan: Plan } | { readonly patch: PlanPatch };

/** Its readings; a number is the place of one that has not changed among those sent before. */
export type Answered = readonly (Reading | number)[];

/** Readings as they are sent to someone who has the ones before, and what to remember as sent. */
export function pack(readings: readonly Reading[], before: readonly Reading[], same: SameReading): Packed {
  const places = new Map(before.map((reading, i) => [reading, i]));
  const kept = readings.map((reading, i) => same(before[i], reading));
  return { kept, sent: kept.map((reading) => places.get(reading) ?? reading) };
}

/** The reading before where it says the same, else the new one. */
export type SameReading = (before: Reading | undefined, now: Reading) => Reading;
export interface Packed {
  readonly kept: readonly Reading[];
  readonly sent: Answered;
}

export const unpack = (sent: Answered, before: readonly Reading[]): readonly Reading[] =>
  sent.flatMap((item) => (typeof item === "number" ? (before[item] ?? []) : [item]));
