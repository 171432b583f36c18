/**
 * What must be told to whoever holds one plan so that they hold another: the records and properties that differ. Plain
 * data, to be sent.
 *
 * Always holds: a patched plan equals the plan the patch was made for, records in the same order; records that did not
 * change stay the objects they were, and within those that did, the parts that did not.
 */
import { planChanges } from "./changes.js";
import { COLLECTIONS, type Collection, type Id, type Plan } from "./schema.js";
import { sharing } from "./sharing.js";

interface RecordsPatch {
  readonly put: Readonly<Record<Id, unknown>>;
  /** Ids in order, where records went or came elsewhere than last. */
  readonly order?: readonly Id[];
}

export interface PlanPatch {
  readonly records: { readonly [C in Collection]?: RecordsPatch };
  /** Properties with their values; those that went have none. */
  readonly properties: readonly { readonly key: string; readonly value?: unknown }[];
}

export function planPatch(before: Plan, after: Plan): PlanPatch {
  const { added, updated, properties } = planChanges(before, after);
  const records: { [C in Collection]?: RecordsPatch } = {};
  for (const collection of COLLECTIONS) {
    if (before[collection] === after[collection]) continue;
    const put: Record<Id, unknown> = {};
    for (const ref of [...updated, ...added])
      if (ref.collection === collection) put[ref.id] = after[collection][ref.id];
    const order = Object.keys(after[collection]);
    const asPut = Object.keys({ ...before[collection], ...put });
    const inOrder = order.length === asPut.length && order.every((id, i) => id === asPut[i]);
    records[collection] = inOrder ? { put } : { put, order };
  }
  return {
    records,
    properties: properties.map((key) => (key in after ? { key, value: Reflect.get(after, key) } : { key })),
  };
}

export function patched(plan: Plan, patch: PlanPatch): Plan {
  const gone = new Set(patch.properties.flatMap((property) => ("value" in property ? [] : [property.key])));
  const kept = Object.entries(plan).filter(([key]) => !gone.has(key));
  const changed = patch.properties.flatMap((property): [string, unknown][] =>
    "value" in property ? [[property.key, sharing(Reflect.get(plan, property.key), property.value)]] : [],
  );
  const records = Object.entries(patch.records).map(([collection, change]): [string, unknown] => [
    collection,
    patchedRecords(plan[collection as Collection], change),
  ]);
  return Object.fromEntries([...kept, ...changed, ...records]) as unknown as Plan;
}

function patchedRecords(before: Readonly<Record<Id, unknown>>, { put, order }: RecordsPatch): Record<Id, unknown> {
  const own = Object.fromEntries(Object.entries(put).map(([id, record]) => [id, sharing(before[id], record)]));
  const all = { ...before, ...own };
  return order ? Object.fromEntries(order.map((id) => [id, all[id]])) : all;
}
