/** What the track at an end of a climb is: its class, as a climb's where the owner says nothing, and its deck. */
import type { Deck, Plan, Track, TrackClass } from "../plan/schema.js";
import type { ClimbEnd } from "./request.js";

/** The track an end belongs to, or is on; undefined where it is not in the plan. */
const trackOf = (plan: Plan, end: ClimbEnd): Track | undefined => {
  const id = "turnout" in end ? plan.turnouts[end.turnout]?.on : end.track;
  return id === undefined ? undefined : plan.tracks[id];
};

/** A climb goes on as the main it leaves; from anything else, yard or siding, it is a branch. */
export const usualClass = (plan: Plan, from: ClimbEnd): TrackClass =>
  trackOf(plan, from)?.class === "main" && !("turnout" in from || "at" in from) ? "main" : "branch";

/** The deck an end lies on, undefined where there is none. */
export const deckOfEnd = (plan: Plan, end: ClimbEnd): Deck | undefined => plan.decks[trackOf(plan, end)?.deck ?? ""];
