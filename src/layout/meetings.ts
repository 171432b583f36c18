/**
 * Where lines meet in space: for every pair of lines (and every line with itself) whose centre lines come within reach
 * of one another in plan, whatever their heights, the stretches on which they do, with distance and difference of height.
 *
 * Always holds: a meeting's places are within reach and in order along its first line, which is the one whose key comes
 * first; distances are within 0.1 mm of the lines' own; where a line is passed several times each pass is a meeting;
 * a line meets itself only where the way along it is more than twice the reach, told once, the earlier place first;
 * meetings derived from previous ones equal those derived from nothing, and pairs that did not change are the same objects.
 * Bounds: of more than 64 passes at one place the first along b are told; a line beyond `COARSEST` or of no length meets nothing.
 */
import { samePose } from "../geometry/pose.js";
import { indexBoxes } from "../geometry/search.js";
import type { Millimetres, Radians } from "../geometry/units.js";
import { changedKeys } from "./changed-keys.js";
import type { Line, LineKey } from "./line.js";
import { type SelfRule, tracePasses } from "./meetings-passes.js";
import { runsOf } from "./meetings-runs.js";
import type { Tracing } from "./meetings-stretches.js";
import { heightAt, type Profile } from "./profile.js";
import { LONGEST_STEP } from "./samples.js";

/** One sampled place of nearness: `sa` on line a, the nearest place `sb` on line b. */
export interface NearPlace {
  readonly sa: Millimetres;
  readonly sb: Millimetres;
  /** Distance of the centre lines in plan, mm. */
  readonly apart: Millimetres;
  /** Height of b's railhead over a's, mm; 0 where the heights of either are not known. */
  readonly rise: Millimetres;
}

/** An unbroken stretch of nearness, places in order of `sa`. */
export interface Meeting {
  readonly a: LineKey;
  readonly b: LineKey;
  readonly places: readonly NearPlace[];
}

/** Meetings with what they were derived from, for the next derivation. */
export interface Meetings {
  readonly meetings: readonly Meeting[];
  /** Pairs of lines (a line with itself counts as one) that were compared, or whose heights were, anew. */
  readonly computed: number;
  readonly lines: ReadonlyMap<LineKey, Line>;
  readonly profiles: ReadonlyMap<LineKey, Profile>;
  readonly reach: Millimetres;
  /** The lines whose meetings these are; those of all lines where left out. */
  readonly only?: ReadonlySet<LineKey> | undefined;
  /** Pairs that meet. */
  readonly pairs: readonly Pair[];
  /** The same by their first line; a group in which nothing changed is the object it was. */
  readonly groups: ReadonlyMap<LineKey, MeetingGroup>;
}

/** Pairs and meetings that have their first line in common, in the order of the second lines. */
export interface MeetingGroup {
  readonly pairs: readonly Pair[];
  readonly meetings: readonly Meeting[];
}

/** Two lines, their heights, and where they meet. */
interface Pair {
  readonly a: Line;
  readonly b: Line;
  readonly heightsA: Profile | undefined;
  readonly heightsB: Profile | undefined;
  readonly meetings: readonly Meeting[];
}

/** A line sampled more coarsely is longer than any layout's (see `MOST_SAMPLES`); its chords say nothing of where it runs, and it is not compared. */
const COARSEST: Millimetres = 2 * LONGEST_STEP;
/** The ends of a closed line agree this well, whichever way they were computed. */
const CLOSED_MM: Millimetres = 0.1;
const CLOSED_RAD: Radians = 1e-3;

export function deriveMeetings(
  lines: ReadonlyMap<LineKey, Line>,
  profiles: ReadonlyMap<LineKey, Profile>,
  reach: Millimetres,
  previous?: Meetings,
  only?: ReadonlySet<LineKey>,
): Meetings {
  const before = previous?.reach === reach && (only || !previous.only) ? previous : undefined;
  if (before && !only && before.lines === lines && before.profiles === profiles) return { ...before, computed: 0 };
  const again = before && !only && !before.only ? meetingsAgain(lines, profiles, reach, before) : undefined;
  if (again) return again;
  const order = new Map<LineKey, number>();
  for (const key of lines.keys()) order.set(key, order.size);
  const byFirst: Pair[][] = Array.from({ length: order.size }, () => []);
  const keep = (pair: Pair): void => {
    byFirst[order.get(pair.a.key) ?? 0]?.push(pair);
  };
  let computed = 0;
  for (const pair of before?.pairs ?? []) {
    if (lines.get(pair.a.key) !== pair.a || lines.get(pair.b.key) !== pair.b) continue;
    if (only && !only.has(pair.a.key) && !only.has(pair.b.key)) continue;
    const levelled = withHeights(pair, profiles);
    if (levelled !== pair) computed++;
    keep(levelled);
  }
  for (const [a, b] of pairsToCompare([...lines.values()], before, reach, only)) {
    computed++;
    const pair = compare(a, b, profiles, reach);
    if (pair.meetings.length > 0) keep(pair);
  }
  const groups = new Map<LineKey, MeetingGroup>();
  for (const partners of byFirst) {
    const [first] = partners;
    if (first) groups.set(first.a.key, groupOf(partners, order));
  }
  return { ...flat(groups), computed, lines, profiles, reach, only, groups };
}

function groupOf(pairs: Pair[], order: ReadonlyMap<LineKey, number>): MeetingGroup {
  pairs.sort((p, q) => (order.get(p.b.key) ?? 0) - (order.get(q.b.key) ?? 0));
  return { pairs, meetings: pairs.flatMap((pair) => pair.meetings) };
}

function flat(groups: ReadonlyMap<LineKey, MeetingGroup>): Pick<Meetings, "meetings" | "pairs"> {
  const all: { meetings: Meeting[]; pairs: Pair[] } = { meetings: [], pairs: [] };
  for (const { meetings, pairs } of groups.values()) {
    for (const meeting of meetings) all.meetings.push(meeting);
    for (const pair of pairs) all.pairs.push(pair);
  }
  groupsOf.set(all.meetings, groups);
  return all;
}

const groupsOf = new WeakMap<readonly Meeting[], ReadonlyMap<LineKey, MeetingGroup>>();

/** The meetings of a layout by their first line, in its order; nothing for a list that came another way (copied, sent). */
export const meetingGroups = (meetings: readonly Meeting[]): ReadonlyMap<LineKey, MeetingGroup> | undefined =>
  groupsOf.get(meetings);

/** More lines than this are looked for in a tree. */
const FEW_LINES = 40;

/** The meetings of before, where the same lines are there and few of them changed; undefined where it is otherwise. */
function meetingsAgain(
  lines: ReadonlyMap<LineKey, Line>,
  profiles: ReadonlyMap<LineKey, Profile>,
  reach: Millimetres,
  before: Meetings,
): Meetings | undefined {
  const moved = changedKeys(before.lines, lines);
  const lifted = moved && moved.size <= FEW_LINES ? changedKeys(before.profiles, profiles) : undefined;
  if (!moved || !lifted) return undefined;
  let computed = 0;
  /** Pairs of first lines of which something changed. */
  const touched = new Map<LineKey, Pair[]>();
  for (const [key, { pairs }] of before.groups) {
    if (!pairs.some(({ a, b }) => [a, b].some((line) => moved.has(line.key) || lifted.has(line.key)))) continue;
    const left: Pair[] = [];
    for (const pair of pairs) {
      if (moved.has(pair.a.key) || moved.has(pair.b.key)) continue;
      const levelled = withHeights(pair, profiles);
      if (levelled !== pair) computed++;
      left.push(levelled);
    }
    touched.set(key, left);
  }
  for (const [a, b] of pairsOf(moved, lines, reach)) {
    computed++;
    const pair = compare(a, b, profiles, reach);
    if (pair.meetings.length === 0) continue;
    const own = touched.get(a.key) ?? [...(before.groups.get(a.key)?.pairs ?? [])];
    own.push(pair);
    touched.set(a.key, own);
  }
  const order = new Map<LineKey, number>();
  for (const key of touched.size > 0 ? lines.keys() : []) order.set(key, order.size);
  const groups = new Map<LineKey, MeetingGroup>(before.groups);
  let sameFirsts = true;
  for (const [key, pairs] of touched) {
    if (pairs.length === 0) groups.delete(key);
    else {
      sameFirsts &&= groups.has(key);
      groups.set(key, groupOf(pairs, order));
    }
  }
  const inOrder = sameFirsts
    ? groups
    : new Map([...groups].sort(([p], [q]) => (order.get(p) ?? 0) - (order.get(q) ?? 0)));
  return { ...flat(inOrder), computed, lines, profiles, reach, only: undefined, groups: inOrder };
}

/** Pairs of a few lines with all whose boxes come within reach, each once. */
function* pairsOf(
  few: ReadonlySet<LineKey>,
  lines: ReadonlyMap<LineKey, Line>,
  reach: Millimetres,
): Generator<readonly [Line, Line]> {
  const wanted = [...few].flatMap((key) => lines.get(key) ?? []).filter((line) => runsOf(line).step <= COARSEST);
  if (wanted.length === 0) return;
  for (const other of lines.values()) {
    const { bounds, step } = runsOf(other);
    if (step > COARSEST) continue;
    for (const line of wanted) {
      const own = runsOf(line).bounds;
      if (bounds[0] > own[2] + reach || bounds[2] < own[0] - reach) continue;
      if (bounds[1] > own[3] + reach || bounds[3] < own[1] - reach) continue;
      // Of two that both changed the pair is told by the first by key.
      if (other !== line && few.has(other.key) && other.key < line.key) continue;
      if (other !== line) yield line.key < other.key ? [line, other] : [other, line];
      else if (mayMeetItself(line, reach)) yield [line, line];
    }
  }
}

/** Pairs of lines whose boxes come within reach and of which at least one is not what it was, or was not asked for. */
function pairsToCompare(
  all: readonly Line[],
  before: Meetings | undefined,
  reach: Millimetres,
  only: ReadonlySet<LineKey> | undefined,
): (readonly [Line, Line])[] {
  const lines = all.filter((line) => runsOf(line).step <= COARSEST);
  const wanted = lines.map(({ key }) => !only || only.has(key));
  const changed = lines.map((line) => before?.lines.get(line.key) !== line);
  /** Whether the line's meetings with all that has not changed are known. */
  const asked = lines.map(({ key }) => !before?.only || before.only.has(key));
  const anew = lines.map((_, i) => changed[i] === true || (wanted[i] === true && !asked[i]));
  if (!anew.includes(true)) return [];
  const boxes = new Float64Array(4 * lines.length);
  lines.forEach((line, i) => {
    boxes.set(runsOf(line).bounds, 4 * i);
  });
  const index = indexBoxes(boxes);
  const pairs: (readonly [Line, Line])[] = [];
  lines.forEach((line, i) => {
    if (!anew[i]) return;
    const [minX, minY, maxX, maxY] = runsOf(line).bounds;
    index.visit(minX - reach, minY - reach, maxX + reach, maxY + reach, (j) => {
      const other = lines[j];
      if (!other || (anew[j] && j < i) || (!wanted[i] && !wanted[j])) return;
      if (!changed[i] && !changed[j] && asked[j]) return;
      if (other !== line) pairs.push(line.key < other.key ? [line, other] : [other, line]);
      else if (mayMeetItself(line, reach)) pairs.push([line, line]);
    });
  });
  return pairs;
}

/**
 * Whether a line can come within reach of itself farther than twice the reach along it. A curve that turns by T < pi in
 * all has chords of at least cos(T/2) times the way along it (Schur's comparison theorem), half of it at T = 120 degrees.
 */
function mayMeetItself({ path }: Line, reach: Millimetres): boolean {
  const turn = path.segments.reduce((sum, g) => sum + (g.length * (Math.abs(g.k0) + Math.abs(g.k1))) / 2, 0);
  return path.length > 2 * reach && turn > (2 * Math.PI) / 3;
}

function compare(a: Line, b: Line, profiles: ReadonlyMap<LineKey, Profile>, reach: Millimetres): Pair {
  const heightsA = profiles.get(a.key);
  const heightsB = profiles.get(b.key);
  const rise = riseOf(heightsA, heightsB);
  const make = (sa: Millimetres, sb: Millimetres, apart: Millimetres): NearPlace => ({
    sa,
    sb,
    apart,
    rise: rise(sa, sb),
  });
  const tracing: Tracing<NearPlace> = { a: a.samples, b: b.samples, reach, make, stretches: [] };
  const stretches = tracePasses(a, b, tracing, a === b ? selfRule(a, reach) : undefined);
  return { a, b, heightsA, heightsB, meetings: stretches.map((places) => ({ a: a.key, b: b.key, places })) };
}

function selfRule({ path }: Line, reach: Millimetres): SelfRule {
  const closed = samePose(path.start, path.end, CLOSED_MM, CLOSED_RAD);
  return { apart: 2 * reach, round: closed ? path.length : Number.POSITIVE_INFINITY };
}

/** Height of b over a at distances along each; most tracks are level, and their heights need no looking up. */
function riseOf(a: Profile | undefined, b: Profile | undefined): (sa: Millimetres, sb: Millimetres) => Millimetres {
  if (!a || !b) return () => 0;
  const levelA = levelOf(a);
  const levelB = levelOf(b);
  if (levelA !== undefined && levelB !== undefined) return () => levelB - levelA;
  return (sa, sb) => (levelB ?? heightAt(b, sb)) - (levelA ?? heightAt(a, sa));
}

/** The one height of a profile that is level throughout. */
function levelOf({ heights, curves }: Profile): Millimetres | undefined {
  const height = heights[0];
  return curves.length === 0 && heights.every((h) => h === height) ? height : undefined;
}

/** The pair with the heights of now: itself where they are the same objects, its meetings where no rise changed. */
function withHeights(pair: Pair, profiles: ReadonlyMap<LineKey, Profile>): Pair {
  const heightsA = profiles.get(pair.a.key);
  const heightsB = profiles.get(pair.b.key);
  if (heightsA === pair.heightsA && heightsB === pair.heightsB) return pair;
  const rise = riseOf(heightsA, heightsB);
  const meetings = pair.meetings.map((meeting): Meeting => {
    if (meeting.places.every((p) => p.rise === rise(p.sa, p.sb))) return meeting;
    const places = meeting.places.map(({ sa, sb, apart }): NearPlace => ({ sa, sb, apart, rise: rise(sa, sb) }));
    return { a: meeting.a, b: meeting.b, places };
  });
  return { ...pair, heightsA, heightsB, meetings };
}
