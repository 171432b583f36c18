/** Edits that several records come of at once: made anew only when a figure changes, and what they brought chosen. */
import { deriveLayout } from "../../layout/derive.js";
import type { Layout } from "../../layout/layout.js";
import { andThen, type Edit } from "../../plan/edit.js";
import { type Anchor, COLLECTIONS, type Plan } from "../../plan/schema.js";
import { setBumper } from "../../plan/track-edits.js";
import type { Effect, Selected } from "../tool.js";

export interface Made {
  readonly edit: Edit;
  /** With the edit made; the layout as it is where it was refused. Derived when first asked for. */
  layout(): Layout;
}

/** A hand moves often and changes little: so many edits of one layout are kept. */
const KEPT = 8;
const made = new WeakMap<Layout, Map<string, Made>>();

/** The edit of these figures (`key` says them all). */
export function madeOnce(layout: Layout, key: string, make: () => Edit): Made {
  const known = made.get(layout) ?? new Map<string, Made>();
  made.set(layout, known);
  const before = known.get(key);
  if (before) return before;
  const edit = make();
  let after: Layout | undefined;
  const result: Made = { edit, layout: () => (after ??= edit.ok ? deriveLayout(edit.plan, layout) : layout) };
  const [oldest] = known.keys();
  if (known.size >= KEPT && oldest !== undefined) known.delete(oldest);
  known.set(key, result);
  return result;
}

export const newThings = (before: Plan, after: Plan): Selected[] =>
  COLLECTIONS.flatMap((collection) =>
    Object.keys(after[collection])
      .filter((id) => !Object.hasOwn(before[collection], id))
      .map((id) => ({ kind: "record" as const, collection, id })),
  );

export const selectNew = (before: Plan, edit: Edit): Effect[] =>
  edit.ok ? [{ do: "select", selection: newThings(before, edit.plan) }] : [];

/** Where track goes on no bumper stays. */
export const pastBumper = (edit: Edit, anchor: Anchor): Edit =>
  "track" in anchor
    ? andThen(edit, (plan) => setBumper(plan, anchor.track, anchor.end, false), edit.ok ? edit.name : undefined)
    : edit;
