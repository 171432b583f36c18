/**
 * Track spacing: how far tracks on one level lie apart, held to the track centres of straight track, after taking off
 * what the longest cars on both reach toward each other on curves (their swept envelopes), as far as the plan does not let
 * that use up part of the centres (NEM 112 does; NMRA S-8 does not). So one limit serves straight
 * and curve, and the value is what the spacing is worth.
 * Left out: what lies together at joints and turnouts, and crossings on the level.
 */
import type { Millimetres } from "../geometry/units.js";
import { meetingReach } from "../layout/derive.js";
import type { Crossing, Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import type { Meeting, NearPlace } from "../layout/meetings.js";
import type { Plan, Standards } from "../plan/schema.js";
import { type Throws, throwsOf, throwToward } from "./envelope.js";
import { belongsTogether, foulingZones, type WorthOfMeeting, type ZonePair, zonePairs } from "./fouling.js";
import { type JoinedEnd, joinedEnds } from "./joined-ends.js";
import { rememberBeside, sameItems } from "./remember.js";
import { limitsOf, type Measured, type Rule, readingByClass } from "./rule.js";

/** Distances of lines are found within this, mm; a spacing short by less is kept. */
const FOUND_WITHIN = 0.1;
/** Crossings flatter than this are left out as far to both sides as if they were no flatter. */
const FLATTEST_SINE = 0.05;

export const trackSpacing: Rule = {
  id: "track-spacing",
  take(input) {
    const { plan, layout } = input;
    const near = 2 * meetingReach(plan);
    const zones = foulingZones(layout, near);
    const crossings = crossingsByPair(layout);
    const measured: Measured[] = [];
    for (const meeting of layout.meetings) {
      const a = layout.lines.get(meeting.a);
      const b = layout.lines.get(meeting.b);
      if (!a || !b) continue;
      const crossed = crossings.get(pairKey(meeting.a, meeting.b)) ?? NO_CROSSINGS;
      const ahead = plan.standards.longestCar.value.length;
      const leftOut = { near, ahead, pairs: zonePairs(zones, meeting), crossings: crossed, goesOn: goingOn(layout, b) };
      const worths = worthOf(layout, plan.standards, meeting, a, b);
      const worst = worstPlace({ places: meeting.places, worths, length: b.path.length }, meeting, leftOut);
      if (worst) measured.push(measuredAt(plan, a, b, worst));
    }
    const head = { id: "track-spacing", label: "Track centres", unit: "mm", bound: "least" } as const;
    return readingByClass(input, head, (limits) => limits.centres, measured);
  },
};

interface Worth {
  readonly value: number;
  readonly place: NearPlace;
}

/** Told on the track that asks for more. */
function measuredAt(plan: Plan, a: Line, b: Line, { value, place }: Worth): Measured {
  const centres = (line: Line): number => limitsOf(plan, line.class).centres.value;
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

/** The worst place of a meeting; kept as long as its lines, their limits and what is left out of it stay. */
function worstPlace(worth: WorthOfMeeting, meeting: Meeting, leftOut: LeftOut): Worth | undefined {
  const last = known.get(worth.worths);
  if (last && sameLeftOut(last.leftOut, leftOut)) return last.worst;
  const worst = findWorst(worth, meeting, leftOut);
  known.set(worth.worths, { leftOut, worst });
  return worst;
}

const known = new WeakMap<Float64Array, { readonly leftOut: LeftOut; readonly worst: Worth | undefined }>();

const sameLeftOut = (p: LeftOut, q: LeftOut): boolean =>
  p.near === q.near &&
  p.ahead === q.ahead &&
  sameItems(p.goesOn, q.goesOn) &&
  p.pairs === q.pairs &&
  p.crossings.length === q.crossings.length &&
  p.crossings.every((c, i) => sameCrossing(c, q.crossings[i]));

const sameCrossing = (p: Crossing, q: Crossing | undefined): boolean =>
  p.a.line === q?.a.line && p.a.s === q.a.s && p.b.s === q.b.s && p.angle === q.angle;

/** The ends of a line at which another goes on: those of a turnout's route on its host, and where lines are joined. */
const goingOn = (layout: Layout, line: Line): readonly number[] => endsGoingOn(line, joinedEnds(layout, line));

const endsGoingOn = rememberBeside((line: Line, joined: readonly JoinedEnd[]): readonly number[] => {
  const ends = joined.map(({ end }) => (end === "start" ? 0 : line.path.length));
  return line.kind === "turnout" ? [0, ...ends] : ends;
});

function worthOf(layout: Layout, standards: Standards, meeting: Meeting, a: Line, b: Line): Float64Array {
  const car = standards.longestCar.value;
  const slack = standards.curveSlack?.value ?? 0;
  return worthOfPlaces(meeting, a, b, throwsOf(layout, a), throwsOf(layout, b), car.height, slack);
}

/** What the spacing is worth at every place of a meeting; infinite where one track passes over the other. */
const worthOfPlaces = rememberBeside(
  (
    meeting: Meeting,
    a: Line,
    b: Line,
    throwsA: Throws,
    throwsB: Throws,
    carHeight: Millimetres,
    slack: Millimetres,
  ): Float64Array =>
    Float64Array.from(meeting.places, ({ sa, sb, apart, rise }) => {
      if (Math.abs(rise) > carHeight / 2) return Number.POSITIVE_INFINITY;
      const throws = throwToward(a, throwsA, sa, b, sb) + throwToward(b, throwsB, sb, a, sa);
      return apart - Math.max(0, throws - slack);
    }),
);

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
const pairKey = (a: Line["key"], b: Line["key"]): string => (a < b ? `${a} ${b}` : `${b} ${a}`);

function crossingsByPair(layout: Layout): Map<string, Crossing[]> {
  const byPair = new Map<string, Crossing[]>();
  for (const crossing of layout.crossings) {
    const key = pairKey(crossing.a.line, crossing.b.line);
    const own = byPair.get(key);
    if (own) own.push(crossing);
    else byPair.set(key, [crossing]);
  }
  return byPair;
}

/** Whether a place lies near a crossing on the level, `near` mm across the other line. */
function crossed(meeting: Meeting, { sa, sb }: NearPlace, { a, b, angle }: Crossing, near: number): boolean {
  const reach = near / Math.max(Math.sin(angle), FLATTEST_SINE);
  const at = (sOnA: number, sOnB: number): boolean => Math.abs(sa - sOnA) <= reach && Math.abs(sb - sOnB) <= reach;
  return (meeting.a === a.line && at(a.s, b.s)) || (meeting.a === b.line && at(b.s, a.s));
}
