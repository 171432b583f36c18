/** Under the sheet: which deck is in hand, how the others are seen, and how much of the room. */
import { deckTone, decksInOrder } from "../../drafting/decks.js";
import { lengthText } from "../../drafting/figures.js";
import { commandNamed, keyText, type Page } from "../commands.js";
import { useEditor, useEditorStore } from "../editor-context.js";
import type { DeckView } from "../store.js";
import { IS_MAC } from "../use-command-keys.js";

const VIEWS: readonly { readonly view: DeckView; readonly name: string; readonly about: string }[] = [
  { view: "one", name: "One deck", about: "Only the deck in hand" },
  { view: "see-through", name: "See-through", about: "The other decks pale behind it" },
  { view: "twin", name: "Twin", about: "Two sheets side by side" },
];

export function DeckStrip({ page }: { readonly page: Page }) {
  const store = useEditorStore();
  const plan = useEditor((state) => state.plan);
  const inHand = useEditor((state) => state.deck);
  const view = useEditor((state) => state.deckView);
  const units = useEditor((state) => state.units);
  // The highest stands first, as the decks do.
  const decks = decksInOrder(plan).reverse();
  return (
    <div className="strip">
      <fieldset className="decks">
        <legend className="unseen">Deck in hand</legend>
        {decks.map((id) => (
          <label key={id}>
            <input
              type="radio"
              name="deck"
              checked={id === inHand}
              onChange={() => store.getState().setDeck(id)}
              onDoubleClick={() => store.getState().select([{ kind: "record", collection: "decks", id }])}
            />
            <span className={`swatch ${deckTone(plan, id)}`} aria-hidden="true" />
            <span>{plan.decks[id]?.name ?? id}</span>
            <span className="figure quiet">{lengthText(plan.decks[id]?.height ?? 0, units)}</span>
          </label>
        ))}
        {inHand !== "" && (
          <button
            type="button"
            className="link"
            title="Name, height and structure of the deck in hand"
            onClick={() => store.getState().select([{ kind: "record", collection: "decks", id: inHand }])}
          >
            Details
          </button>
        )}
      </fieldset>
      {decks.length > 1 && (
        <fieldset className="views">
          <legend className="unseen">View of the decks</legend>
          {VIEWS.map(({ view: one, name, about }) => (
            <label key={one} title={about}>
              <input
                type="radio"
                name="view"
                checked={view === one}
                onChange={() => store.getState().setDeckView(one)}
              />
              <span>{name}</span>
            </label>
          ))}
        </fieldset>
      )}
      <div className="zooms">
        {[
          ["farther", "M4 9h10"],
          ["closer", "M4 9h10M9 4v10"],
          ["fit", "M3 7V3h4M11 3h4v4M15 11v4h-4M7 15H3v-4"],
        ].map(([id, path]) => {
          const command = commandNamed(id ?? "");
          return (
            <button
              key={id}
              type="button"
              className="button icon plain"
              aria-label={command.name}
              title={`${command.name} (${keyText(command.keys[0] ?? "", IS_MAC)})`}
              onClick={() => command.do(page)}
            >
              <svg viewBox="0 0 18 18" aria-hidden="true">
                <path d={path} />
              </svg>
            </button>
          );
        })}
      </div>
    </div>
  );
}
