/**
 * Which tracks and turnouts may lie otherwise after an edit: those that changed, and whatever starts from, joins, lies
 * on or runs beside one of them, however many steps away.
 *
 * Always holds: a track or turnout that is not named lies as it lay.
 */
import type { Anchor, Id, Leg, Plan, Track } from "../plan/schema.js";

export interface Affected {
  readonly tracks: ReadonlySet<Id>;
  readonly turnouts: ReadonlySet<Id>;
}

/** Records a track leans on. */
interface Supports {
  readonly tracks: readonly Id[];
  readonly turnouts: readonly Id[];
  readonly turntables: readonly Id[];
}

/** Undefined where it may be anything: another scale, option, template or limit, or records that came or went. */
export function affectedBy(before: Plan, after: Plan): Affected | undefined {
  const sameGround =
    before.scale === after.scale &&
    before.option === after.option &&
    before.templates === after.templates &&
    before.standards.classes === after.standards.classes;
  if (!sameGround) return undefined;
  const tracks = changedIn(before.tracks, after.tracks);
  const turnouts = changedIn(before.turnouts, after.turnouts);
  const turntables = changedIn(before.turntables, after.turntables);
  if (!tracks || !turnouts || !turntables || !changedIn(before.slips, after.slips)) return undefined;
  if (tracks.size + turnouts.size + turntables.size === 0) return { tracks, turnouts };
  for (let found = true; found; ) {
    found = false;
    const add = (to: Set<Id>, id: Id): void => {
      to.add(id);
      found = true;
    };
    for (const id in after.turnouts)
      if (!turnouts.has(id) && tracks.has(after.turnouts[id]?.on ?? "")) add(turnouts, id);
    for (const id in after.turntables)
      if (!turntables.has(id) && tracks.has(after.turntables[id]?.on ?? "")) add(turntables, id);
    for (const id in after.tracks) {
      const track = after.tracks[id];
      if (!track || tracks.has(id)) continue;
      const on = supportsOf(track);
      const leans = (ids: readonly Id[], moved: ReadonlySet<Id>): boolean => ids.some((support) => moved.has(support));
      if (leans(on.tracks, tracks) || leans(on.turnouts, turnouts) || leans(on.turntables, turntables)) add(tracks, id);
    }
  }
  return { tracks, turnouts };
}

/** Ids of records that are not the objects they were; undefined where ids came, went or changed places. */
function changedIn(before: Readonly<Record<Id, unknown>>, after: Readonly<Record<Id, unknown>>): Set<Id> | undefined {
  const changed = new Set<Id>();
  if (before === after) return changed;
  const was = Object.keys(before);
  const is = Object.keys(after);
  if (was.length !== is.length) return undefined;
  for (let i = 0; i < is.length; i++) {
    const id = is[i] ?? "";
    if (id !== was[i]) return undefined;
    if (before[id] !== after[id]) changed.add(id);
  }
  return changed;
}

const supports = new WeakMap<Track, Supports>();

function supportsOf(track: Track): Supports {
  let known = supports.get(track);
  if (!known) {
    const found = { tracks: [] as Id[], turnouts: [] as Id[], turntables: [] as Id[] };
    supportsOfAnchor(track.start, found);
    for (const leg of track.legs) supportsOfLeg(leg, found);
    supports.set(track, (known = found));
  }
  return known;
}

type Found = { readonly [K in keyof Supports]: Id[] };

function supportsOfAnchor(anchor: Anchor, found: Found): void {
  if ("turnout" in anchor) found.turnouts.push(anchor.turnout);
  else if ("track" in anchor) found.tracks.push(anchor.track);
  else if ("turntable" in anchor) found.turntables.push(anchor.turntable);
  else if ("beside" in anchor) found.tracks.push(anchor.beside.track);
}

function supportsOfLeg(leg: Leg, found: Found): void {
  if ("join" in leg) supportsOfAnchor(leg.join.to, found);
  else if ("beside" in leg) found.tracks.push(leg.beside.track);
}
