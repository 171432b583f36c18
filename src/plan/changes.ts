/** What differs between two plans, told by identity: untouched records are the same objects in both. */
import { RECORD_SCHEMAS, type Ref } from "./collections.js";
import { COLLECTIONS, type Plan } from "./schema.js";

export interface PlanChanges {
  readonly added: readonly Ref[];
  readonly updated: readonly Ref[];
  readonly removed: readonly Ref[];
  /** Properties of the plan that are no collections: `room`, `standards`, `title`, unknown ones too. */
  readonly properties: readonly string[];
}

export function planChanges(before: Plan, after: Plan): PlanChanges {
  const added: Ref[] = [];
  const updated: Ref[] = [];
  const removed: Ref[] = [];
  for (const collection of COLLECTIONS) {
    const was = before[collection];
    const is = after[collection];
    if (was === is) continue;
    for (const id of Object.keys(is)) {
      if (!Object.hasOwn(was, id)) added.push({ collection, id });
      else if (was[id] !== is[id]) updated.push({ collection, id });
    }
    for (const id of Object.keys(was)) if (!Object.hasOwn(is, id)) removed.push({ collection, id });
  }
  const keys = new Set([...Object.keys(before), ...Object.keys(after)]);
  const properties = [...keys].filter(
    (key) => !Object.hasOwn(RECORD_SCHEMAS, key) && Reflect.get(before, key) !== Reflect.get(after, key),
  );
  return { added, updated, removed, properties };
}
