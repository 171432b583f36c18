/**
 * Staging: how many of the plan's trains its tracks hold, against the trains the owner plans to keep there. One or two
 * tracks to spare are advised; without them a plan is tight.
 */
import type { Reading, Verdict } from "./reading.js";
import { MOST_PLACES, type Rule } from "./rule.js";
import { countIn } from "./siding-lengths.js";
import { placeOfTrack, standingTracks } from "./standing-tracks.js";

/** Tracks to spare: trains and one or two (common practice, no source). */
const SPARE = 1;

export const staging: Rule = {
  id: "staging",
  take({ plan, layout }) {
    const tracks = standingTracks(layout, "staging");
    if (tracks.length === 0) return [];
    const { train, trains } = plan.standards;
    const held = tracks.map((track) => ({ ...track, trains: countIn(track.clear, train.value) }));
    held.sort((p, q) => p.clear - q.clear || (p.track.key < q.track.key ? -1 : 1));
    const value = held.reduce((sum, track) => sum + track.trains, 0);
    const length = held.reduce((sum, track) => sum + track.clear, 0);
    const reading: Reading = {
      id: "staging",
      label: "Staging, trains held",
      value,
      unit: "count",
      limit: trains?.value,
      bound: trains && "least",
      verdict: trains ? verdictOf(value, trains.value) : "none",
      places: held.slice(0, MOST_PLACES).flatMap((track) => {
        const { name, trains: own } = track;
        const note = own === 0 ? `${name} is too short for the train` : `${name} holds ${trainsText(own)}`;
        return placeOfTrack(layout, track, track.clear, note);
      }),
      source: trains ? `${trains.source}; a track or two to spare is common practice, no source` : "no trains planned",
      ...(trains?.reason !== undefined && { reason: trains.reason }),
      figures: {
        tracks: { value: tracks.length, unit: "count" },
        "longest track": { value: held.at(-1)?.clear ?? 0, unit: "mm" },
        "shortest track": { value: held[0]?.clear ?? 0, unit: "mm" },
        "all tracks": { value: length, unit: "mm" },
        "cars in all": { value: held.reduce((sum, { cars }) => sum + cars, 0), unit: "count" },
      },
    };
    return [reading];
  },
};

const trainsText = (count: number): string => (count === 1 ? "a train" : `${count} trains`);

const verdictOf = (held: number, planned: number): Verdict =>
  held < planned ? "fails" : held < planned + SPARE ? "tight" : "clear";
