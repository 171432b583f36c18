/** Decks as drawings tell them apart: their order, their tone, and which lie level with one another. */
import type { Millimetres } from "../geometry/units.js";
import type { Deck, Id } from "../plan/schema.js";

/** Staging has its own tone; scenic decks take the lower's and the upper's in turn, from below. */
export type DeckTone = "lower" | "upper" | "staging";

/** What is asked of a plan here. */
export interface Decks {
  readonly decks: Readonly<Record<Id, Pick<Deck, "height" | "kind">>>;
}

const heightOf = (plan: Decks, id: Id): Millimetres => plan.decks[id]?.height ?? 0;

/** Decks from the floor up. */
export const decksInOrder = (plan: Decks): Id[] =>
  Object.keys(plan.decks).sort((a, b) => heightOf(plan, a) - heightOf(plan, b));

/** The deck looked at where none is asked for: the lowest scenic one, else the lowest. */
export function firstDeck(plan: Decks): Id | undefined {
  const decks = decksInOrder(plan);
  return decks.find((id) => plan.decks[id]?.kind === "scenic") ?? decks[0];
}

export function deckTone(plan: Decks, deck: Id): DeckTone {
  if (plan.decks[deck]?.kind === "staging") return "staging";
  const scenic = decksInOrder(plan).filter((id) => plan.decks[id]?.kind !== "staging");
  return scenic.indexOf(deck) % 2 === 1 ? "upper" : "lower";
}

/** Decks that differ by less than this are one level: less than the thickness of a rail. */
const ONE_LEVEL: Millimetres = 1;

/** The decks that lie level with one, itself first: a train rolls from one to the other, so they are drawn together. */
export function levelWith(plan: Decks, deck: Id): Id[] {
  const level = decksInOrder(plan).filter(
    (id) => id !== deck && Math.abs(heightOf(plan, id) - heightOf(plan, deck)) < ONE_LEVEL,
  );
  return [deck, ...level];
}

/** The deck a second sheet shows beside one: the next scenic deck above, else below; undefined where there is none. */
export function partnerDeck(plan: Decks, deck: Id): Id | undefined {
  const level = new Set(levelWith(plan, deck));
  const others = decksInOrder(plan).filter((id) => !level.has(id));
  const scenic = others.filter((id) => plan.decks[id]?.kind === "scenic");
  const above = (id: Id): boolean => heightOf(plan, id) > heightOf(plan, deck);
  return scenic.find(above) ?? scenic.findLast((id) => !above(id)) ?? others.find(above) ?? others.at(-1);
}
