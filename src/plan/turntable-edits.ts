/**
 * Edits of a turntable's stalls. Tracks name stalls by number, so a stall that goes gives its number to the next one, and
 * the tracks follow.
 *
 * Always holds: after an edit every track leads from the stall it led from; a stall that a track leads from stays.
 */
import { amendRecord, andThen, done, type Edit, putRecord, recordAt, refused } from "./edit.js";
import type { Anchor, Id, Plan, Track, Turntable } from "./schema.js";

type Degrees = number;

/** Directions evenly apart, the middle one straight on from the approach. */
export const evenStalls = (count: number, between: Degrees): Degrees[] =>
  Array.from({ length: count }, (_, i) => (i - (count - 1) / 2) * between);

/** Numbers of the stalls that tracks lead from or to, of whatever option. */
export function stallsInUse(plan: Plan, id: Id): Set<number> {
  const used = new Set<number>();
  for (const track of Object.values(plan.tracks)) {
    mapStalls(track, id, (stall) => {
      used.add(stall);
      return stall;
    });
  }
  return used;
}

/** Another number of stalls, evenly apart; those that tracks lead from keep their numbers and turn with the others. */
export function spreadStalls(plan: Plan, id: Id, count: number, between: Degrees): Edit {
  if (!(Number.isInteger(count) && count >= 0)) return refused("stalls are counted in whole numbers");
  const most = Math.max(-1, ...stallsInUse(plan, id));
  if (count <= most) return refused(`a track leads from stall ${most + 1}: take it up first`);
  return putStalls(plan, id, () => evenStalls(count, between), "Spread stalls");
}

export const addStall = (plan: Plan, id: Id, angle: Degrees): Edit =>
  putStalls(plan, id, (stalls) => [...stalls, within(angle)], "Add stall");

export const turnStall = (plan: Plan, id: Id, stall: number, angle: Degrees): Edit =>
  putStalls(plan, id, (stalls) => (stall in stalls ? stalls.with(stall, angle) : stalls), "Turn stall");

export function removeStall(plan: Plan, id: Id, stall: number): Edit {
  if (stallsInUse(plan, id).has(stall)) return refused(`a track leads from stall ${stall + 1}: take it up first`);
  const edit = putStalls(plan, id, (stalls) => stalls.filter((_, i) => i !== stall), "Take stall away");
  return andThen(edit, (next) => {
    let result: Edit = done("Take stall away", next);
    for (const [key, track] of Object.entries(next.tracks)) {
      const moved = mapStalls(track, id, (number) => (number > stall ? number - 1 : number));
      if (moved !== track) result = andThen(result, (now) => putRecord(now, "tracks", key, moved), "Take stall away");
    }
    return result;
  });
}

function putStalls(plan: Plan, id: Id, change: (stalls: readonly Degrees[]) => readonly Degrees[], name: string): Edit {
  const before: Turntable | undefined = recordAt(plan, "turntables", id);
  if (!before) return refused("there is no such turntable");
  return amendRecord(plan, "turntables", id, { stalls: change(before.stalls) }, name);
}

/** More than -180 and up to 180 degrees, the same direction. */
const within = (angle: Degrees): Degrees => {
  const turned = ((angle % 360) + 360) % 360;
  return turned > 180 ? turned - 360 : turned;
};

/** The track with the numbers of a turntable's stalls answered anew; the same track where nothing changes. */
function mapStalls(track: Track, id: Id, answer: (stall: number) => number): Track {
  const mapped = (anchor: Anchor): Anchor => {
    if (!("turntable" in anchor) || anchor.turntable !== id) return anchor;
    const stall = answer(anchor.stall);
    return stall === anchor.stall ? anchor : { ...anchor, stall };
  };
  const start = mapped(track.start);
  const legs = track.legs.map((leg) => {
    if (!("join" in leg)) return leg;
    const to = mapped(leg.join.to);
    return to === leg.join.to ? leg : { ...leg, join: { ...leg.join, to } };
  });
  return start === track.start && legs.every((leg, i) => leg === track.legs[i]) ? track : { ...track, start, legs };
}
