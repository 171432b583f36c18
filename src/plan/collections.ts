/** The plan's collections of records by id: the schema of each, its type, and what one of its records is called. */
import {
  backdropSchema,
  benchSchema,
  type Collection,
  COLLECTIONS,
  deckSchema,
  gateSchema,
  type Id,
  labelSchema,
  optionSchema,
  pinSchema,
  type Plan,
  templateSchema,
  slipSchema,
  trackSchema,
  turnoutSchema,
  turntableSchema,
} from "./schema.js";

export const RECORD_SCHEMAS = {
  decks: deckSchema,
  benches: benchSchema,
  backdrops: backdropSchema,
  gates: gateSchema,
  tracks: trackSchema,
  templates: templateSchema,
  turnouts: turnoutSchema,
  slips: slipSchema,
  turntables: turntableSchema,
  pins: pinSchema,
  labels: labelSchema,
  options: optionSchema,
} as const;

export type RecordOf<C extends Collection> = Plan[C][string];
export type RecordsOf<C extends Collection> = Readonly<Record<Id, RecordOf<C>>>;
type Collections = { readonly [C in Collection]: RecordsOf<C> };

export function recordsOf<C extends Collection>(plan: Plan, collection: C): RecordsOf<C> {
  const collections: Collections = plan;
  return collections[collection];
}

export const RECORD_NAMES: Readonly<Record<Collection, string>> = {
  decks: "deck",
  benches: "bench",
  backdrops: "backdrop",
  gates: "gate",
  tracks: "track",
  templates: "turnout template",
  turnouts: "turnout",
  slips: "slip",
  turntables: "turntable",
  pins: "height pin",
  labels: "label",
  options: "option",
};

/** One record of a plan. */
export interface Ref {
  readonly collection: Collection;
  readonly id: Id;
}

export const printRef = (ref: Ref): string => `${ref.collection}.${ref.id}`;

/** What people call a record: its name, a label's text, else its id. */
export function spokenName(plan: Plan, ref: Ref): string {
  const record = hasRecord(plan, ref) ? recordsOf(plan, ref.collection)[ref.id] : undefined;
  const name = record && ("text" in record ? record.text : "name" in record ? record.name : undefined);
  return name || ref.id;
}

export const hasRecord = (plan: Plan, ref: Ref): boolean => Object.hasOwn(plan[ref.collection], ref.id);

/** Every id in use, whatever for. */
export const idsInUse = (plan: Plan): Set<Id> =>
  new Set([
    ...COLLECTIONS.flatMap((collection) => Object.keys(plan[collection])),
    ...Object.keys(plan.room.openings),
    ...Object.keys(plan.room.obstacles),
  ]);
