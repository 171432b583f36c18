/** What page and worker say to one another. Both remember what was sent last, so that only differences are sent. */
import type { PlanPatch } from "../../plan/patch.js";
import type { Plan } from "../../plan/schema.js";
import { sharing } from "../../plan/sharing.js";
import type { Reading } from "../../readings/reading.js";

/** The plan whose readings are wanted: whole, or as a patch of the one before. */
export type Asked = { readonly plan: Plan } | { readonly patch: PlanPatch };

/** Its readings; a number is the place of one that has not changed among those sent before. */
export type Answered = readonly (Reading | number)[];

export interface Packed {
  /** The readings, those that say what they said before as the objects they were. */
  readonly kept: readonly Reading[];
  readonly sent: Answered;
}

/** Readings as they are sent to someone who has the ones before, and what to remember as sent. */
export function pack(readings: readonly Reading[], before: readonly Reading[]): Packed {
  const places = new Map(before.map((reading, i) => [reading, i]));
  const kept = readings.map((reading, i) => sharing(before[i], reading));
  return { kept, sent: kept.map((reading) => places.get(reading) ?? reading) };
}

export const unpack = (sent: Answered, before: readonly Reading[]): readonly Reading[] =>
  sent.flatMap((item) => (typeof item === "number" ? (before[item] ?? []) : [item]));
