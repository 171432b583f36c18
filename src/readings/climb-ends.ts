/**
 * Where a deck's level is left: the places a climb from or to it can begin or end. A shortest way between two levels
 * begins at the last place of the one, so the many places amid level track need not be tried.
 */
import type { Layout } from "../layout/layout.js";
import type { Line, LinePlace } from "../layout/line.js";
import { placesOfDeck } from "../layout/place-names.js";
import { type Profile, straightHeightAt } from "../layout/profile.js";
import type { Id } from "../plan/schema.js";
import { joinedEnds } from "./joined-ends.js";
import { rememberBeside } from "./remember.js";

/** Railheads this near a deck's height are at its level, as they are where places are named after a deck, mm. */
const AT_LEVEL = 0.5;

interface Level {
  /** Whether any station of the line is at the level, and those next to one that is not. */
  readonly any: boolean;
  readonly left: readonly LinePlace[];
  readonly start: boolean;
  readonly end: boolean;
}

const levelOf = rememberBeside((profile: Profile, line: Line, height: number): Level => {
  const { stations } = profile;
  const at = stations.map((s) => Math.abs(straightHeightAt(profile, s) - height) <= AT_LEVEL);
  const left = stations.filter((_, i) => at[i] && (at[i - 1] === false || at[i + 1] === false));
  return {
    any: at.includes(true),
    left: left.map((s) => ({ line: line.key, s })),
    start: at[0] === true,
    end: at.at(-1) === true,
  };
});

/**
 * The places where the level of a deck is left along its track, and where its track goes on as that of another deck;
 * all stations of its track where none is at the level.
 */
export function climbEnds(layout: Layout, deck: Id): readonly LinePlace[] {
  const height = layout.plan.decks[deck]?.height ?? 0;
  const places: LinePlace[] = [];
  let any = false;
  for (const line of layout.lines.values()) {
    const profile = line.deck === deck ? layout.profiles.get(line.key) : undefined;
    if (!profile) continue;
    const level = levelOf(profile, line, height);
    if (!level.any) continue;
    any = true;
    places.push(...level.left);
    for (const { end, other } of level.start || level.end ? joinedEnds(layout, line) : []) {
      if (level[end] && other.deck !== deck) places.push({ line: line.key, s: end === "start" ? 0 : line.path.length });
    }
  }
  return any ? places : placesOfDeck(layout, deck);
}
