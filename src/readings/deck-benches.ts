/** The decks with their benches made ready for many questions, from low to high. */
import { type PreparedArea, prepareArea } from "../geometry/area-distance.js";
import { poseAt } from "../geometry/path.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import { ON_DECK } from "../layout/on-deck.js";
import type { DeckSpace } from "../layout/space.js";
import type { Deck, Id } from "../plan/schema.js";
import { remember, sameItems } from "./remember.js";

export interface DeckBench {
  readonly id: Id;
  readonly deck: Deck;
  readonly space: DeckSpace;
  readonly bench: PreparedArea;
}
export type DeckBenches = readonly DeckBench[];

const preparedBench = remember((space: DeckSpace): PreparedArea => prepareArea(space.bench));

/** Lists of the same decks and spaces are the same object, told by their lowest space. */
const lists = new WeakMap<DeckSpace, { readonly parts: readonly unknown[]; readonly benches: DeckBenches }>();

/** Decks that have benches; the same object for layouts whose decks and benches are the same. */
export function deckBenches(layout: Layout): DeckBenches {
  const decks = Object.entries(layout.plan.decks)
    .sort(([idA, a], [idB, b]) => a.height - b.height || (idA < idB ? -1 : 1))
    .flatMap(([id, deck]) => {
      const space = layout.space.decks.get(id);
      return space && space.bench.length > 0 ? [{ id, deck, space }] : [];
    });
  const [lowest] = decks;
  if (!lowest) return NO_DECKS;
  const parts = decks.flatMap(({ id, deck, space }) => [id, deck, space]);
  const last = lists.get(lowest.space);
  if (last && sameItems(last.parts, parts)) return last.benches;
  const benches = decks.map((d) => ({ ...d, bench: preparedBench(d.space) }));
  lists.set(lowest.space, { parts, benches });
  return benches;
}

const NO_DECKS: DeckBenches = [];

/** The deck a railhead lies on: one at its height, its line's own or another whose bench is under it. */
export function carryingDeck(benches: DeckBenches, line: Line, s: Millimetres, height: Millimetres): Deck | undefined {
  return benches.find(({ id, deck, bench }) => {
    if (Math.abs(height - deck.height) > ON_DECK) return false;
    return id === line.deck || bench.contains(poseAt(line.path, s));
  })?.deck;
}
