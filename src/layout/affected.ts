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
  const leaning = leaningOn(before, after, { tracks, turnouts, turntables });
  const ahead: Thing[] = [
    ...[...tracks].map((id): Thing => `tracks.${id}`),
    ...[...turnouts].map((id): Thing => `turnouts.${id}`),
    ...[...turntables].map((id): Thing => `turntables.${id}`),
  ];
  const seen = new Set(ahead);
  for (const thing of ahead) {
    for (const next of leaning.get(thing) ?? []) {
      if (seen.has(next)) continue;
      seen.add(next);
      ahead.push(next);
      const [kind, id] = partsOf(next);
      // What leans no longer may be gone.
      if (kind === "tracks" && Object.hasOwn(after.tracks, id)) tracks.add(id);
      if (kind === "turnouts" && Object.hasOwn(after.turnouts, id)) turnouts.add(id);
    }
  }
  return { tracks, turnouts };
}

type Thing = `tracks.${Id}` | `turnouts.${Id}` | `turntables.${Id}`;

const partsOf = (thing: Thing): readonly [kind: string, id: Id] => {
  const dot = thing.indexOf(".");
  return [thing.slice(0, dot), thing.slice(dot + 1)];
};

/** What leans on each thing, of this plan or of one before it: it may be more than leans there now, never less. */
type Leaning = Map<Thing, Set<Thing>>;

/** Handed on from plan to plan, by their tracks: an edit adds only what the records it changed lean on. */
const leanings = new WeakMap<Plan["tracks"], { readonly of: Plan; readonly leaning: Leaning }>();

function leaningOn(
  before: Plan,
  after: Plan,
  changed: Record<"tracks" | "turnouts" | "turntables", Iterable<Id>>,
): Leaning {
  const known = leanings.get(before.tracks);
  const handed = known?.of.turnouts === before.turnouts && known.of.turntables === before.turntables;
  const leaning: Leaning = handed ? known.leaning : new Map();
  const all = {
    tracks: Object.keys(after.tracks),
    turnouts: Object.keys(after.turnouts),
    turntables: Object.keys(after.turntables),
  };
  const { tracks, turnouts, turntables } = handed ? changed : all;
  const lean = (on: Thing, thing: Thing): void => {
    const leans = leaning.get(on);
    if (leans) leans.add(thing);
    else leaning.set(on, new Set([thing]));
  };
  for (const id of turnouts) lean(`tracks.${after.turnouts[id]?.on ?? ""}`, `turnouts.${id}`);
  for (const id of turntables) lean(`tracks.${after.turntables[id]?.on ?? ""}`, `turntables.${id}`);
  for (const id of tracks) {
    const track = after.tracks[id];
    if (!track) continue;
    const on = supportsOf(track);
    for (const kind of ["tracks", "turnouts", "turntables"] as const)
      for (const support of on[kind]) lean(`${kind}.${support}`, `tracks.${id}`);
  }
  leanings.set(after.tracks, { of: after, leaning });
  return leaning;
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
