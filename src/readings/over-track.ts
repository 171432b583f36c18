/**
 * Over track: the clear height over every railhead up to whatever passes above it: another track with the structure
 * that carries it, or a deck. The limit is the clearance asked for, or the longest car's height if that is more.
 */
import { poseAt } from "../geometry/path.js";
import { localPoint } from "../geometry/pose.js";
import type { Line } from "../layout/line.js";
import type { Meeting, NearPlace } from "../layout/meetings.js";
import { heightAt } from "../layout/profile.js";
import type { Plan, Standards } from "../plan/schema.js";
import { decksOverTrack } from "./deck-over-track.js";
import { whileSame } from "./carry.js";
import { carryingDeck, type DeckBenches, deckBenches } from "./deck-benches.js";
import { throwToward } from "./envelope.js";
import { type LineContext, lineContexts } from "./line-context.js";
import type { Reading } from "./reading.js";
import { foundByMeeting } from "./meeting-sides.js";
import { limitedReading, type Measured, type Rule } from "./rule.js";

/** Places found to be nearest to a line's end are beside it if they are no further past it than this, mm. */
const AT_END = 1;

export const overTrack: Rule = {
  id: "over-track",
  take: whileSame(
    ({ plan, layout }) => {
      const benches = deckBenches(layout);
      const contexts = lineContexts(layout);
      const { turnouts, slips } = layout;
      const tracks = worstUnder(layout, contexts, plan.standards, benches);
      return [tracks, benches, contexts, turnouts, slips, plan.standards] as const;
    },
    ({ plan, layout }, [tracks, benches]) => {
      const limit = overTrackLimit(plan);
      const decks = decksOverTrack(layout, benches, limit.value * (1 + plan.standards.tight.value / 100));
      const reading = (scope: string, label: string, measured: readonly Measured[]): Reading =>
        limitedReading(plan, { id: "over-track", scope, label, unit: "mm", bound: "least", limit }, measured);
      return [reading("track", "Clear under track", tracks), reading("deck", "Clear under deck", decks)].filter(
        (r) => r.value !== undefined,
      );
    },
  ),
};

/** What must be clear over a railhead: what is asked for, or the longest car. */
export function overTrackLimit({ standards: { overTrack: asked, longestCar } }: Plan): Standards["overTrack"] {
  return asked.value >= longestCar.value.height
    ? asked
    : { value: longestCar.value.height, source: `height of the longest car: ${longestCar.source}` };
}

/** The worst place of a meeting at which one line passes over the other. */
const worstUnder = foundByMeeting(
  (
    meeting: Meeting,
    { line: a, heights: heightsA, throws: throwsA }: LineContext,
    { line: b, heights: heightsB, throws: throwsB }: LineContext,
    { longestCar: { value: car }, roadbedWidth, trackStructure }: Standards,
    benches: DeckBenches,
  ): Measured | undefined => {
    if (!heightsA || !heightsB) return undefined;
    const reach = (roadbedWidth.value + car.width) / 2;
    let worst: Measured | undefined;
    for (const place of meeting.places) {
      // Nearer in height than half a car they are meant to lie on one level, beside one another.
      if (Math.abs(place.rise) <= car.height / 2) continue;
      if (beyondEnd(a, b, place)) continue;
      const aUnder = place.rise > 0;
      const [lower, s, upper, su] = aUnder ? [a, place.sa, b, place.sb] : [b, place.sb, a, place.sa];
      if (place.apart > reach + throwToward(lower.samples, aUnder ? throwsA : throwsB, s, upper.samples, su)) continue;
      const height = heightAt(aUnder ? heightsB : heightsA, su);
      const deck = carryingDeck(benches, upper, su, height);
      const value = Math.abs(place.rise) - (deck ? deck.thickness : trackStructure.value);
      if (!worst || value < worst.value) worst = { value, line: lower, s, note: `under ${upper.id}` };
    }
    return worst;
  },
);

/** Whether a place of a meeting lies beyond the end of its second line, not beside it. */
function beyondEnd(a: Line, b: Line, { sa, sb }: NearPlace): boolean {
  if (sb !== 0 && sb !== b.path.length) return false;
  const { x } = localPoint(sb === 0 ? b.path.start : b.path.end, poseAt(a.path, sa));
  return sb === 0 ? x < -AT_END : x > AT_END;
}
