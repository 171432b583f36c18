/** Fields and texts that several kinds of thing share. */
import type { RecordOf } from "../../../plan/collections.js";
import { amendRecord, type Edit } from "../../../plan/edit.js";
import type { Collection, Id, Plan } from "../../../plan/schema.js";
import {
  type ChoiceField,
  type Field,
  type NumberField,
  type Quantity,
  quantityText,
  type TextField,
} from "./field.js";

type Named = Exclude<Collection, "labels" | "pins">;

/** A name that may be left out. */
export function optionalName(collection: Named, id: Id, value: string | undefined): TextField {
  return {
    kind: "text",
    id: "name",
    label: "Name",
    value: value ?? "",
    set: (plan, name) =>
      amendRecord(plan, collection, id, { name: name.trim() === "" ? undefined : name.trim() } as Partial<
        RecordOf<typeof collection>
      >),
  };
}

export const deckChoices = (plan: Plan): ChoiceField["choices"] =>
  Object.entries(plan.decks)
    .sort(([, a], [, b]) => b.height - a.height)
    .map(([value, { name }]) => ({ value, name }));

/** A property of a record that is a choice of decks. */
export const deckField = (collection: "benches" | "backdrops" | "gates", id: Id, plan: Plan): ChoiceField => ({
  kind: "choice",
  id: "deck",
  label: "Deck",
  value: plan[collection][id]?.deck ?? "",
  choices: deckChoices(plan),
  set: (now, deck) => amendRecord(now, collection, id, { deck }),
});

export const lengthNote = (length: number | undefined, plan: Plan): string =>
  length === undefined ? "–" : quantityText(length, "length", plan.units);

interface NumberHead {
  readonly id: string;
  readonly label: string;
  readonly note?: string;
  readonly quantity?: Quantity;
  readonly value: number | undefined;
}

/** A number that must be there. */
export const number = (head: NumberHead, set: (plan: Plan, value: number) => Edit): NumberField => ({
  kind: "number",
  quantity: "length",
  ...head,
  set: (plan, value) => set(plan, value ?? 0),
});

/** A number that may be left out, and what then holds. */
export const optional = (
  head: NumberHead & { readonly without: string },
  set: (plan: Plan, value: number | undefined) => Edit,
): NumberField => ({ kind: "number", quantity: "length", ...head, set });

/** One of a few words. */
export function choice<T extends string>(
  head: { readonly id: string; readonly label: string; readonly note?: string; readonly value: T },
  choices: readonly (readonly [value: T, name: string])[],
  set: (plan: Plan, value: T) => Edit,
): ChoiceField {
  return {
    kind: "choice",
    ...head,
    choices: choices.map(([value, name]) => ({ value, name })),
    set: (plan, value) => set(plan, choices.find(([known]) => known === value)?.[0] ?? head.value),
  };
}

/** What is told and not typed. */
export const fact = (id: string, label: string, value: string, note?: string): Field => ({
  kind: "fact",
  id,
  label,
  value,
  ...(note !== undefined && { note }),
});
