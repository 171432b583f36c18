/**
 * What can be done with options, by menu, key and panel: each one edit, one step of undo, and a sentence of what follows.
 * Without page: the tests call the same.
 */
import type { Ref } from "../../plan/collections.js";
import type { Edit } from "../../plan/edit.js";
import {
  addAndChoose,
  deleteOption,
  duplicateOption,
  freeOptionName,
  goneWith,
  moveToOption,
  promoteOption,
  renameOption,
} from "../../plan/option-edits.js";
import { optionName, recordsOfOption } from "../../plan/option-records.js";
import type { Id, Plan } from "../../plan/schema.js";
import { chooseOption } from "../../plan/setting-edits.js";
import type { EditorStore } from "../store.js";
import type { Selected } from "../tool.js";

const planOf = (store: EditorStore): Plan => store.getState().history.plan;

/** Does the edit, and says what it comes to; an edit that is refused says why. */
function doAndSay(store: EditorStore, edit: Edit, said: (after: Plan) => string, key?: string): boolean {
  const { edit: apply } = store.getState();
  const done = apply(edit.ok ? { ...edit, owned: true } : edit, key);
  if (done) store.getState().say(said(planOf(store)));
  return done;
}

/** `Climb A is in hand: what you draw belongs to it.` */
export const inHandText = (plan: Plan): string =>
  plan.option === undefined
    ? "No option is in hand: what you draw belongs to all of them."
    : `${optionName(plan, plan.option)} is in hand: what you draw belongs to it.`;

/** Puts an option in hand; going on from one to another is one step of undo. */
export const choose = (store: EditorStore, option: Id | undefined): boolean =>
  doAndSay(store, chooseOption(planOf(store), option), inHandText, "choose option");

/** The option after the one in hand, none coming after the last. */
export function chooseNext(store: EditorStore): boolean {
  const plan = planOf(store);
  const options = Object.keys(plan.options);
  if (options.length === 0) {
    store.getState().say("The plan has no options yet.");
    return false;
  }
  return choose(store, options[plan.option === undefined ? 0 : options.indexOf(plan.option) + 1]);
}

/** A new option, in hand at once. */
export const addNew = (store: EditorStore): boolean =>
  doAndSay(store, addAndChoose(planOf(store), freeOptionName(planOf(store))).edit, inHandText);

/** A copy, in hand at once. */
export function duplicate(store: EditorStore, option: Id): boolean {
  const { edit, option: copy } = duplicateOption(planOf(store), option);
  const chosen = edit.ok ? chooseOption(edit.plan, copy) : edit;
  return doAndSay(store, chosen.ok && edit.ok ? { ...chosen, name: edit.name } : chosen, inHandText);
}

export const rename = (store: EditorStore, option: Id, name: string): boolean =>
  doAndSay(store, renameOption(planOf(store), option, name), () => "");

/** `Climb A belongs to the plan now. Climb B went with 9 objects; undo brings it back.` */
export function takeForGood(store: EditorStore, option: Id): boolean {
  const plan = planOf(store);
  const gone = goneWith(plan, option);
  const names = gone.options.map((id) => optionName(plan, id));
  const went =
    names.length === 0
      ? ""
      : ` ${listed(names)} went with ${objects(gone.records)}; undo brings ${names.length === 1 ? "it" : "them"} back.`;
  return doAndSay(
    store,
    promoteOption(plan, option),
    () => `${optionName(plan, option)} belongs to the plan now.${went}`,
  );
}

export function remove(store: EditorStore, option: Id): boolean {
  const plan = planOf(store);
  const count = recordsOfOption(plan, option).length;
  const said = `${optionName(plan, option)} went with ${objects(count)}; undo brings it back.`;
  return doAndSay(store, deleteOption(plan, option), () => said);
}

/** What is selected belongs to an option from now on, or to all. */
export function moveSelection(store: EditorStore, option: Id | undefined): boolean {
  const plan = planOf(store);
  const refs = refsOf(store.getState().selection);
  if (refs.length === 0) {
    store.getState().say("Select what is to be moved first.");
    return false;
  }
  const edit = moveToOption(plan, refs, option);
  const own = (now: Plan): number => recordsOfOption(now, option).length;
  return doAndSay(store, edit, (after) => {
    const count = own(after) - own(plan);
    const whose = option === undefined ? "all options" : optionName(after, option);
    return count === 0 ? `That belongs to ${whose} already.` : `${sentenceOf(count)} to ${whose}.`;
  });
}

const refsOf = (selection: readonly Selected[]): Ref[] =>
  selection.flatMap((thing) => (thing.kind === "record" ? [{ collection: thing.collection, id: thing.id }] : []));

const objects = (count: number): string => (count === 1 ? "1 object" : `${count} objects`);
const sentenceOf = (count: number): string => (count === 1 ? "1 object belongs" : `${count} objects belong`);

const listed = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? "") : `${names.slice(0, -1).join(", ")} and ${names.at(-1) ?? ""}`;
