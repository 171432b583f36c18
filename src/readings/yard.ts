/**
 * Yards: what each track holds, how many cars all of them work with, and whether switching stays off the main. A lead
 * shorter than the longest track sends every longer cut out onto the main; without a lead all of them go there.
 */
import { settingOf } from "../plan/settings.js";
import { PRACTICE, roundTo } from "../standards/cited.js";
import type { Reading, Verdict } from "./reading.js";
import { MOST_PLACES, placeOn, type Rule } from "./rule.js";
import { numbered } from "./scopes.js";
import { countIn } from "./siding-lengths.js";
import { placeOfTrack } from "./standing-tracks.js";
import { judge } from "./verdict.js";
import { yardsOf, type Yard } from "./yard-lead.js";

/** Lengths are told as limits to this, mm: no sum of them depends on the order it was taken in. */
const FOUND_WITHIN = 0.01;

export const yard: Rule = {
  id: "yard",
  take({ plan, layout }) {
    const { averageCar } = plan.standards;
    const works = settingOf(plan, "yardWorks");
    const yards = yardsOf(layout);
    const scopes = numbered(
      yards.map(({ tracks }) => tracks.map(({ track }) => track.id).reduce((a, b) => (a < b ? a : b))),
    );
    return yards.map((found, i): Reading => {
      const { tracks, lead } = found;
      const [longest] = tracks;
      const cars = tracks.reduce((sum, track) => sum + track.cars, 0);
      const verdict = verdictOf(found, settingOf(plan, "engine").value + averageCar.value);
      const shown = tracks.slice(0, MOST_PLACES - 1);
      return {
        id: "yard",
        scope: scopes[i] ?? longest.track.id,
        label:
          tracks.length > 1 ? `Yard lead, ${tracks.length} tracks with ${longest.name}` : `Yard lead, ${longest.name}`,
        value: lead,
        unit: "mm",
        limit: roundTo(longest.clear, FOUND_WITHIN),
        bound: "least",
        verdict,
        places: [
          ...(found.throat ? [placeOn(found.throat.line, found.throat.s, lead, leadNote(found, verdict))] : []),
          ...shown.flatMap((track) => {
            const note = `${track.name} holds ${track.cars} ${track.cars === 1 ? "car" : "cars"}`;
            return placeOfTrack(layout, track, track.clear, note);
          }),
        ],
        source: `${PRACTICE}: a lead about as long as the longest track, and off the main`,
        figures: {
          tracks: { value: tracks.length, unit: "count" },
          "longest track": { value: longest.clear, unit: "mm" },
          "shortest track": { value: tracks.at(-1)?.clear ?? longest.clear, unit: "mm" },
          "cars in all": { value: cars, unit: "count" },
          "cars it works with": { value: Math.floor((cars * works.value) / 100), unit: "count" },
          "cars on the lead": { value: countIn(lead, averageCar.value), unit: "count" },
        },
      };
    });
  },
};

/** Fails where not even an engine with one car gets clear of the main; a lead is no shorter by what rounding takes off. */
function verdictOf({ lead, tracks }: Yard, least: number): Verdict {
  if (judge(lead, Math.min(least, tracks[0].clear), "least", 0) === "fails") return "fails";
  return judge(lead, tracks[0].clear, "least", 0) === "fails" ? "tight" : "clear";
}

function leadNote({ tracks }: Yard, verdict: Verdict): string {
  if (verdict === "fails") return "no lead off the main: every move fouls it";
  return verdict === "tight" ? `the cars of ${tracks[0].name} do not clear the main on the lead` : "lead";
}
