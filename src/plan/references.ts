/**
 * Which records name which others. One walk over a record's references serves to list them, to find what depends on a
 * record, to find references that lead nowhere and to rename.
 *
 * Holds: a walk that answers every reference with itself gives back the very same record.
 */
import { COLLECTIONS, type Anchor, type Collection, type Id, type Leg, type Plan } from "./schema.js";
import { hasRecord, type RecordOf, type Ref } from "./collections.js";

/** Called with the record named and the property that names it; answers with the id to name instead. */
type Visit = (to: Ref, property: string) => Id;

export interface Reference {
  readonly from: Ref;
  readonly property: string;
  readonly to: Ref;
}

/** A record with `key` changed where it is there and differs. */
const withId = <T extends object, K extends string>(
  record: T & { readonly [P in K]?: Id | undefined },
  key: K,
  collection: Collection,
  visit: Visit,
  path = "",
): T => {
  const id = record[key];
  if (id === undefined) return record;
  const next = visit({ collection, id }, path + key);
  return next === id ? record : { ...record, [key]: next };
};

function inAnchor(anchor: Anchor, visit: Visit, path: string): Anchor {
  if ("turnout" in anchor) return withId(anchor, "turnout", "turnouts", visit, `${path}.`);
  if ("track" in anchor) return withId(anchor, "track", "tracks", visit, `${path}.`);
  if ("turntable" in anchor) return withId(anchor, "turntable", "turntables", visit, `${path}.`);
  if (!("beside" in anchor)) return anchor;
  const beside = withId(anchor.beside, "track", "tracks", visit, `${path}.beside.`);
  return beside === anchor.beside ? anchor : { ...anchor, beside };
}

function inLeg(leg: Leg, visit: Visit, path: string): Leg {
  if ("join" in leg) {
    const to = inAnchor(leg.join.to, visit, `${path}.join.to`);
    return to === leg.join.to ? leg : { ...leg, join: { ...leg.join, to } };
  }
  if (!("beside" in leg)) return leg;
  const beside = withId(leg.beside, "track", "tracks", visit, `${path}.beside.`);
  return beside === leg.beside ? leg : { ...leg, beside };
}

const onDeck = <T extends { readonly deck?: Id | undefined; readonly option?: Id | undefined }>(
  record: T,
  visit: Visit,
): T => withId(withId(record, "deck", "decks", visit), "option", "options", visit);

const WALKS: { readonly [C in Collection]: (record: RecordOf<C>, visit: Visit) => RecordOf<C> } = {
  decks: (deck) => deck,
  templates: (template) => template,
  options: (option) => option,
  benches: onDeck,
  backdrops: onDeck,
  gates: onDeck,
  labels: onDeck,
  pins: (pin, visit) => onDeck(withId(pin, "track", "tracks", visit), visit),
  turnouts: (turnout, visit) => {
    const host = withId(turnout, "on", "tracks", visit);
    return withId(withId(host, "template", "templates", visit), "option", "options", visit);
  },
  slips: (slip, visit) => {
    const host = withId(slip, "on", "tracks", visit);
    return withId(withId(host, "across", "tracks", visit), "option", "options", visit);
  },
  turntables: (turntable, visit) => withId(withId(turntable, "on", "tracks", visit), "option", "options", visit),
  tracks: (track, visit) => {
    const start = inAnchor(track.start, visit, "start");
    const legs = track.legs.map((leg, i) => inLeg(leg, visit, `legs.${i}`));
    const same = start === track.start && legs.every((leg, i) => leg === track.legs[i]);
    return onDeck(same ? track : { ...track, start, legs }, visit);
  },
};

/** The record with every reference answered by `visit`; the same record where nothing changes. */
export function mapReferences<C extends Collection>(collection: C, record: RecordOf<C>, visit: Visit): RecordOf<C> {
  return WALKS[collection](record, visit);
}

/** What a record names. */
export function referencesIn<C extends Collection>(collection: C, id: Id, record: RecordOf<C>): Reference[] {
  const found: Reference[] = [];
  mapReferences(collection, record, (to, property) => {
    found.push({ from: { collection, id }, property, to });
    return to.id;
  });
  return found;
}

export function allReferences(plan: Plan): Reference[] {
  return COLLECTIONS.flatMap((collection) =>
    Object.entries(plan[collection]).flatMap(([id, record]) => referencesIn(collection, id, record)),
  );
}

/** References that lead nowhere. The chosen option is not among them, since the plan is no record. */
export const danglingReferences = (plan: Plan): Reference[] =>
  allReferences(plan).filter((reference) => !hasRecord(plan, reference.to));

/** What names a record, directly; a record that names it twice stands twice, the record itself left out. */
export const dependants = (plan: Plan, ref: Ref): Reference[] =>
  allReferences(plan).filter(({ from, to }) => same(to, ref) && !same(from, ref));

/** Every record that could not stand without this one, nearest first, itself left out. */
export function allDependants(plan: Plan, ref: Ref): Ref[] {
  const namedBy = new Map<string, Ref[]>();
  for (const { from, to } of allReferences(plan)) {
    const key = `${to.collection}.${to.id}`;
    const list = namedBy.get(key);
    if (list) list.push(from);
    else namedBy.set(key, [from]);
  }
  const seen = new Set([`${ref.collection}.${ref.id}`]);
  const found: Ref[] = [];
  const queue = [ref];
  for (const next of queue) {
    for (const from of namedBy.get(`${next.collection}.${next.id}`) ?? []) {
      const key = `${from.collection}.${from.id}`;
      if (seen.has(key)) continue;
      seen.add(key);
      found.push(from);
      queue.push(from);
    }
  }
  return found;
}

const same = (a: Ref, b: Ref): boolean => a.collection === b.collection && a.id === b.id;
