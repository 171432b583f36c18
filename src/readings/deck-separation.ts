/**
 * Decks one above the other: railhead to railhead, for every deck and the next one that overlaps it in plan. Two scenic
 * decks are held to the deck separation; staging under a deck to the room a hand needs, where the plan sets one.
 */
import { areaSize, type Area, intersectAreas } from "../geometry/areas.js";
import type { Point } from "../geometry/pose.js";
import type { Layout } from "../layout/layout.js";
import type { DeckSpace } from "../layout/space.js";
import type { Deck, Id, Plan } from "../plan/schema.js";
import type { Reading } from "./reading.js";
import { remember } from "./remember.js";
import { type Rule } from "./rule.js";
import { judge } from "./verdict.js";

/** Benches that share less than a hand's breadth square only touch, mm2. */
const TOUCHING = 100 * 100;

/** Decks nearer in height than this lie side by side on one level, mm. */
const ONE_LEVEL = 1;

const sharedArea = remember((a: DeckSpace) => remember((b: DeckSpace): Area => intersectAreas(a.bench, b.bench)));

export const deckSeparation: Rule = {
  id: "deck-separation",
  take({ plan, layout }) {
    const decks = Object.entries(plan.decks).sort(([idA, a], [idB, b]) => a.height - b.height || (idA < idB ? -1 : 1));
    return decks.flatMap(([id, deck], i) => {
      for (const [aboveId, above] of decks.slice(i + 1)) {
        if (above.height - deck.height < ONE_LEVEL) continue;
        const shared = sharedOf(layout, id, aboveId);
        if (areaSize(shared) > TOUCHING) return [reading(plan, id, deck, aboveId, above, cornerOf(shared))];
      }
      return [];
    });
  },
};

function sharedOf(layout: Layout, below: Id, above: Id): Area {
  const a = layout.space.decks.get(below);
  const b = layout.space.decks.get(above);
  return a && b ? sharedArea(a)(b) : [];
}

const cornerOf = (area: Area): Point => area[0]?.[0] ?? { x: 0, y: 0 };

function reading(plan: Plan, id: Id, deck: Deck, aboveId: Id, above: Deck, point: Point): Reading {
  const { standards } = plan;
  const staging = deck.kind === "staging" || above.kind === "staging";
  const limit = staging ? standards.stagingSeparation : standards.deckSeparation;
  const value = above.height - deck.height;
  return {
    id: "deck-separation",
    scope: `${id}/${aboveId}`,
    label: `${deck.name} to ${above.name}`,
    value,
    unit: "mm",
    limit: limit?.value,
    bound: limit && "least",
    verdict: judge(value, limit?.value, limit && "least", standards.tight.value),
    places: [{ deck: id, point, thing: `decks.${aboveId}`, value }],
    source: limit?.source ?? "no limit set",
    ...(limit?.reason !== undefined && { reason: limit.reason }),
    figures: { clear: { value: value - above.thickness, unit: "mm" } },
  };
}
