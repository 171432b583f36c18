/**
 * Spurs: cars that can be spotted on each, at the share of its length at which a spur works, and which way a train must
 * be going to work it without running round: past the turnout from behind, so that its cars are pushed in.
 */
import type { Radians } from "../geometry/units.js";
import { poseAt } from "../geometry/path.js";
import type { Layout } from "../layout/layout.js";
import { besideAtEnd, reversed, type Run, sectionsOf } from "../layout/sections.js";
import { settingOf } from "../plan/settings.js";
import type { Reading } from "./reading.js";
import { MOST_PLACES, type Rule } from "./rule.js";
import { placeOnRuns } from "./runs-of-track.js";
import { countIn } from "./siding-lengths.js";
import { placeOfTrack, type StandingTrack, standingTracks } from "./standing-tracks.js";

export const spur: Rule = {
  id: "spur",
  take({ plan, layout }) {
    const found = standingTracks(layout, "spur");
    if (found.length === 0) return [];
    const works = settingOf(plan, "spurWorks");
    const { averageCar } = plan.standards;
    const spurs = found.map((track) => ({
      ...track,
      spots: countIn((track.clear * works.value) / 100, averageCar.value),
    }));
    spurs.sort((p, q) => p.spots - q.spots || p.clear - q.clear || (p.track.key < q.track.key ? -1 : 1));
    const least = spurs[0]?.spots ?? 0;
    const reading: Reading = {
      id: "spur",
      label: "Spurs, fewest spots",
      value: least,
      unit: "count",
      limit: 1,
      bound: "least",
      // One that a car fits on, but not with the room to work that practice asks for, is tight.
      verdict: spurs.some(({ cars }) => cars === 0) ? "fails" : least < 1 ? "tight" : "clear",
      places: spurs.slice(0, MOST_PLACES).flatMap((track) => {
        const spots = `${track.spots} ${track.spots === 1 ? "spot" : "spots"}`;
        return placeOfTrack(layout, track, track.spots, `${track.name}: ${spots}${waysToWork(layout, track)}`);
      }),
      source: works.source,
      ...(works.reason !== undefined && { reason: works.reason }),
      figures: {
        spurs: { value: spurs.length, unit: "count" },
        "spots in all": { value: spurs.reduce((sum, { spots }) => sum + spots, 0), unit: "count" },
        "cars in all": { value: spurs.reduce((sum, { cars }) => sum + cars, 0), unit: "count" },
      },
    };
    return [reading];
  },
};

/** In words, for trains that push cars in behind their engine. */
function waysToWork(layout: Layout, { runs }: StandingTrack): string {
  const sections = sectionsOf(layout.network);
  const ways = [runs.at(-1) ?? 0, reversed(runs[0] ?? 0)].flatMap((end): string[] => {
    if (besideAtEnd(sections, end).length === 0) return [];
    return (sections.next[end] ?? []).slice(0, 1).map((out) => sheetward(layout, out));
  });
  return ways.length > 0 ? `, for trains going ${[...new Set(ways)].sort().join(" or ")}` : "";
}

/** Which way of the sheet a run begins. */
function sheetward(layout: Layout, run: Run): string {
  const place = placeOnRuns(layout, [run], 0);
  if (!place) return "on";
  const heading: Radians = poseAt(place.line.path, place.s).heading + (place.forwards ? 0 : Math.PI);
  const [x, y] = [Math.cos(heading), Math.sin(heading)];
  const flat = Math.abs(x) >= Math.abs(y);
  return flat ? (x > 0 ? "right on the sheet" : "left on the sheet") : y > 0 ? "up the sheet" : "down the sheet";
}
