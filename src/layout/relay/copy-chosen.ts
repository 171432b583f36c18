/**
 * Copies of what is chosen. A copy stands by itself: what was anchored to something that is not copied starts where it
 * lies, and what ran beside something that is not copied is laid as it lies.
 *
 * Always holds: pasted records have ids that were not in use, name nothing outside the paste, and those copied stay.
 */
import { poseAt } from "../../geometry/path.js";
import type { Point, Pose } from "../../geometry/pose.js";
import { toDegrees } from "../../geometry/units.js";
import { recordsOf, type Ref } from "../../plan/collections.js";
import { amend, andThen, done, type Edit, putRecord, recordAt, refused } from "../../plan/edit.js";
import { freshId } from "../../plan/fresh-id.js";
import { mapReferences } from "../../plan/references.js";
import { type Anchor, type Id, type Leg, type Plan, type Track } from "../../plan/schema.js";
import { legStationsOf } from "../derive.js";
import type { Layout } from "../layout.js";
import { type Chosen, hostOf, idsOf, middleOf } from "./chosen.js";
import {
  type Motion,
  moveBench,
  movePoint,
  movePoints,
  moveSlip,
  moveTrack,
  moveTurnout,
  moveTurntable,
} from "./motion.js";
import { plainLegs, segmentsOfLeg } from "./plain-legs.js";

const COPIED = [
  "benches",
  "backdrops",
  "gates",
  "labels",
  "tracks",
  "turnouts",
  "slips",
  "turntables",
  "pins",
] as const;
type Copied = (typeof COPIED)[number];

/** Records that stand by themselves, by their old ids. */
export type Clipping = { readonly [C in Copied]: Plan[C] } & { readonly middle: Point };

export type CopyResult =
  | { readonly ok: true; readonly clipping: Clipping }
  | { readonly ok: false; readonly message: string };

export function copyChosen(layout: Layout, chosen: Chosen): CopyResult {
  const { plan } = layout;
  const wanted = idsOf(chosen, "tracks");
  const tracks: Record<Id, Track> = {};
  for (const id of wanted) {
    const track = recordAt(plan, "tracks", id);
    if (!track) continue;
    const free = freeTrack(layout, id, track, wanted);
    if (!free) return { ok: false, message: `${track.name ?? id} runs beside track that is not copied with it` };
    tracks[id] = free;
  }
  const clipping: Clipping = {
    benches: only(plan.benches, idsOf(chosen, "benches")),
    backdrops: only(plan.backdrops, idsOf(chosen, "backdrops")),
    gates: only(plan.gates, idsOf(chosen, "gates")),
    labels: only(plan.labels, idsOf(chosen, "labels")),
    tracks,
    turnouts: lyingOn(plan.turnouts, tracks, (turnout) => turnout.on),
    // A slip is of two tracks and goes where both go.
    slips: lyingOn(
      lyingOn(plan.slips, tracks, (slip) => slip.on),
      tracks,
      (slip) => slip.across,
    ),
    turntables: lyingOn(plan.turntables, tracks, (turntable) => turntable.on),
    pins: lyingOn(plan.pins, tracks, (pin) => pin.track),
    middle: middleOf(layout, chosen) ?? { x: 0, y: 0 },
  };
  const empty = COPIED.every((collection) => Object.keys(clipping[collection]).length === 0);
  return empty ? { ok: false, message: "nothing to copy is chosen" } : { ok: true, clipping };
}

const only = <T>(records: Readonly<Record<Id, T>>, ids: ReadonlySet<Id>): Readonly<Record<Id, T>> =>
  Object.fromEntries(Object.entries(records).filter(([id]) => ids.has(id)));

const lyingOn = <T>(
  records: Readonly<Record<Id, T>>,
  tracks: Readonly<Record<Id, Track>>,
  host: (record: T) => Id,
): Readonly<Record<Id, T>> =>
  Object.fromEntries(Object.entries(records).filter(([, record]) => Object.hasOwn(tracks, host(record))));

const anchorAt = ({ x, y, heading }: Pose): Anchor => ({ pose: { x, y, heading: toDegrees(heading) } });

function freeTrack(layout: Layout, id: Id, track: Track, copied: ReadonlySet<Id>): Track | undefined {
  const { plan } = layout;
  const path = layout.lines.get(`track:${id}`)?.path;
  const stations = legStationsOf(layout, id);
  const stays = (anchor: Anchor): boolean => {
    if ("pose" in anchor) return true;
    const host = hostOf(plan, anchor);
    return host !== undefined && copied.has(host);
  };
  const start = stays(track.start) ? track.start : path && anchorAt(path.start);
  if (!start) return undefined;
  const legs: Leg[] = [];
  for (const [i, leg] of track.legs.entries()) {
    if ("join" in leg && !stays(leg.join.to)) {
      const end = stations[i + 1];
      if (!path || end === undefined) return undefined;
      legs.push({ ...leg, join: { ...leg.join, to: anchorAt(poseAt(path, end)) } });
    } else if ("beside" in leg && !copied.has(leg.beside.track)) {
      const segments = segmentsOfLeg(layout, id, i);
      const plain = segments && plainLegs(segments);
      if (!plain) return undefined;
      legs.push(...plain);
    } else legs.push(leg);
  }
  return amend(track, { start, legs });
}

const nameOf = (record: object): string | undefined =>
  "name" in record && typeof record.name === "string" ? record.name : undefined;

export interface PasteWishes {
  readonly motion: Motion;
  /** Deck to paste onto, where all that is pasted is of one deck; what is of several stays on its own. */
  readonly deck?: Id;
}

export type Pasted = { readonly edit: Edit; readonly refs: readonly Ref[] };

export function pasteClipping(plan: Plan, clipping: Clipping, { motion, deck }: PasteWishes, name = "Paste"): Pasted {
  const ids = new Map<string, Id>();
  const refs: Ref[] = [];
  // Reserved one after another, so that two of them never draw the same.
  let reserved = plan;
  for (const collection of COPIED) {
    for (const [id, record] of Object.entries(clipping[collection])) {
      const fresh = freshId(reserved, nameOf(record) ?? id.replace(/-\d+$/, ""));
      reserved = { ...reserved, labels: { ...reserved.labels, [fresh]: RESERVED } };
      ids.set(`${collection}.${id}`, fresh);
      refs.push({ collection, id: fresh });
    }
  }
  const decks = new Set([...Object.values(clipping.tracks), ...Object.values(clipping.benches)].map((r) => r.deck));
  const [only = ""] = decks;
  const onto = decks.size === 1 && deck !== undefined && Object.hasOwn(plan.decks, deck) ? { only, deck } : undefined;
  const placed = carried(clipping, motion);
  let edit = done(name, plan);
  const put = <C extends Copied>(collection: C): void => {
    for (const [id, record] of Object.entries(recordsOf({ ...plan, ...placed }, collection))) {
      const named = mapReferences(collection, ofNoOption(record), (to) => answer(plan, ids, to, onto));
      const fresh = ids.get(`${collection}.${id}`);
      if (fresh) edit = andThen(edit, (next) => putRecord(next, collection, fresh, named), name);
    }
  };
  // First bare tracks, so that whatever names one of them finds it.
  for (const [id, track] of Object.entries(placed.tracks)) {
    const fresh = ids.get(`tracks.${id}`);
    const bare: Track = {
      class: track.class,
      deck: onto?.deck ?? deckThere(plan, track.deck),
      start: ORIGIN,
      legs: [],
    };
    if (fresh) edit = andThen(edit, (next) => putRecord(next, "tracks", fresh, bare), name);
  }
  for (const collection of PUT_IN_ORDER) put(collection);
  return { edit: edit.ok && refs.length === 0 ? refused("there is nothing to paste") : edit, refs };
}

/**
 * Turnouts and turntables lie on tracks, and tracks start from them: all tracks are there bare before the first is put.
 */
const PUT_IN_ORDER: readonly Copied[] = [
  "turnouts",
  "turntables",
  "tracks",
  "slips",
  "pins",
  "benches",
  "backdrops",
  "gates",
  "labels",
];
const ORIGIN: Anchor = { pose: { x: 0, y: 0, heading: 0 } };
const RESERVED = { text: "", at: { x: 0, y: 0 } };

const deckThere = (plan: Plan, deck: Id): Id =>
  Object.hasOwn(plan.decks, deck) ? deck : (Object.keys(plan.decks)[0] ?? deck);

/** What is pasted belongs where it is pasted, not to the option it was copied from. */
function ofNoOption<T extends { readonly option?: Id | undefined }>(record: T): T {
  return amend<{ readonly option?: Id | undefined }>(record, { option: undefined }) as T;
}

interface Onto {
  /** The deck all of it was copied from, and the one it goes to. */
  readonly only: Id;
  readonly deck: Id;
}

function answer(plan: Plan, ids: ReadonlyMap<string, Id>, to: Ref, onto: Onto | undefined): Id {
  // A height pinned to another deck than its track's stays with that deck.
  if (to.collection === "decks") return onto?.only === to.id ? onto.deck : deckThere(plan, to.id);
  return ids.get(`${to.collection}.${to.id}`) ?? to.id;
}

function carried(clipping: Clipping, motion: Motion): { readonly [C in Copied]: Plan[C] } {
  const each = <T>(records: Readonly<Record<Id, T>>, move: (record: T) => T): Readonly<Record<Id, T>> =>
    Object.fromEntries(Object.entries(records).map(([id, record]) => [id, move(record)]));
  return {
    benches: each(clipping.benches, (bench) => moveBench(motion, bench)),
    backdrops: each(clipping.backdrops, (drop) => ({ ...drop, line: drop.line.map((p) => movePoint(motion, p)) })),
    gates: each(clipping.gates, (gate) => ({ ...gate, outline: movePoints(motion, gate.outline) })),
    labels: each(clipping.labels, (label) => ({ ...label, at: movePoint(motion, label.at) })),
    tracks: each(clipping.tracks, (track) => moveTrack(motion, track)),
    turnouts: each(clipping.turnouts, (turnout) => moveTurnout(motion, turnout)),
    slips: each(clipping.slips, (slip) => moveSlip(motion, slip)),
    turntables: each(clipping.turntables, (turntable) => moveTurntable(motion, turntable)),
    pins: clipping.pins,
  };
}
