/**
 * The benches that can carry a line: where it lies level on its deck, those of the deck and of decks level with it; where
 * it climbs, those of every deck at or below its highest place, since risers stand on any of them.
 */
import { type PreparedArea, prepareArea } from "../geometry/area-distance.js";
import { type Area, uniteAreas } from "../geometry/areas.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import type { Profile } from "../layout/profile.js";
import type { Deck, Plan } from "../plan/schema.js";
import { ON_DECK } from "./deck-benches.js";
import { remember, sameItems } from "./remember.js";

const reachOf = remember(({ heights }: Profile): readonly [number, number] => [
  Math.min(...heights),
  Math.max(...heights),
]);

/** Undefined where none of those decks has a bench. */
export function benchUnder(plan: Plan, layout: Layout, line: Line): PreparedArea | undefined {
  const heights = layout.profiles.get(line.key);
  const own = plan.decks[line.deck];
  if (!heights || !own) return undefined;
  const [low, high] = reachOf(heights);
  const level = high - own.height <= ON_DECK && own.height - low <= ON_DECK;
  const carries = (deck: Deck): boolean =>
    level ? Math.abs(deck.height - own.height) <= ON_DECK : deck.height <= high + ON_DECK;
  const areas: Area[] = [];
  for (const [id, deck] of Object.entries(plan.decks)) {
    const bench = layout.space.decks.get(id)?.bench ?? [];
    if (bench.length > 0 && (id === line.deck || carries(deck))) areas.push(bench);
  }
  const [first, ...rest] = areas;
  return first && united(first, rest);
}

/** Unions kept for one first area; decks are few. */
const MOST_UNIONS = 8;
const unions = new WeakMap<Area, { readonly rest: readonly Area[]; readonly union: PreparedArea }[]>();

function united(first: Area, rest: readonly Area[]): PreparedArea {
  let known = unions.get(first);
  if (!known) unions.set(first, (known = []));
  const before = known.find((u) => sameItems(u.rest, rest));
  if (before) return before.union;
  const union = prepareArea(rest.length === 0 ? first : uniteAreas(first, ...rest));
  known.push({ rest, union });
  if (known.length > MOST_UNIONS) known.shift();
  return union;
}
