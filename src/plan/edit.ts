/**
 * An edit: one named change of a plan. Edits are pure: the plan given stays as it is, and every record that is not
 * touched keeps its identity in the new one. What cannot be done is answered with a sentence.
 *
 * Holds: an edit never breaks the schema and never adds a reference that leads nowhere; one that changes nothing gives
 * back the same plan.
 */
import {
  hasRecord,
  printRef,
  RECORD_NAMES,
  RECORD_SCHEMAS,
  type RecordOf,
  recordsOf,
  type Ref,
} from "./collections.js";
import { check, printFault } from "./explain.js";
import { allDependants, mapReferences, referencesIn } from "./references.js";
import { type Collection, COLLECTIONS, type Id, idSchema, type Plan } from "./schema.js";

export type Edit =
  | {
      readonly ok: true;
      /** For people, as the undo button names it. */
      readonly name: string;
      readonly plan: Plan;
      /** Whose the records are that it adds is settled: those that name no option belong to all. */
      readonly owned?: true;
    }
  | { readonly ok: false; readonly message: string };

export const done = (name: string, plan: Plan): Edit => ({ ok: true, name, plan });
export const refused = (message: string): Edit => ({ ok: false, message });

/** The edit made of two, one after the other; the second sees what the first made. */
export function andThen(edit: Edit, next: (plan: Plan) => Edit, name?: string): Edit {
  if (!edit.ok) return edit;
  const second = next(edit.plan);
  return second.ok ? done(name ?? edit.name, second.plan) : second;
}

export function recordAt<C extends Collection>(plan: Plan, collection: C, id: Id): RecordOf<C> | undefined {
  return Object.hasOwn(plan[collection], id) ? recordsOf(plan, collection)[id] : undefined;
}

const noSuch = (ref: Ref): Edit => refused(`there is no ${RECORD_NAMES[ref.collection]} "${ref.id}"`);

/** Adds a record or puts another in its place. */
export function putRecord<C extends Collection>(
  plan: Plan,
  collection: C,
  id: Id,
  record: RecordOf<C>,
  name?: string,
): Edit {
  const before = recordAt(plan, collection, id);
  const edit = name ?? `${before === undefined ? "Add" : "Change"} ${RECORD_NAMES[collection]}`;
  if (before === record) return done(edit, plan);
  const fault = faultOf(plan, { collection, id }, record, before);
  if (fault !== undefined) return refused(fault);
  return done(edit, { ...plan, [collection]: { ...plan[collection], [id]: record } });
}

function faultOf<C extends Collection>(
  plan: Plan,
  ref: Ref & { readonly collection: C },
  record: RecordOf<C>,
  before: RecordOf<C> | undefined,
): string | undefined {
  const id = check(idSchema, ref.id);
  if (!id.ok) return `"${ref.id}": ${id.faults.map(printFault).join("; ")}`;
  const whole = check(RECORD_SCHEMAS[ref.collection], record);
  if (!whole.ok) return whole.faults.map(printFault).join("; ");
  const known = new Set(
    before === undefined ? [] : referencesIn(ref.collection, ref.id, before).map(({ to }) => printRef(to)),
  );
  for (const { property, to } of referencesIn(ref.collection, ref.id, record)) {
    const itself = to.collection === ref.collection && to.id === ref.id;
    if (!itself && !known.has(printRef(to)) && !hasRecord(plan, to))
      return `${property}: there is no ${RECORD_NAMES[to.collection]} "${to.id}"`;
  }
  return undefined;
}

/** Changes some properties of a record; one given as undefined is taken out. */
export function amendRecord<C extends Collection>(
  plan: Plan,
  collection: C,
  id: Id,
  change: { readonly [K in keyof RecordOf<C>]?: RecordOf<C>[K] | undefined },
  name?: string,
): Edit {
  const before = recordAt(plan, collection, id);
  if (before === undefined) return noSuch({ collection, id });
  return putRecord(plan, collection, id, amend(before, change), name);
}

/** The object with some properties changed; undefined takes a property out; itself where nothing differs. */
export function amend<T extends object>(value: T, change: { readonly [K in keyof T]?: T[K] | undefined }): T {
  const next: T = { ...value, ...change };
  for (const key of Object.keys(change)) if (Reflect.get(next, key) === undefined) Reflect.deleteProperty(next, key);
  const same = Object.keys(change).every(
    (key) => Reflect.get(value, key) === Reflect.get(next, key) && key in value === key in next,
  );
  return same ? value : next;
}

/** refuse: while others name it. with-dependants: they go too, and theirs. leave: they are left naming what is gone. */
export type RemovePolicy = "refuse" | "with-dependants" | "leave";

export function removeRecord(plan: Plan, ref: Ref, policy: RemovePolicy = "refuse", name?: string): Edit {
  if (!hasRecord(plan, ref)) return noSuch(ref);
  const others = policy === "leave" ? [] : allDependants(plan, ref);
  if (policy === "refuse" && others.length > 0) {
    const first = others.slice(0, 3).map(printRef).join(", ");
    const more = others.length > 3 ? ` and ${others.length - 3} more` : "";
    return refused(`${printRef(ref)} is needed by ${first}${more}`);
  }
  return done(name ?? `Remove ${RECORD_NAMES[ref.collection]}`, without(plan, [ref, ...others]));
}

/** The plan without some records; an option that goes is no longer the chosen one. */
export function without(plan: Plan, refs: readonly Ref[]): Plan {
  let next = plan;
  for (const collection of COLLECTIONS) {
    const gone = new Set(refs.filter((ref) => ref.collection === collection).map((ref) => ref.id));
    if (gone.size === 0) continue;
    const kept = Object.entries(plan[collection]).filter(([id]) => !gone.has(id));
    next = { ...next, [collection]: Object.fromEntries(kept) };
    if (collection === "options" && plan.option !== undefined && gone.has(plan.option))
      next = amend(next, { option: undefined });
  }
  return next;
}

/** Gives a record another id, in its place among the others; everything that names it follows. */
export function renameRecord(plan: Plan, ref: Ref, id: Id): Edit {
  if (!hasRecord(plan, ref)) return noSuch(ref);
  const name = `Rename ${RECORD_NAMES[ref.collection]}`;
  if (id === ref.id) return done(name, plan);
  if (hasRecord(plan, { ...ref, id })) return refused(`there is a ${RECORD_NAMES[ref.collection]} "${id}" already`);
  const usable = check(idSchema, id);
  if (!usable.ok) return refused(`"${id}": ${usable.faults.map(printFault).join("; ")}`);
  let next = plan;
  for (const collection of COLLECTIONS) next = renameIn(next, collection, ref, id);
  return done(name, ref.collection === "options" && plan.option === ref.id ? { ...next, option: id } : next);
}

function renameIn<C extends Collection>(plan: Plan, collection: C, ref: Ref, id: Id): Plan {
  let changed = collection === ref.collection;
  const entries = Object.entries(recordsOf(plan, collection)).map(([key, record]): [Id, RecordOf<C>] => {
    const next = mapReferences(collection, record, (to) =>
      to.collection === ref.collection && to.id === ref.id ? id : to.id,
    );
    changed ||= next !== record;
    return [collection === ref.collection && key === ref.id ? id : key, next];
  });
  return changed ? { ...plan, [collection]: Object.fromEntries(entries) } : plan;
}
