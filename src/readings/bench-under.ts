/**
 * The benches that can carry a line: where it lies level on its deck, those of the deck and of decks level with it; where
 * it climbs, those of every deck at or below its highest place, since risers stand on any of them.
 */
import { type PreparedArea, prepareArea } from "../geometry/area-distance.js";
import { type Area, uniteAreas } from "../geometry/areas.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import type { Profile } from "../layout/profile.js";
import type { Deck, Id, Plan } from "../plan/schema.js";
import { ON_DECK } from "../layout/on-deck.js";
import type { DeckBenches } from "./deck-benches.js";
import { rememberBeside, sameItems } from "./remember.js";

/** Undefined where none of those decks has a bench. */
export function benchUnder(layout: Layout, benches: DeckBenches, line: Line): PreparedArea | undefined {
  return carrierOf(layout.plan.decks, benches, line, layout.profiles.get(line.key));
}

export function carrierOf(
  decks: Plan["decks"],
  benches: DeckBenches,
  line: Line,
  heights: Profile | undefined,
): PreparedArea | undefined {
  const own = decks[line.deck];
  return heights && own && carrying(heights, line.deck, own, benches);
}

const carrying = rememberBeside(
  ({ heights }: Profile, id: Id, own: Deck, benches: DeckBenches): PreparedArea | undefined => {
    const low = Math.min(...heights);
    const high = Math.max(...heights);
    const level = high - own.height <= ON_DECK && own.height - low <= ON_DECK;
    const carries = ({ height }: Deck): boolean =>
      level ? Math.abs(height - own.height) <= ON_DECK : height <= high + ON_DECK;
    const [first, ...rest] = benches.filter((d) => d.id === id || carries(d.deck));
    if (!first) return undefined;
    return rest.length === 0
      ? first.bench
      : united(
          first.space.bench,
          rest.map(({ space }) => space.bench),
        );
  },
);

/** Unions kept for one first area; decks are few. */
const MOST_UNIONS = 8;
const unions = new WeakMap<Area, { readonly rest: readonly Area[]; readonly union: PreparedArea }[]>();

function united(first: Area, rest: readonly Area[]): PreparedArea {
  let known = unions.get(first);
  if (!known) unions.set(first, (known = []));
  const before = known.find((u) => sameItems(u.rest, rest));
  if (before) return before.union;
  const union = prepareArea(uniteAreas(first, ...rest));
  known.push({ rest, union });
  if (known.length > MOST_UNIONS) known.shift();
  return union;
}
