/** What passes over and under a route: other track, or its own other turns, with the gap from railhead to railhead. */
import type { Layout } from "../../layout/layout.js";
import type { NearPlace } from "../../layout/meetings.js";
import { heightAt } from "../../layout/profile.js";
import { distanceOn, type Leg } from "./profile-run.js";

export interface Passing {
  /** Heights of the other railhead along the route, in order of distance. */
  readonly points: readonly { readonly d: number; readonly h: number }[];
  /** Where the gap is least. */
  readonly at: number;
  /** Other railhead over ours, mm; negative where it is below. */
  readonly gap: number;
}

/** Track on one level passes beside, not over: the railheads must part by more than this, mm. */
const LEAST_GAP = 10;

/** Passings of the route, in order of distance. Lines further apart in plan than half the roadbed's width pass beside. */
export function passings(layout: Layout, legs: readonly Leg[]): Passing[] {
  const reach = layout.plan.standards.roadbedWidth.value / 2;
  const found: Passing[] = [];
  for (const meeting of layout.meetings) {
    const over = meeting.places.filter((place) => place.apart <= reach && Math.abs(place.rise) > LEAST_GAP);
    if (over.length === 0) continue;
    for (const leg of legs) {
      for (const side of ["a", "b"] as const) {
        const passing = seenFrom(layout, leg, meeting[side], over, side);
        if (passing) found.push(passing);
      }
    }
  }
  return found.sort((a, b) => a.at - b.at);
}

function seenFrom(
  layout: Layout,
  leg: Leg,
  line: Leg["stretch"]["line"],
  places: readonly NearPlace[],
  side: "a" | "b",
): Passing | undefined {
  const profile = layout.profiles.get(line);
  if (line !== leg.stretch.line || !profile) return undefined;
  const seen = places.flatMap((place) => {
    const s = side === "a" ? place.sa : place.sb;
    const d = distanceOn(leg, { line, s });
    const rise = side === "a" ? place.rise : -place.rise;
    return d === undefined ? [] : [{ d, h: heightAt(profile, s) + rise, rise }];
  });
  const nearest = seen.reduce(
    (least, p) => (Math.abs(p.rise) < Math.abs(least?.rise ?? Number.POSITIVE_INFINITY) ? p : least),
    seen[0],
  );
  if (!nearest) return undefined;
  const points = seen.map(({ d, h }) => ({ d, h })).sort((a, b) => a.d - b.d);
  return { points, at: nearest.d, gap: nearest.rise };
}
