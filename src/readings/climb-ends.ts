/**
 * Where a deck's level is left: the places a climb from or to it can begin or end. A shortest way between two levels
 * begins at the last place of the one, so the many places amid level track need not be tried.
 */
import type { Layout } from "../layout/layout.js";
import type { Line, LinePlace } from "../layout/line.js";
import { placesOfDeck } from "../layout/place-names.js";
import { type Profile, straightHeightAt } from "../layout/profile.js";
import type { Id, Plan } from "../plan/schema.js";
import { foundByLine, type LineContext } from "./line-context.js";

/** Railheads this near a deck's height are at its level, as they are where places are named after a deck, mm. */
const AT_LEVEL = 0.5;

interface Level {
  /** Whether any station of the line is at the level, and those next to one that is not. */
  readonly any: boolean;
  readonly left: readonly LinePlace[];
  readonly start: boolean;
  readonly end: boolean;
}

function levelOf(profile: Profile, line: Line, height: number): Level {
  const { stations } = profile;
  const at = stations.map((s) => Math.abs(straightHeightAt(profile, s) - height) <= AT_LEVEL);
  const left = stations.filter((_, i) => at[i] && (at[i - 1] === false || at[i + 1] === false));
  return {
    any: at.includes(true),
    left: left.map((s) => ({ line: line.key, s })),
    start: at[0] === true,
    end: at.at(-1) === true,
  };
}

interface Left {
  readonly deck: Id;
  readonly places: readonly LinePlace[];
}

/** Where each line leaves the level of its deck; undefined where it is nowhere at the level. */
const leftByLine = foundByLine(({ line, heights, joined }: LineContext, decks: Plan["decks"]): Left | undefined => {
  const level = heights && levelOf(heights, line, decks[line.deck]?.height ?? 0);
  if (!level?.any) return undefined;
  const places = [...level.left];
  for (const { end, other } of joined) {
    if (level[end] && other.deck !== line.deck)
      places.push({ line: line.key, s: end === "start" ? 0 : line.path.length });
  }
  return { deck: line.deck, places };
});

/**
 * The places where the level of a deck is left along its track, and where its track goes on as that of another deck;
 * all stations of its track where none is at the level.
 */
export function climbEnds(layout: Layout, deck: Id): readonly LinePlace[] {
  const left = leftByLine(layout, layout.plan.decks);
  const places: LinePlace[] = [];
  let any = false;
  for (const one of left) {
    if (one?.deck !== deck) continue;
    any = true;
    for (const place of one.places) places.push(place);
  }
  return any ? places : placesOfDeck(layout, deck);
}
