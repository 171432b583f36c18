/**
 * The commands of the sheet and their keys: undo, what is chosen copied, cut, pasted and doubled, the window, which deck
 * is in hand and how it is seen. Menus, the list of keys and the keyboard read this one table. What the arrow does with
 * keys of its own (Delete, nudging, turning) stands with the arrow.
 */
import { decksInOrder, partnerDeck } from "../../drafting/decks.js";
import { objectsOf } from "../../drafting/objects.js";
import { visibleBox, zoomAt } from "../../drafting/viewport.js";
import type { Clipping } from "../../layout/relay/copy-chosen.js";
import type { DeckView, EditorState, EditorStore } from "../store.js";
import type { Effect, ToolInput } from "../tool.js";
import { copyOfChosen, deleteChosen, duplicateChosen, pasteHere } from "../tools/chosen-commands.js";
import type { Command } from "./keys.js";
import { stepObject } from "./next-object.js";

const inputOf = ({ history, settled, layout, deck, selection, units, viewport }: EditorState): ToolInput => ({
  plan: history.plan,
  layout: settled,
  shown: layout,
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

/** Does a deed where it can be done; otherwise the page may have the key. */
const when =
  (can: (state: EditorState) => boolean, deed: (store: EditorStore) => void) =>
  (store: EditorStore): boolean => {
    if (!can(store.getState())) return false;
    deed(store);
    return true;
  };

const always =
  (deed: (store: EditorStore) => void) =>
  (store: EditorStore): undefined => {
    deed(store);
  };

const chosen = ({ selection }: EditorState): boolean => selection.length > 0;
const severalDecks = ({ plan, deck }: EditorState): boolean => partnerDeck(plan, deck) !== undefined;

const ZOOM = 1.25;

const zoom =
  (factor: number) =>
  (store: EditorStore): undefined => {
    const { viewport, setViewport } = store.getState();
    setViewport(zoomAt(viewport, { x: viewport.width / 2, y: viewport.height / 2 }, factor));
  };

export const COMMANDS: readonly Command[] = [
  { id: "undo", name: "Undo", keys: ["Mod+Z"], run: always((store) => store.getState().undo()) },
  { id: "redo", name: "Redo", keys: ["Mod+Shift+Z", "Mod+Y"], run: always((store) => store.getState().redo()) },
  {
    id: "cut",
    name: "Cut",
    keys: ["Mod+X"],
    run: when(chosen, (store) => {
      if (copy(store)) apply(store, deleteChosen(inputOf(store.getState())));
    }),
  },
  { id: "copy", name: "Copy", keys: ["Mod+C"], run: when(chosen, copy) },
  { id: "paste", name: "Paste", keys: ["Mod+V"], run: when(() => clipping !== undefined, paste) },
  {
    id: "duplicate",
    name: "Duplicate",
    keys: ["Mod+D"],
    run: when(chosen, (store) => apply(store, duplicateChosen(inputOf(store.getState())))),
  },
  { id: "select-all", name: "Select all on the deck", keys: ["Mod+A"], run: always(selectAll) },
  {
    id: "next-object",
    name: "Next object",
    keys: ["Tab"],
    scope: "arrow",
    run: (store) => stepObject(store, 1),
  },
  {
    id: "previous-object",
    name: "Previous object",
    keys: ["Shift+Tab"],
    scope: "arrow",
    run: (store) => stepObject(store, -1),
  },
  { id: "closer", name: "Closer", keys: ["+", "=", "Mod++", "Mod+="], run: zoom(ZOOM) },
  { id: "farther", name: "Farther", keys: ["-", "Mod+-"], run: zoom(1 / ZOOM) },
  { id: "fit", name: "Whole room", keys: ["Home", "Mod+0"], run: always((store) => store.getState().zoomToFit()) },
  { id: "deck-above", name: "Deck above", keys: ["PageUp"], run: when(severalDecks, (store) => stepDeck(store, 1)) },
  { id: "deck-below", name: "Deck below", keys: ["PageDown"], run: when(severalDecks, (store) => stepDeck(store, -1)) },
  {
    id: "deck-view",
    name: "One deck, see-through, twin",
    keys: ["Shift+PageDown"],
    run: when(severalDecks, nextView),
  },
];
