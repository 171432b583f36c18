/** What tools answer with again and again: an edit shown, an edit made, and what is put aside. */
import { freshId } from "../../plan/fresh-id.js";
import type { Edit } from "../../plan/edit.js";
import type { Id, Plan } from "../../plan/schema.js";
import type { Effect, Outcome } from "../tool.js";

/** Shows an edit; a refused one takes the last preview back, and the tool says why in its own place. */
export const previewed = (edit: Edit | undefined): readonly Effect[] =>
  edit?.ok ? [{ do: "preview", edit }] : [{ do: "abandon" }];

/** Makes an edit and goes on with `after`; a refused one is said, and the tool stays as it is. */
export function committed<S>(edit: Edit, after: S, stay: S, then: readonly Effect[] = []): Outcome<S> {
  if (edit.ok) return { state: after, effects: [{ do: "commit", edit }, ...then] };
  return { state: stay, effects: [{ do: "abandon" }, { do: "say", text: sentence(edit.message) }] };
}

/** Esc with nothing begun hands over to the arrow. */
export const putAside = <S>(state: S): Outcome<S> => ({
  state,
  effects: [{ do: "abandon" }, { do: "tool", tool: "select" }],
});

export const sentence = (text: string): string =>
  text === "" ? "" : `${text.charAt(0).toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? "" : "."}`;

/** The same plan gives the same id, so that a preview keeps its own from move to move. */
export const newId = (plan: Plan, name: string): Id => freshId(plan, name);
