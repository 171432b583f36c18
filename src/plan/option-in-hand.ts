/**
 * What an edit adds while an option is in hand belongs to it; what it changes of all options it changes for every one.
 *
 * Always holds: an edit that comes out leaves no more records hanging on another option's than there were.
 */
import { printRef, RECORD_NAMES, spokenName } from "./collections.js";
import { amend, type Edit, refused } from "./edit.js";
import {
  OPTION_COLLECTIONS,
  type OptionCollection,
  type OptionRef,
  strayReferences,
  strayText,
} from "./option-records.js";
import type { Id, Plan } from "./schema.js";

/**
 * Every record an edit adds belongs to an option, where the option is there and the record says nothing else. With
 * undefined they belong to all. Refused where the edit leaves a record hanging on another option's.
 * `before` is the plan the edit was made from.
 */
export function asOption(edit: Edit, before: Plan, option: Id | undefined): Edit {
  if (!edit.ok || edit.plan === before) return edit;
  const there = option !== undefined && Object.hasOwn(edit.plan.options, option);
  let plan = edit.plan;
  if (there && edit.owned === undefined) {
    for (const collection of OPTION_COLLECTIONS) plan = withNewOnesIn(plan, collection, before, option);
  }
  const strays = strayReferences(plan);
  const was = strayReferences(before);
  if (strays.length > was.length) {
    const known = new Set(was.map(({ from, to }) => `${printRef(from)} ${printRef(to)}`));
    const fresh = strays.find(({ from, to }) => !known.has(`${printRef(from)} ${printRef(to)}`));
    if (fresh) return refused(strayText(plan, fresh));
  }
  return plan === edit.plan ? edit : { ...edit, plan };
}

function withNewOnesIn(plan: Plan, collection: OptionCollection, before: Plan, option: Id): Plan {
  const was = before[collection];
  const is = plan[collection];
  if (was === is) return plan;
  const added = Object.keys(is).filter((id) => !Object.hasOwn(was, id) && is[id]?.option === undefined);
  return withOption(
    plan,
    added.map((id) => ({ collection, id })),
    option,
  );
}

/** The plan with these records belonging to an option, or to all; every other record as it was. */
export function withOption(plan: Plan, refs: readonly OptionRef[], option: Id | undefined): Plan {
  let next = plan;
  for (const collection of OPTION_COLLECTIONS) {
    const ids = refs.flatMap((ref) => (ref.collection === collection ? [ref.id] : []));
    if (ids.length === 0) continue;
    const records: Record<Id, Plan[OptionCollection][string]> = { ...next[collection] };
    for (const id of ids) {
      const record = records[id];
      if (record) records[id] = amend<Plan[OptionCollection][string]>(record, { option });
    }
    next = { ...next, [collection]: records };
  }
  return next;
}

/** Records of all options that an edit changed or removed: it did so for every option. */
export function changedForAll(before: Plan, after: Plan): OptionRef[] {
  return OPTION_COLLECTIONS.flatMap((collection) => {
    const [was, is] = [before[collection], after[collection]];
    if (was === is) return [];
    return Object.keys(was).flatMap((id) =>
      was[id] !== is[id] && was[id]?.option === undefined && is[id]?.option === undefined ? [{ collection, id }] : [],
    );
  });
}

/** Named one by one up to so many. */
const MOST_NAMED = 2;

/** `In every option: track Larkmoor main and 3 more.`; empty where an edit leaves all that belongs to all as it was. */
export function changedForAllText(before: Plan, after: Plan): string {
  const refs = changedForAll(before, after);
  const names = refs.slice(0, MOST_NAMED).map((ref) => `${RECORD_NAMES[ref.collection]} ${spokenName(before, ref)}`);
  const more = refs.length > MOST_NAMED ? ` and ${refs.length - MOST_NAMED} more` : "";
  return refs.length === 0 ? "" : `In every option: ${names.join(", ")}${more}.`;
}
