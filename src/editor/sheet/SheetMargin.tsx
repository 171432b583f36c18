/** In the margin of the sheet: which deck is in hand, how the others are seen, and how near one looks. */
import { useId } from "react";
import { deckTone, decksInOrder, partnerDeck } from "../../drafting/decks.js";
import { lengthText } from "../../drafting/figures.js";
import { useEditor, useEditorStore } from "../editor-context.js";
import type { DeckView } from "../store.js";
import { COMMANDS } from "./commands.js";

export function DeckChoice() {
  const store = useEditorStore();
  const records = useEditor((state) => state.plan.decks);
  const units = useEditor((state) => state.units);
  const hand = useEditor((state) => state.deck);
  const group = useId();
  // The highest stands first, as the decks do.
  const decks = decksInOrder({ decks: records }).reverse();
  if (decks.length === 0) return null;
  return (
    <fieldset className="sheet-choice deck-choice">
      <legend>Deck</legend>
      {decks.map((id) => (
        <label key={id} title="Double-click for its name, height and structure">
          <input
            type="radio"
            className="unseen"
            name={group}
            checked={id === hand}
            onChange={() => store.getState().setDeck(id)}
            onDoubleClick={() => store.getState().select([{ kind: "record", collection: "decks", id }])}
          />
          <span className={`swatch ${deckTone({ decks: records }, id)}`} aria-hidden="true" />
          <span className="deck-name">{records[id]?.name ?? id}</span>
          <span className="figure">{lengthText(records[id]?.height ?? 0, units)}</span>
        </label>
      ))}
    </fieldset>
  );
}

const VIEWS: readonly { readonly view: DeckView; readonly name: string; readonly about: string }[] = [
  { view: "one", name: "One deck", about: "Only the deck in hand" },
  { view: "see-through", name: "See-through", about: "The other decks pale over it" },
  { view: "twin", name: "Twin", about: "Two sheets side by side" },
];

export function ViewChoice() {
  const store = useEditorStore();
  const now = useEditor((state) => state.deckView);
  const several = useEditor((state) => partnerDeck(state.plan, state.deck) !== undefined);
  const group = useId();
  if (!several) return null;
  return (
    <fieldset className="sheet-choice view-choice">
      <legend>View</legend>
      {VIEWS.map(({ view, name, about }) => (
        <label key={view} title={about}>
          <input
            type="radio"
            className="unseen"
            name={group}
            checked={view === now}
            onChange={() => store.getState().setDeckView(view)}
          />
          <span>{name}</span>
        </label>
      ))}
    </fieldset>
  );
}

const ICONS = [
  ["farther", "M4 9h10"],
  ["closer", "M4 9h10M9 4v10"],
  ["fit", "M3 7V3h4M11 3h4v4M15 11v4h-4M7 15H3v-4"],
] as const;

export function ZoomButtons() {
  const store = useEditorStore();
  return (
    <div className="zooms">
      {ICONS.map(([id, path]) => {
        const command = COMMANDS.find((one) => one.id === id);
        return (
          <button
            key={id}
            type="button"
            aria-label={command?.name}
            title={command?.name}
            onClick={() => command?.run(store)}
          >
            <svg viewBox="0 0 18 18" aria-hidden="true">
              <path d={path} />
            </svg>
          </button>
        );
      })}
    </div>
  );
}
