/**
 * Records that belong to an option of the plan, and how they may hang together: a record names only records of all
 * options or of its own. What names another option's would lead nowhere as soon as that one is not in hand.
 */
import { hasRecord, RECORD_NAMES, recordsOf, type Ref, spokenName } from "./collections.js";
import { type Reference, referencesIn } from "./references.js";
import type { Collection, Id, Plan } from "./schema.js";

/** Collections whose records may belong to an option. Decks and turnout templates are everyone's. */
export const OPTION_COLLECTIONS = [
  "benches",
  "backdrops",
  "gates",
  "tracks",
  "turnouts",
  "slips",
  "turntables",
  "pins",
  "labels",
] as const;
export type OptionCollection = (typeof OPTION_COLLECTIONS)[number];

/** A record that may belong to an option. */
export interface OptionRef extends Ref {
  readonly collection: OptionCollection;
}

export const canBelong = (ref: Ref): ref is OptionRef => OPTION_COLLECTIONS.some((name) => name === ref.collection);

/** The option a record belongs to; undefined for one that belongs to all. */
export function optionOf(plan: Plan, ref: Ref): Id | undefined {
  return canBelong(ref) && hasRecord(plan, ref) ? plan[ref.collection][ref.id]?.option : undefined;
}

/** Every record of an option, or with undefined of all options, in the plan's order. */
export const recordsOfOption = (plan: Plan, option: Id | undefined): OptionRef[] =>
  OPTION_COLLECTIONS.flatMap((collection) =>
    Object.entries(plan[collection])
      .filter(([, record]) => record.option === option)
      .map(([id]) => ({ collection, id })),
  );

/** `Climb A`; for an option that is not there its id. */
export const optionName = (plan: Plan, option: Id): string => spokenName(plan, { collection: "options", id: option });

/** `track Larkmoor main of Climb A`, `track Larkmoor main`. */
export function describeRecord(plan: Plan, ref: Ref): string {
  const option = optionOf(plan, ref);
  const thing = `${RECORD_NAMES[ref.collection]} ${spokenName(plan, ref)}`;
  return option === undefined ? thing : `${thing} of ${optionName(plan, option)}`;
}

/** What a collection's records name, with whose they are. */
interface Links {
  readonly owners: ReadonlyMap<Id, Id>;
  readonly references: readonly Reference[];
}

/** Kept per plan, per collection and per record: nothing is looked through twice while it stays as it is. */
const straysOf = new WeakMap<Plan, readonly Reference[]>();
const linksOf = new WeakMap<object, Links>();
const namedBy = new WeakMap<object, readonly Reference[]>();

/** References from a record to one of an option that is not its own; none in a plan without options. */
export function strayReferences(plan: Plan): readonly Reference[] {
  let known = straysOf.get(plan);
  if (!known) straysOf.set(plan, (known = findStrays(plan)));
  return known;
}

function findStrays(plan: Plan): readonly Reference[] {
  if (Object.keys(plan.options).length === 0) return [];
  const links = new Map<Collection, Links>(
    OPTION_COLLECTIONS.map((collection) => [collection, linksIn(plan, collection)]),
  );
  if ([...links.values()].every(({ owners }) => owners.size === 0)) return [];
  const ownerOf = ({ collection, id }: Ref): Id | undefined => links.get(collection)?.owners.get(id);
  return [...links.values()].flatMap(({ references }) =>
    references.filter(({ from, to }) => {
      const owner = ownerOf(to);
      return owner !== undefined && owner !== ownerOf(from);
    }),
  );
}

function linksIn(plan: Plan, collection: OptionCollection): Links {
  const before = linksOf.get(plan[collection]);
  if (before) return before;
  const owners = new Map<Id, Id>();
  const references: Reference[] = [];
  for (const [id, record] of Object.entries(recordsOf(plan, collection))) {
    const option = "option" in record ? record.option : undefined;
    if (option !== undefined) owners.set(id, option);
    let named = namedBy.get(record);
    // A record stands under one id, but for copies that are made of it on the way.
    if (!named || (named[0] && named[0].from.id !== id)) {
      named = referencesIn(collection, id, record).filter(({ to }) => canBelong(to));
      namedBy.set(record, named);
    }
    references.push(...named);
  }
  const links = { owners, references };
  linksOf.set(plan[collection], links);
  return links;
}

/** What is the matter with a stray reference, as a sentence without its full stop. */
export function strayText(plan: Plan, { from, to }: Reference): string {
  const whose =
    optionOf(plan, from) === undefined ? `${describeRecord(plan, from)} of all options` : describeRecord(plan, from);
  return `${whose} hangs on ${describeRecord(plan, to)}: that is there with this option only`;
}
