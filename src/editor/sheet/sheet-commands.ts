/**
 * Commands of the sheet: what is chosen copied, cut, pasted and doubled; which deck is in hand and how it is seen. What
 * the arrow does with keys of its own (Delete, nudging, turning) stands with the arrow.
 */
import { decksInOrder, partnerDeck } from "../../drafting/decks.js";
import { objectsOf } from "../../drafting/objects.js";
import { visibleBox } from "../../drafting/viewport.js";
import type { Clipping } from "../../layout/relay/copy-chosen.js";
import type { Command } from "../commands.js";
import type { DeckView, EditorState, EditorStore } from "../store.js";
import type { Effect, ToolInput } from "../tool.js";
import { copyOfChosen, deleteChosen, duplicateChosen, pasteHere } from "../tools/chosen-commands.js";

const inputOf = ({ history, settled, deck, selection, units, viewport }: EditorState): ToolInput => ({
  plan: history.plan,
  layout: settled,
  deck,
  selection,
  units,
  viewport,
  reach: 0,
});

function apply(store: EditorStore, effects: readonly Effect[]): void {
  const { edit, abandon, select, say } = store.getState();
  for (const effect of effects) {
    if (effect.do === "commit") edit(effect.edit, effect.key);
    else if (effect.do === "abandon") abandon();
    else if (effect.do === "select") select(effect.selection);
    else if (effect.do === "say") say(effect.text);
  }
}

/** What was cut or copied last in this page. */
let clipping: Clipping | undefined;

function copy(store: EditorStore): boolean {
  const copied = copyOfChosen(inputOf(store.getState()));
  if (!copied.ok) {
    apply(store, copied.effects);
    return false;
  }
  clipping = copied.clipping;
  store.getState().say("Copied.");
  return true;
}

function paste(store: EditorStore): void {
  if (!clipping) return;
  const state = store.getState();
  const { x, y } = clipping.middle;
  const seen = visibleBox(state.viewport);
  const near = x >= seen.minX && x <= seen.maxX && y >= seen.minY && y <= seen.maxY;
  apply(store, pasteHere(inputOf(state), clipping, near ? undefined : state.viewport.centre));
}

function selectAll(store: EditorStore): void {
  const { settled, deck, select, units } = store.getState();
  const here = objectsOf(settled, units).filter((object) => object.deck === deck);
  select(here.map(({ thing }) => thing));
}

function stepDeck(store: EditorStore, way: 1 | -1): void {
  const { plan, deck, setDeck } = store.getState();
  const decks = decksInOrder(plan);
  const next = decks[decks.indexOf(deck) + way];
  if (next !== undefined) setDeck(next);
}

const DECK_VIEWS: readonly DeckView[] = ["one", "see-through", "twin"];

function nextView(store: EditorStore): void {
  const { deckView, setDeckView } = store.getState();
  const next = DECK_VIEWS[(DECK_VIEWS.indexOf(deckView) + 1) % DECK_VIEWS.length];
  if (next) setDeckView(next);
}

const chosen = ({ selection }: EditorState): boolean => selection.length > 0;
const severalDecks = ({ plan, deck }: EditorState): boolean => partnerDeck(plan, deck) !== undefined;

export const SHEET_COMMANDS: readonly Command[] = [
  {
    id: "cut",
    group: "Edit",
    name: "Cut",
    keys: ["Mod+X"],
    can: chosen,
    do({ store }) {
      if (copy(store)) apply(store, deleteChosen(inputOf(store.getState())));
    },
  },
  { id: "copy", group: "Edit", name: "Copy", keys: ["Mod+C"], can: chosen, do: ({ store }) => void copy(store) },
  {
    id: "paste",
    group: "Edit",
    name: "Paste",
    keys: ["Mod+V"],
    can: () => clipping !== undefined,
    do: ({ store }) => paste(store),
  },
  {
    id: "duplicate",
    group: "Edit",
    name: "Duplicate",
    keys: ["Mod+D"],
    can: chosen,
    do: ({ store }) => apply(store, duplicateChosen(inputOf(store.getState()))),
  },
  {
    id: "select-all",
    group: "Edit",
    name: "Select all of the deck",
    keys: ["Mod+A"],
    do: ({ store }) => selectAll(store),
  },
  {
    id: "deck-above",
    group: "View",
    name: "Deck above",
    keys: ["PageUp"],
    can: severalDecks,
    do: ({ store }) => stepDeck(store, 1),
  },
  {
    id: "deck-below",
    group: "View",
    name: "Deck below",
    keys: ["PageDown"],
    can: severalDecks,
    do: ({ store }) => stepDeck(store, -1),
  },
  {
    id: "deck-view",
    group: "View",
    name: "One deck, see-through, twin",
    keys: ["Shift+PageDown"],
    can: severalDecks,
    do: ({ store }) => nextView(store),
  },
];
