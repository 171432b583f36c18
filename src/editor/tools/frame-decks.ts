/**
 * Decks: a new one by name, height and thickness; the one in hand raised, lowered, made thicker, renamed, or taken out
 * with everything on it, which is named first.
 */
import { decksInOrder } from "../../drafting/decks.js";
import type { Millimetres } from "../../geometry/units.js";
import { DECK_THICKNESS, LOWER_DECK } from "../../standards/decks.js";
import { RECORD_NAMES } from "../../plan/collections.js";
import { amendRecord, type Edit, putRecord, refused, removeRecord } from "../../plan/edit.js";
import { formatLength } from "../../plan/format-length.js";
import { allDependants } from "../../plan/references.js";
import { BOUNDS, COLLECTIONS, type Deck, type Id, type Plan } from "../../plan/schema.js";
import type { Choice, Outcome, Tool, ToolEvent, ToolInput } from "../tool.js";
import { committed, newId, putAside } from "./outcomes.js";
import { entryOf, entryWhile, type Field, startTyping, typeKey, type Typing } from "./typing.js";

type DeckField = "name" | "height" | "thickness";

export interface DecksState {
  readonly typing: Typing<DeckField>;
  /** The deck being made. */
  readonly making?: Deck;
  /** Delete was pressed once, with this deck in hand. */
  readonly removing?: Id;
}

const HEIGHT: Field<DeckField> = {
  key: "height",
  label: "Railhead above the floor",
  takes: "length",
  least: 0,
  most: BOUNDS.height,
};
const THICKNESS: Field<DeckField> = {
  key: "thickness",
  label: "Structure below the railhead",
  takes: "length",
  least: 0,
  most: BOUNDS.height,
};
const NAME: Field<DeckField> = { key: "name", label: "Name", takes: "name" };
const CHANGE: readonly Field<DeckField>[] = [HEIGHT, THICKNESS, NAME];
const MAKE: readonly Field<DeckField>[] = [NAME, HEIGHT, THICKNESS];

const REST: DecksState = { typing: startTyping("height") };

export const decksTool: Tool<DecksState> = {
  id: "decks",
  stage: "frame",
  name: "Decks",
  key: "k",
  begin: () => REST,

  handle(state, event, input): Outcome<DecksState> {
    if (event.type === "cancel") {
      return state.making || state.removing !== undefined || state.typing.text !== "" || state.typing.field !== "height"
        ? { state: REST }
        : putAside(REST);
    }
    if (event.type === "choose") {
      const kind = event.value === "staging" ? "staging" : "scenic";
      if (event.choice !== "kind") return { state };
      if (state.making) return { state: { ...state, making: { ...state.making, kind } } };
      return committed(amendRecord(input.plan, "decks", input.deck, { kind }, "Change deck"), REST, state);
    }
    if (event.type !== "key") return { state };
    return state.making ? make(state, state.making, event, input) : change(state, event, input);
  },

  show(state, { plan, deck, units }) {
    const shown = state.making ?? plan.decks[deck];
    const fields = state.making ? MAKE : CHANGE;
    const choices = shown ? [kindChoice(shown.kind)] : [];
    const { field } = state.typing;
    const value = shown ? (field === "name" ? shown.name : formatLength(shown[field], units)) : "";
    const begun = state.making !== undefined || field !== "height";
    return {
      overlay: [],
      hint: hintOf(state, plan, deck),
      ...entryWhile(begun, entryOf(state.typing, fields, value)),
      choices,
    };
  },
};

function hintOf(state: DecksState, plan: Plan, deck: Id): string {
  const name = plan.decks[deck]?.name;
  if (state.making) return "Type the new deck’s name, height and thickness, Enter after each. Esc gives it up.";
  if (state.removing === deck && name !== undefined) {
    return `Delete again takes out ${name}${onDeck(plan, deck)}. Any other key leaves it.`;
  }
  if (name === undefined) return "N makes a deck.";
  return `N makes a deck. Type another height for ${name}; T its thickness, A its name; Delete takes it out.`;
}

/** What goes with a deck, in words: " with 3 benches and 12 tracks". */
function onDeck(plan: Plan, deck: Id): string {
  const gone = allDependants(plan, { collection: "decks", id: deck });
  const counts = COLLECTIONS.flatMap((collection) => {
    const count = gone.filter((ref) => ref.collection === collection).length;
    const noun = RECORD_NAMES[collection];
    return count === 0 ? [] : [`${count} ${count === 1 ? noun : `${noun}${noun.endsWith("ch") ? "es" : "s"}`}`];
  });
  const last = counts.pop();
  if (last === undefined) return ", which nothing stands on";
  return counts.length === 0 ? ` with ${last}` : ` with ${counts.join(", ")} and ${last}`;
}

const kindChoice = (value: Deck["kind"]): Choice => ({
  id: "kind",
  label: "Kind",
  value,
  options: [
    { value: "scenic", label: "Scenic" },
    { value: "staging", label: "Staging" },
  ],
});

/** A deck as far above the highest as the plan's standards ask for; the first at the height of an ordinary lower deck. */
function nextDeck(plan: Plan): Deck {
  const highest = plan.decks[decksInOrder(plan).at(-1) ?? ""];
  const height: Millimetres = highest ? highest.height + plan.standards.deckSeparation.value : LOWER_DECK.value;
  return {
    name: highest ? "Upper deck" : "Lower deck",
    kind: "scenic",
    height: Math.min(height, BOUNDS.height),
    thickness: highest?.thickness ?? DECK_THICKNESS.value,
  };
}

type KeyPress = ToolEvent & { readonly type: "key" };

function change(state: DecksState, event: KeyPress, input: ToolInput): Outcome<DecksState> {
  const { plan, deck, units } = input;
  if (event.key === "Delete") {
    if (state.removing === deck) return committed(taken(plan, deck), REST, REST);
    return { state: Object.hasOwn(plan.decks, deck) ? { ...REST, removing: deck } : REST };
  }
  const { removing: _, ...kept } = state;
  const typed = typeKey(kept.typing, CHANGE, event, units);
  if (!typed) {
    const key = event.key.toLowerCase();
    if (key === "n") return { state: { typing: startTyping("name"), making: nextDeck(plan) } };
    if (key === "t") return { state: { typing: startTyping("thickness") } };
    if (key === "a") return { state: { typing: startTyping("name") } };
    if (key === "backspace") return { state: REST };
    return { state: kept };
  }
  const next = { typing: typed.typing };
  const { set } = typed;
  if (!set) return { state: next };
  const value = set.field === "name" ? { name: set.text } : { [set.field]: set.value };
  const after = typed.entered ? REST : next;
  return committed(amendRecord(plan, "decks", deck, value, `Change deck’s ${set.field}`), after, kept);
}

function taken(plan: Plan, deck: Id): Edit {
  if (Object.keys(plan.decks).length < 2) return refused("this is the only deck: a railway needs one");
  return removeRecord(plan, { collection: "decks", id: deck }, "with-dependants");
}

function make(state: DecksState, making: Deck, event: KeyPress, { plan, units }: ToolInput): Outcome<DecksState> {
  const typed = typeKey(state.typing, MAKE, event, units);
  if (!typed) return { state: event.key === "Backspace" ? back(state) : state };
  const { set } = typed;
  const value = set && (set.field === "name" ? { name: set.text } : { [set.field]: set.value });
  const next: DecksState = { making: { ...making, ...value }, typing: typed.typing };
  if (!typed.entered) return { state: next };
  const after = MAKE[MAKE.findIndex(({ key }) => key === typed.typing.field) + 1];
  if (after) return { state: { ...next, typing: startTyping(after.key) } };
  const deck = next.making ?? making;
  const id = newId(plan, deck.name);
  return committed(putRecord(plan, "decks", id, deck), REST, next, [{ do: "deck", deck: id }]);
}

function back(state: DecksState): DecksState {
  const before = MAKE[MAKE.findIndex(({ key }) => key === state.typing.field) - 1];
  return before ? { ...state, typing: startTyping(before.key) } : REST;
}
