/**
 * Track spacing: how far tracks on one level lie apart, held to the track centres of straight track, after taking off
 * what the longest cars on both reach toward each other on curves (their swept envelopes), as far as the plan does not let
 * that use up part of the centres (NEM 112 does; NMRA S-8 does not). So one limit serves straight
 * and curve, and the value is what the spacing is worth.
 * Left out: what lies together at joints and turnouts, and crossings on the level.
 */
import { limitsOf } from "../plan/class-limits.js";
import { changedKeys } from "../layout/changed-keys.js";
import { meetingReach } from "../layout/derive.js";
import type { Crossing, Layout } from "../layout/layout.js";
import type { Line, LineKey } from "../layout/line.js";
import type { Meeting, NearPlace } from "../layout/meetings.js";
import type { Standards } from "../plan/schema.js";
import { type Carried, carry, whileSame } from "./carry.js";
import { throwToward } from "./envelope.js";
import {
  belongsTogether,
  foulingZones,
  type WorthOfMeeting,
  type ZonePair,
  zonePairs,
  type Zones,
  type ZonesOfLine,
} from "./fouling.js";
import { type LineContext, type LineContexts, lineContexts } from "./line-context.js";
import { foundByMeeting } from "./meeting-sides.js";
import { rememberBeside } from "./remember.js";
import { type Measured, type Rule, readingByClass } from "./rule.js";

/** Distances of lines are found within this, mm; a spacing short by less is kept. */
const FOUND_WITHIN = 0.1;
/** Crossings flatter than this are left out as far to both sides as if they were no flatter. */
const FLATTEST_SINE = 0.05;

export const trackSpacing: Rule = {
  id: "track-spacing",
  take: whileSame(
    ({ plan, layout }) => {
      const byPair = crossingsByPair(layout).byPair;
      const worsts = worstByMeeting(layout, allSides(layout).sides, plan.standards, byPair, 2 * meetingReach(plan));
      return [worsts, plan.standards] as const;
    },
    (input, [measured]) => {
      const head = { id: "track-spacing", label: "Track centres", unit: "mm", bound: "least" } as const;
      return readingByClass(input, head, (limits) => limits.centres, measured);
    },
  ),
};

/** A line as one of a pair; the same object as long as all that is asked of it stays. */
interface SideOfPair {
  readonly context: LineContext;
  readonly zones: ZonesOfLine | undefined;
  /** The ends at which another line goes on, and tells what lies beside it there. */
  readonly goesOn: readonly number[];
}

const sideOf = rememberBeside((context: LineContext, zones: ZonesOfLine | undefined): SideOfPair => {
  const { line, joined } = context;
  const ends = joined.map(({ end }) => (end === "start" ? 0 : line.path.length));
  // A turnout's route goes on as its host before the points, a slip's as a track at both ends.
  if (line.kind === "slip") return { context, zones, goesOn: [0, line.path.length] };
  return { context, zones, goesOn: line.kind === "turnout" ? [0, ...ends] : ends };
});

type Sides = ReadonlyMap<LineKey, SideOfPair>;

interface SidesFound {
  readonly contexts: LineContexts;
  readonly zones: Zones;
  readonly sides: Sides;
}

/** The sides of all lines; the same map while nothing of them changes. */
const allSides = carry((layout: Layout, last: Carried<SidesFound> | undefined): SidesFound => {
  const contexts = lineContexts(layout);
  const zones = foulingZones(layout, 2 * meetingReach(layout.plan));
  const before = last?.value;
  const moved = before && changedKeys(before.contexts, contexts);
  const parted = before && changedKeys(before.zones, zones);
  const near = moved && parted && [...moved, ...parted];
  if (before && near?.length === 0) return { contexts, zones, sides: before.sides };
  const sides = new Map<LineKey, SideOfPair>(near && before?.sides);
  for (const key of near ?? contexts.keys()) {
    const context = contexts.get(key);
    if (context) sides.set(key, sideOf(context, zones.get(key)));
  }
  return { contexts, zones, sides };
});

/** The worst place of a meeting, where any counts. */
const worstByMeeting = foundByMeeting(
  (
    meeting: Meeting,
    a: SideOfPair,
    b: SideOfPair,
    standards: Standards,
    byPair: CrossingsByPair,
    near: number,
  ): Measured | undefined => {
    const crossings = crossingsOf(byPair, meeting);
    const ahead = standards.longestCar.value.length;
    const pairs = zonePairs(a.zones, b.zones, meeting);
    const worths = worthOf(standards, meeting, a.context, b.context);
    const worth = { places: meeting.places, worths, length: b.context.line.path.length };
    const worst = findWorst(worth, meeting, { near, ahead, pairs, crossings, goesOn: b.goesOn });
    return worst && measuredAt(standards, a.context.line, b.context.line, worst);
  },
);

interface Worth {
  readonly value: number;
  readonly place: NearPlace;
}

/** Told on the track that asks for more. */
function measuredAt(standards: Standards, a: Line, b: Line, { value, place }: Worth): Measured {
  const centres = (line: Line): number => limitsOf({ standards }, line.class).centres.value;
  const limit = Math.max(centres(a), centres(b));
  const [line, s] = centres(a) >= centres(b) ? [a, place.sa] : [b, place.sb];
  const kept = value < limit && limit - value <= FOUND_WITHIN ? limit : value;
  return { value: kept, line, s, note: `centres ${place.apart.toFixed(1)} mm` };
}

/** What of a meeting is left out. */
interface LeftOut {
  readonly near: number;
  readonly ahead: number;
  readonly pairs: readonly ZonePair[];
  readonly crossings: readonly Crossing[];
  /** The ends of its second line at which another goes on, and tells what lies beside it there. */
  readonly goesOn: readonly number[];
}

/** What the spacing is worth at every place of a meeting; infinite where one track passes over the other. */
function worthOf(
  { longestCar: { value: car }, curveSlack }: Standards,
  meeting: Meeting,
  { line: a, throws: throwsA }: LineContext,
  { line: b, throws: throwsB }: LineContext,
): Float64Array {
  const slack = curveSlack?.value ?? 0;
  const [{ samples: samplesA }, { samples: samplesB }] = [a, b];
  return Float64Array.from(meeting.places, ({ sa, sb, apart, rise }) => {
    if (Math.abs(rise) > car.height / 2) return Number.POSITIVE_INFINITY;
    const throws = throwToward(samplesA, throwsA, sa, samplesB, sb) + throwToward(samplesB, throwsB, sb, samplesA, sa);
    return apart - Math.max(0, throws - slack);
  });
}

function findWorst(worth: WorthOfMeeting, meeting: Meeting, leftOut: LeftOut): Worth | undefined {
  const { near, ahead, pairs, crossings, goesOn } = leftOut;
  let worst: Worth | undefined;
  meeting.places.forEach((place, i) => {
    const value = worth.worths[i] ?? Number.POSITIVE_INFINITY;
    if (value >= (worst?.value ?? Number.POSITIVE_INFINITY) || goesOn.includes(place.sb)) return;
    if (belongsTogether(worth, i, ahead, pairs) || crossings.some((c) => crossed(meeting, place, c, near))) return;
    worst = { value, place };
  });
  return worst;
}

const NO_CROSSINGS: readonly Crossing[] = [];
/** Crossings of the two lines of a meeting. */
const crossingsOf = (byPair: CrossingsByPair, { a, b }: Meeting): readonly Crossing[] =>
  (byPair.size > 0 ? byPair.get(pairKey(a, b)) : undefined) ?? NO_CROSSINGS;

const pairKey = (a: Line["key"], b: Line["key"]): string => (a < b ? `${a} ${b}` : `${b} ${a}`);

type CrossingsByPair = ReadonlyMap<string, readonly Crossing[]>;

interface CrossingsFound {
  readonly crossings: readonly Crossing[];
  readonly byPair: CrossingsByPair;
}

/** Crossings by the two lines; the same map while all of them are where they were. */
const crossingsByPair = carry(({ crossings }: Layout, last: Carried<CrossingsFound> | undefined): CrossingsFound => {
  const before = last?.value.crossings;
  if (before?.length === crossings.length && crossings.every((c, i) => sameCrossing(c, before[i])))
    return { crossings, byPair: last?.value.byPair ?? new Map() };
  const byPair = new Map<string, Crossing[]>();
  for (const crossing of crossings) {
    const key = pairKey(crossing.a.line, crossing.b.line);
    const own = byPair.get(key);
    if (own) own.push(crossing);
    else byPair.set(key, [crossing]);
  }
  return { crossings, byPair };
});

const sameCrossing = (p: Crossing, q: Crossing | undefined): boolean =>
  p.a.line === q?.a.line && p.b.line === q.b.line && p.a.s === q.a.s && p.b.s === q.b.s && p.angle === q.angle;

/** Whether a place lies near a crossing on the level, `near` mm across the other line. */
function crossed(meeting: Meeting, { sa, sb }: NearPlace, { a, b, angle }: Crossing, near: number): boolean {
  const reach = near / Math.max(Math.sin(angle), FLATTEST_SINE);
  const at = (sOnA: number, sOnB: number): boolean => Math.abs(sa - sOnA) <= reach && Math.abs(sb - sOnB) <= reach;
  return (meeting.a === a.line && at(a.s, b.s)) || (meeting.a === b.line && at(b.s, a.s));
}
