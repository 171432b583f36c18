/** What passes over and under a route: other track, or its own other turns, with the gap from railhead to railhead. */
import { meetingsOf } from "../../layout/derive.js";
import type { Layout } from "../../layout/layout.js";
import type { NearPlace } from "../../layout/meetings.js";
import { heightAt } from "../../layout/profile.js";
import { distanceOn, type Leg } from "./profile-run.js";

export interface PassingPoint {
  readonly d: number;
  readonly h: number;
  /** Other railhead over ours, mm; negative where it is below. */
  readonly gap: number;
}

export interface Passing {
  /** Heights of the other railhead along the route, in order of distance. */
  readonly points: readonly PassingPoint[];
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
  const keys = legs.map(({ stretch }) => stretch.line);
  for (const meeting of meetingsOf(layout, keys)) {
    const over = meeting.places.filter((place) => place.apart <= reach && Math.abs(place.rise) > LEAST_GAP);
    if (over.length === 0) continue;
    for (const leg of legs) {
      for (const side of ["a", "b"] as const) {
        const passing = seenFrom(layout, leg, meeting[side], over, side);
        if (passing) found.push(passing);
      }
    }
  }
  return found.flatMap((one) => nearestPart(one, found)).sort((a, b) => a.at - b.at);
}

/** In a helix turn lies over turn: only where it is the next one above or below does a passing matter. */
function nearestPart(one: Passing, all: readonly Passing[]): Passing[] {
  const points = one.points.filter((point) => !all.some((other) => other !== one && liesBetween(other, point)));
  return points.length > 0 ? [passingOf(points)] : [];
}

function liesBetween(other: Passing, point: PassingPoint): boolean {
  const next = other.points.findIndex(({ d }) => d >= point.d);
  const after = other.points[next];
  const before = other.points[next - 1] ?? (after?.d === point.d ? after : undefined);
  if (!after || !before) return false;
  const nearer = (a: PassingPoint) => a.gap * point.gap > 0 && Math.abs(a.gap) < Math.abs(point.gap) - SAME_GAP;
  return nearer(before) && nearer(after);
}

/** Two turns this nearly alike hide neither, mm. */
const SAME_GAP = 1;

/** Points in order of distance, at least one. */
function passingOf(points: readonly PassingPoint[]): Passing {
  const nearest = points.reduce(
    (least, point) => (Math.abs(point.gap) < Math.abs(least.gap) ? point : least),
    points[0] as PassingPoint,
  );
  return { points, at: nearest.d, gap: nearest.gap };
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
    const gap = side === "a" ? place.rise : -place.rise;
    return d === undefined ? [] : [{ d, h: heightAt(profile, s) + gap, gap }];
  });
  return seen.length > 0 ? passingOf(seen.sort((a, b) => a.d - b.d)) : undefined;
}
