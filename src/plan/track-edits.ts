/** Edits of tracks: where they start, and the legs they are laid from. */
import { amendRecord, done, type Edit, putRecord, recordAt, refused, removeRecord, type RemovePolicy } from "./edit.js";
import type { Anchor, Id, Leg, Plan, Track } from "./schema.js";

export function addTrack(plan: Plan, id: Id, track: Track): Edit {
  if (recordAt(plan, "tracks", id) !== undefined) return refused(`there is a track "${id}" already`);
  return putRecord(plan, "tracks", id, track, "Add track");
}

/** Class, deck, name, hidden stretches, option. */
export const setTrack = (plan: Plan, id: Id, change: { readonly [K in keyof Track]?: Track[K] | undefined }): Edit =>
  amendRecord(plan, "tracks", id, change, "Change track");

/** Puts a bumper on an end, or takes it off. */
export function setBumper(plan: Plan, id: Id, end: "start" | "end", on: boolean): Edit {
  const before = recordAt(plan, "tracks", id)?.bumpers ?? [];
  if (before.includes(end) === on) return amendRecord(plan, "tracks", id, {});
  const bumpers = (["start", "end"] as const).filter((one) => (one === end ? on : before.includes(one)));
  const name = on ? "Place bumper" : "Take bumper off";
  return amendRecord(plan, "tracks", id, { bumpers: bumpers.length > 0 ? bumpers : undefined }, name);
}

export const moveTrackStart = (plan: Plan, id: Id, start: Anchor): Edit =>
  amendRecord(plan, "tracks", id, { start }, "Move track");

export const replaceLegs = (plan: Plan, id: Id, legs: readonly Leg[], name = "Relay track"): Edit =>
  amendRecord(plan, "tracks", id, { legs: [...legs] }, name);

/** Puts another leg in the place of leg `index`, from 0. */
export const setLeg = (plan: Plan, id: Id, index: number, leg: Leg): Edit =>
  editLegs(plan, id, index, 0, (legs) => (legs[index] === leg ? legs : legs.with(index, leg)), "Change leg");

/** Lays a leg before leg `index`; at the number of legs, after the last. */
export const insertLeg = (plan: Plan, id: Id, index: number, leg: Leg): Edit =>
  editLegs(plan, id, index, 1, (legs) => legs.toSpliced(index, 0, leg), "Lay leg");

export const appendLeg = (plan: Plan, id: Id, leg: Leg): Edit =>
  insertLeg(plan, id, recordAt(plan, "tracks", id)?.legs.length ?? 0, leg);

export const removeLeg = (plan: Plan, id: Id, index: number): Edit =>
  editLegs(plan, id, index, 0, (legs) => legs.toSpliced(index, 1), "Take up leg");

/** With its dependants go the turnouts and pins on it and whatever starts, joins or lies along it. */
export const removeTrack = (plan: Plan, id: Id, policy: RemovePolicy = "refuse"): Edit =>
  removeRecord(plan, { collection: "tracks", id }, policy, "Take up track");

/** `more` places beyond the last leg are allowed. */
function editLegs(
  plan: Plan,
  id: Id,
  index: number,
  more: 0 | 1,
  change: (legs: readonly Leg[]) => readonly Leg[],
  name: string,
): Edit {
  const track = recordAt(plan, "tracks", id);
  if (track === undefined) return refused(`there is no track "${id}"`);
  if (!Number.isInteger(index) || index < 0 || index >= track.legs.length + more) {
    return refused(`track "${id}" has ${track.legs.length} legs, none at place ${index}`);
  }
  const legs = change(track.legs);
  return legs === track.legs ? done(name, plan) : amendRecord(plan, "tracks", id, { legs }, name);
}
