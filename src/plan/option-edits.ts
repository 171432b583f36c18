/**
 * Edits of a plan's options: added, named, duplicated, taken for good, removed, and records moved into one or to all.
 *
 * Always holds: no edit makes a record hang on another option's; each is one step of undo; an option that is duplicated
 * and the copy removed leaves the plan as it was; after `promoteOption` the layout is what it was with that option in
 * hand.
 */
import { printRef, RECORD_NAMES, recordsOf, type Ref } from "./collections.js";
import { amend, amendRecord, andThen, done, type Edit, putRecord, refused, without } from "./edit.js";
import { freshId } from "./fresh-id.js";
import {
  canBelong,
  describeRecord,
  optionName,
  optionOf,
  type OptionRef,
  recordsOfOption,
  strayReferences,
} from "./option-records.js";
import { withOption } from "./option-in-hand.js";
import { allReferences, mapReferences } from "./references.js";
import type { Id, Plan } from "./schema.js";
import { chooseOption } from "./setting-edits.js";

/** An edit with the option it made. */
export interface OptionEdit {
  readonly edit: Edit;
  readonly option: Id;
}

/** An option without records of its own, not yet chosen. */
export function addOption(plan: Plan, name: string): OptionEdit {
  const option = freshId(plan, name.trim() || "option");
  const fault = nameFault(plan, name);
  const edit = fault === undefined ? putRecord(plan, "options", option, { name: name.trim() }) : refused(fault);
  return { edit, option };
}

export function renameOption(plan: Plan, option: Id, name: string): Edit {
  const fault = nameFault(plan, name, option);
  return fault === undefined
    ? amendRecord(plan, "options", option, { name: name.trim() }, "Rename option")
    : refused(fault);
}

function nameFault(plan: Plan, name: string, own?: Id): string | undefined {
  const wanted = name.trim().toLowerCase();
  if (wanted === "") return "an option needs a name";
  const taken = Object.entries(plan.options).some(
    ([id, other]) => id !== own && other.name.trim().toLowerCase() === wanted,
  );
  return taken ? `there is an option called ${name.trim()} already` : undefined;
}

/** A name nobody has: `Option B`, or `Climb A 2` after `Climb A`. */
export function freeOptionName(plan: Plan, like?: string): string {
  const letters = [..."ABCDEFGHIJKLMNOPQRSTUVWXYZ"].map((letter) => `Option ${letter}`);
  const stem = like ?? "Option";
  const numbered = Array.from({ length: Object.keys(plan.options).length + 1 }, (_, i) => `${stem} ${i + 2}`);
  const names = like === undefined ? [...letters, ...numbered] : numbered;
  return names.find((name) => nameFault(plan, name) === undefined) ?? stem;
}

/** A copy of an option with records of its own. Without `name` it is called after the first. */
export function duplicateOption(plan: Plan, option: Id, name?: string): OptionEdit {
  if (!Object.hasOwn(plan.options, option)) return { edit: noSuch(option), option };
  const added = addOption(plan, name ?? freeOptionName(plan, optionName(plan, option)));
  if (!added.edit.ok) return added;
  const own = recordsOfOption(plan, option);
  const ids = new Map<string, Id>();
  let next = added.edit.plan;
  // Each is there before the next is named, so that no two are named alike; what they name is put right afterwards.
  for (const ref of own) {
    const id = freshId(next, ref.id.replace(/-\d+$/, ""));
    ids.set(printRef(ref), id);
    next = { ...next, [ref.collection]: { ...next[ref.collection], [id]: plan[ref.collection][ref.id] } };
  }
  for (const { collection, id } of own) {
    const fresh = ids.get(printRef({ collection, id }));
    const record = recordsOf(plan, collection)[id];
    if (fresh === undefined || !record) continue;
    const mapped = mapReferences(collection, record, (to) =>
      to.collection === "options" ? added.option : (ids.get(printRef(to)) ?? to.id),
    );
    next = { ...next, [collection]: { ...next[collection], [fresh]: mapped } };
  }
  return { edit: done("Duplicate option", next), option: added.option };
}

/** What goes when an option is taken for good: every other option with its records. */
export const goneWith = (plan: Plan, promoted: Id): { readonly options: readonly Id[]; readonly records: number } => {
  const options = Object.keys(plan.options).filter((id) => id !== promoted);
  return { options, records: options.reduce((sum, id) => sum + recordsOfOption(plan, id).length, 0) };
};

/**
 * Takes an option for good: its records belong to the plan like any other, every other option goes with its records, and
 * the plan has no options any more.
 */
export function promoteOption(plan: Plan, option: Id): Edit {
  if (!Object.hasOwn(plan.options, option)) return noSuch(option);
  const name = "Take option for good";
  const others = Object.keys(plan.options).filter((id) => id !== option);
  const gone = others.flatMap((id) => recordsOfOption(plan, id));
  const needed = neededElsewhere(plan, gone);
  if (needed !== undefined) return refused(needed);
  const kept = withOption(without(plan, gone), recordsOfOption(plan, option), undefined);
  return done(name, amend({ ...kept, options: {} }, { option: undefined }));
}

/** Removes an option with its records. Refused while a record of another option, or of all, hangs on one of them. */
export function deleteOption(plan: Plan, option: Id): Edit {
  if (!Object.hasOwn(plan.options, option)) return noSuch(option);
  const own = recordsOfOption(plan, option);
  const needed = neededElsewhere(plan, own);
  if (needed !== undefined) return refused(needed);
  return done("Remove option", without(plan, [...own, { collection: "options", id: option }]));
}

function neededElsewhere(plan: Plan, gone: readonly Ref[]): string | undefined {
  const going = new Set(gone.map(printRef));
  const stray = strayReferences(plan).find(({ from, to }) => going.has(printRef(to)) && !going.has(printRef(from)));
  return stray && `${describeRecord(plan, stray.from)} hangs on ${describeRecord(plan, stray.to)}`;
}

/**
 * Moves records into an option, or with undefined to all. What cannot stay behind goes along: what hangs on them, when
 * they go into an option; what they hang on, when they leave one. Refused where a third option's records are in the way.
 */
export function moveToOption(plan: Plan, refs: readonly Ref[], option: Id | undefined): Edit {
  if (option !== undefined && !Object.hasOwn(plan.options, option)) return noSuch(option);
  const fixed = refs.find((ref) => !canBelong(ref));
  if (fixed) return refused(`a ${RECORD_NAMES[fixed.collection]} belongs to all options`);
  const moved = new Map<string, OptionRef>();
  const queue: Ref[] = [...refs];
  const links = linksOf(plan);
  for (const ref of queue) {
    if (!canBelong(ref) || moved.has(printRef(ref)) || optionOf(plan, ref) === option) continue;
    const from = optionOf(plan, ref);
    moved.set(printRef(ref), ref);
    for (const support of links.supports.get(printRef(ref)) ?? []) {
      const theirs = optionOf(plan, support);
      if (theirs !== undefined && theirs !== option) queue.push(support);
    }
    if (option === undefined) continue;
    for (const dependant of links.dependants.get(printRef(ref)) ?? []) {
      const theirs = optionOf(plan, dependant);
      if (theirs !== undefined && theirs !== option && theirs !== from)
        return refused(`${describeRecord(plan, dependant)} hangs on ${describeRecord(plan, ref)}`);
      queue.push(dependant);
    }
  }
  const name = option === undefined ? "Move to all options" : "Move to option";
  return done(name, moved.size === 0 ? plan : withOption(plan, [...moved.values()], option));
}

function linksOf(plan: Plan): {
  readonly supports: ReadonlyMap<string, readonly Ref[]>;
  readonly dependants: ReadonlyMap<string, readonly Ref[]>;
} {
  const supports = new Map<string, Ref[]>();
  const dependants = new Map<string, Ref[]>();
  const add = (to: Map<string, Ref[]>, key: Ref, ref: Ref): void => {
    to.set(printRef(key), [...(to.get(printRef(key)) ?? []), ref]);
  };
  for (const { from, to } of allReferences(plan)) {
    if (!canBelong(from) || !canBelong(to)) continue;
    add(supports, from, to);
    add(dependants, to, from);
  }
  return { supports, dependants };
}

const noSuch = (option: Id): Edit => refused(`there is no option "${option}"`);

/** Adds an option and puts it in hand, as one step. */
export function addAndChoose(plan: Plan, name: string): OptionEdit {
  const { edit, option } = addOption(plan, name);
  return { edit: andThen(edit, (next) => chooseOption(next, option), "Add option"), option };
}
