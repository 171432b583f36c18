/**
 * Crossings: where centre lines cross on one level. Nobody places them; they follow where tracks are laid across one
 * another.
 *
 * Always holds: a crossing lies within both lines, not at an end of either, so joints and tracks that end on another are
 * none; lines that touch without crossing, as a turnout's route and its host at the points, make none; each is told once.
 */
import { type Path, poseAt } from "../geometry/path.js";
import type { Millimetres, Radians } from "../geometry/units.js";
import type { Id } from "../plan/schema.js";
import type { Crossing } from "./layout.js";
import type { Line, LineKey, PlacedTurnout } from "./line.js";
import { type Meeting, meetingGroups, type NearPlace } from "./meetings.js";
import { heightAt, type Profile } from "./profile.js";

/** Farther apart in height, one line passes over the other, or someone forgot to bring them level; rails of one crossing differ by less. */
export const ONE_LEVEL: Millimetres = 5;
/** Meetings are within 0.1 mm of the lines' own distance, so places no farther apart may be crossings. */
const MAY_CROSS: Millimetres = 0.2;
/** Nearer to its end than this a line ends at the other line and does not cross it. */
const END: Millimetres = 1;
/** Lines that meet at less of an angle touch: the flattest crossing of the trade, two number 20 routes, has 2.9 degrees. */
const FLATTEST: Radians = 0.5 * (Math.PI / 180);
/** Crossings of the same lines nearer together than this are one, found from two places. */
const SAME_CROSSING: Millimetres = 2;
/** How well the two lines' places agree on the crossing, and steps of Newton's method given to find it; it doubles its digits each step. */
const EXACT: Millimetres = 1e-9;
const STEPS = 12;
/** Chords are held against one another this share of their length beyond their ends. */
const CHORD_SLACK = 0.01;

/** Where the lines of meetings cross in plan, on one level or not: it follows from the meetings, which are new when their lines are. */
const crossedIn = new WeakMap<object, readonly Crossing[]>();

export function deriveCrossings(
  lines: ReadonlyMap<LineKey, Line>,
  meetings: readonly Meeting[],
  profiles: ReadonlyMap<LineKey, Profile>,
  turnouts: ReadonlyMap<Id, PlacedTurnout>,
): Crossing[] {
  const crossings: Crossing[] = [];
  const add = (crossed: readonly Crossing[]): void => {
    for (const crossing of crossed) {
      if (onOneLevel(crossing, profiles) && !withinTurnout(crossing, lines, turnouts)) crossings.push(crossing);
    }
  };
  for (const group of meetingGroups(meetings)?.values() ?? [{ meetings }]) {
    let crossed = crossedIn.get(group);
    if (!crossed) {
      crossed = group.meetings.flatMap((meeting) => crossingsOf(meeting, lines));
      crossedIn.set(group, crossed);
    }
    add(crossed);
  }
  return crossings;
}

function crossingsOf(meeting: Meeting, lines: ReadonlyMap<LineKey, Line>): readonly Crossing[] {
  const known = crossedIn.get(meeting);
  if (known) return known;
  const [a, b] = [lines.get(meeting.a), lines.get(meeting.b)];
  const crossed = a && b ? crossingsInPlan(meeting, a, b) : [];
  crossedIn.set(meeting, crossed);
  return crossed;
}

function crossingsInPlan(meeting: Meeting, a: Line, b: Line): Crossing[] {
  const found: Crossing[] = [];
  for (const place of placesThatTouch(meeting)) {
    const crossing = crossingNear(place, a, b);
    if (crossing && !found.some((other) => sameCrossing(other, crossing))) found.push(crossing);
  }
  return found;
}

/** Lines whose heights are not known are taken to be level with one another. */
function onOneLevel({ a, b }: Crossing, profiles: ReadonlyMap<LineKey, Profile>): boolean {
  const heightsA = profiles.get(a.line);
  const heightsB = profiles.get(b.line);
  return !heightsA || !heightsB || Math.abs(heightAt(heightsB, b.s) - heightAt(heightsA, a.s)) < ONE_LEVEL;
}

/** Places of a meeting where the lines all but touch and are nearer than at the places before and after. */
function placesThatTouch({ places }: Meeting): NearPlace[] {
  return places.filter((place, i) => {
    if (place.apart > MAY_CROSS) return false;
    const before = places[i - 1]?.apart ?? Number.POSITIVE_INFINITY;
    const after = places[i + 1]?.apart ?? Number.POSITIVE_INFINITY;
    return place.apart <= before && place.apart <= after;
  });
}

function crossingNear(place: NearPlace, a: Line, b: Line): Crossing | undefined {
  const exact = intersect(a.path, b.path, place.sa, place.sb);
  if (!exact) return undefined;
  const { sa, sb } = exact;
  if (atEnd(sa, a.path) || atEnd(sb, b.path)) return undefined;
  const pose = poseAt(a.path, sa);
  const sine = Math.abs(Math.sin(poseAt(b.path, sb).heading - pose.heading));
  const angle = Math.asin(Math.min(1, sine));
  if (angle < FLATTEST) return undefined;
  return {
    a: { line: a.key, s: sa },
    b: { line: b.key, s: sb },
    point: { x: pose.x, y: pose.y },
    angle,
    deck: a.deck,
  };
}

const atEnd = (s: Millimetres, path: Path): boolean => s < END || s > path.length - END;

/**
 * Where two paths cross near given places, by Newton's method on the two distances along them: each step follows both
 * tangents to where they cross. Undefined where the paths are parallel there, or do not cross within them.
 */
function intersect(
  a: Path,
  b: Path,
  sa: Millimetres,
  sb: Millimetres,
): { sa: Millimetres; sb: Millimetres } | undefined {
  for (let step = 0; step < STEPS; step++) {
    const p = poseAt(a, sa);
    const q = poseAt(b, sb);
    const dx = q.x - p.x;
    const dy = q.y - p.y;
    if (Math.hypot(dx, dy) < EXACT) return { sa, sb };
    const across = Math.sin(q.heading - p.heading);
    if (Math.abs(across) < Math.sin(FLATTEST)) return undefined;
    sa = clamp(sa + (dx * Math.sin(q.heading) - dy * Math.cos(q.heading)) / across, a);
    sb = clamp(sb + (dx * Math.sin(p.heading) - dy * Math.cos(p.heading)) / across, b);
  }
  return undefined;
}

/**
 * Everywhere two lines cross in plan, whatever their heights, in order along the first. For a pair somebody names;
 * chord is held against chord, so it is not for every pair of a layout.
 */
export function pathsCross(a: Line, b: Line): { sa: Millimetres; sb: Millimetres }[] {
  const found: { sa: Millimetres; sb: Millimetres }[] = [];
  const { x: xa, y: ya, s: ta, count: na } = a.samples;
  const { x: xb, y: yb, s: tb, count: nb } = b.samples;
  const at = (list: Float64Array, i: number): number => list[i] ?? 0;
  for (let i = 0; i + 1 < na; i++) {
    const [px, py] = [at(xa, i), at(ya, i)];
    const [dx, dy] = [at(xa, i + 1) - px, at(ya, i + 1) - py];
    // Sides of chord i on which the points of b lie: no crossing without a change of side.
    let before = dx * (at(yb, 0) - py) - dy * (at(xb, 0) - px);
    for (let j = 0; j + 1 < nb; j++) {
      const after = dx * (at(yb, j + 1) - py) - dy * (at(xb, j + 1) - px);
      const [one, two] = [before, after];
      before = after;
      if (one * two > 0 || one === two) continue;
      const u = one / (one - two);
      const [qx, qy] = [
        at(xb, j) + u * (at(xb, j + 1) - at(xb, j)) - px,
        at(yb, j) + u * (at(yb, j + 1) - at(yb, j)) - py,
      ];
      const t = (qx * dx + qy * dy) / (dx * dx + dy * dy);
      // A little beyond the chord, since the curve bulges; Newton's method says whether they cross.
      if (t < -CHORD_SLACK || t > 1 + CHORD_SLACK) continue;
      const exact = intersect(
        a.path,
        b.path,
        at(ta, i) + t * (at(ta, i + 1) - at(ta, i)),
        at(tb, j) + u * (at(tb, j + 1) - at(tb, j)),
      );
      if (!exact || atEnd(exact.sa, a.path) || atEnd(exact.sb, b.path)) continue;
      const known = ({ sa, sb }: { sa: number; sb: number }): boolean =>
        Math.abs(sa - exact.sa) < SAME_CROSSING && Math.abs(sb - exact.sb) < SAME_CROSSING;
      if (!found.some(known)) found.push(exact);
    }
  }
  return found.sort((p, q) => p.sa - q.sa);
}

const clamp = (s: Millimetres, path: Path): Millimetres => Math.min(Math.max(s, 0), path.length);

/** Whether the lines are a turnout's route and its host, or two routes of one turnout, and the place is within it. */
function withinTurnout(
  { a, b }: Crossing,
  lines: ReadonlyMap<LineKey, Line>,
  turnouts: ReadonlyMap<Id, PlacedTurnout>,
): boolean {
  for (const [one, other] of [
    [a, b],
    [b, a],
  ] as const) {
    const line = lines.get(one.line);
    const turnout = line?.kind === "turnout" ? turnouts.get(line.id) : undefined;
    if (!turnout) continue;
    if (turnout.routes.some((route) => route.line === other.line)) return true;
    if (other.line !== turnout.host) continue;
    const from = Math.min(turnout.joint, turnout.heel, turnout.at);
    const to = Math.max(turnout.joint, turnout.heel, turnout.at);
    if (other.s >= from && other.s <= to) return true;
  }
  return false;
}

const sameCrossing = (p: Crossing, q: Crossing): boolean =>
  Math.abs(p.a.s - q.a.s) < SAME_CROSSING && Math.abs(p.b.s - q.b.s) < SAME_CROSSING;
