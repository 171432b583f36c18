/**
 * Running round: at both ends of every passing way, and of every pair of crossovers between two tracks, an engine and a
 * car need room beyond the points. Where not even the engine clears them, no engine runs round there.
 */
import type { Millimetres } from "../geometry/units.js";
import { crossoverPairs } from "../layout/crossover-pairs.js";
import type { Layout } from "../layout/layout.js";
import { reversed, type Run, sectionOf, sectionsOf } from "../layout/sections.js";
import { settingOf } from "../plan/settings.js";
import { PRACTICE } from "../standards/cited.js";
import type { Reading, Verdict } from "./reading.js";
import { MOST_PLACES, placeOn, type Rule } from "./rule.js";
import { nameOfTrack, placeOnRuns, trackOfRuns, type TrackPlace } from "./runs-of-track.js";
import { sidingsOf } from "./siding-lengths.js";
import { wayOut } from "./way-out.js";

interface Tail {
  readonly name: string;
  readonly room: Millimetres;
  readonly place: TrackPlace;
}

export const runaround: Rule = {
  id: "runaround",
  take({ plan, layout }) {
    const { train, averageCar } = plan.standards;
    const engine = settingOf(plan, "engine");
    const limit = engine.value + averageCar.value;
    const ways = waysRound(layout);
    const tails = ways.flatMap((way) => tailsOf(layout, way, Math.max(train.value, limit)));
    if (tails.length === 0) return [];
    tails.sort((p, q) => p.room - q.room || (p.place.line.key < q.place.line.key ? -1 : 1) || p.place.s - q.place.s);
    const value = tails[0]?.room;
    const verdict = judged(value ?? 0, engine.value, limit);
    const short = tails.filter(({ room }) => judged(room, engine.value, limit) !== "clear");
    const reading: Reading = {
      id: "runaround",
      label: "Room to run round",
      value,
      unit: "mm",
      limit,
      bound: "least",
      verdict,
      places: (short.length > 0 ? short : tails.slice(0, 1)).slice(0, MOST_PLACES).map(({ name, room, place }) => {
        const note =
          judged(room, engine.value, limit) === "fails" ? "no engine clears the points" : "beyond the points";
        return placeOn(place.line, place.s, room, `${name}: ${note}`);
      }),
      source: `${PRACTICE}: an engine and a car clear the points`,
      figures: {
        "places to run round": { value: ways.length, unit: "count" },
        engine: { value: engine.value, unit: "mm" },
      },
    };
    return [reading];
  },
};

const EXACT = 1e-6;
const judged = (room: Millimetres, engine: Millimetres, limit: Millimetres): Verdict =>
  room < engine - EXACT ? "fails" : room < limit - EXACT ? "tight" : "clear";

/** Two roads between the same points. */
interface WayRound {
  readonly name: string;
  readonly road: readonly Run[];
  readonly other: readonly Run[];
}

function waysRound(layout: Layout): WayRound[] {
  const pairs = crossoverPairs(layout.network).map(({ road, other }): WayRound => {
    const track = trackOfRuns(layout, road);
    return { name: track ? nameOfTrack(layout, track) : "Crossovers", road, other };
  });
  return [...sidingsOf(layout), ...pairs];
}

/** Room beyond both ends of a way, as far as an engine with a whole train could want it. */
function tailsOf(layout: Layout, { name, road, other }: WayRound, most: Millimetres): Tail[] {
  const sections = sectionsOf(layout.network);
  const own = new Set([...road, ...other].map(sectionOf));
  return [road.at(-1) ?? 0, reversed(road[0] ?? 0)].flatMap((end): Tail[] => {
    const rooms = (sections.next[end] ?? []).map((run) => wayOut(layout, run, most, (section) => !own.has(section)));
    const place = placeOnRuns(layout, [reversed(end)], 0);
    return place ? [{ name, room: Math.max(0, ...rooms), place }] : [];
  });
}
