/**
 * Curves that face each other along the track: the next curve from the end of each, within a line, across joints, and
 * from a turnout's or slip's route back through its points; and whether two of them need a straight between.
 *
 * Always holds: a pair is told once; both look the same way through the straight between them.
 */
import { limitsOf } from "../plan/class-limits.js";
import { curvatureAt } from "../geometry/path.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import { changedKeys } from "../layout/changed-keys.js";
import type { Line, LineKey } from "../layout/line.js";
import type { Plan } from "../plan/schema.js";
import { type Carried, carry } from "./carry.js";
import { type CurveRun, curveRuns } from "./curve-runs.js";
import { joinedEnds } from "./joined-ends.js";
import { type LineContexts, lineContexts } from "./line-context.js";

/** Easings shorter than they must be are for the easement reading; here only a curvature met at once counts. */
const EASED = 1e-6;
/** Half a per cent of the least radius is the rounding of radii typed in fractions of an inch. */
const ROUNDED = 1.005;
/** A place this near the end of a curve is at its end, mm. */
const AT_END = 1e-6;
/** Lines followed past their far end before a curve must have come; more straight pieces in a row are enough straight. */
const MOST_HOPS = 8;

/** A place on a line and the way one looks from it: 1 along the line, -1 back. */
interface Lookout {
  readonly line: Line;
  readonly s: number;
  readonly way: 1 | -1;
}

/** One of two curves that face each other: where its straight begins, and what curvature is met at once there. */
export interface Facing extends Lookout {
  readonly hand: 1 | -1;
  readonly jump: number;
}

type Consider = (a: Facing, b: Facing, straight: number) => void;

/** Two curves of opposite hand that need a straight between, and the one that says how much. */
export interface Reversal {
  readonly a: Facing;
  readonly b: Facing;
  readonly asks: Facing;
  readonly straight: Millimetres;
}

interface FoundOnLine {
  readonly reversals: readonly Reversal[];
  /** The lines followed to find them. */
  readonly followed: readonly LineKey[];
}

interface Found {
  readonly contexts: LineContexts;
  readonly standards: Plan["standards"];
  readonly byLine: ReadonlyMap<LineKey, FoundOnLine>;
  readonly all: readonly Reversal[];
}

/**
 * Every pair that needs a straight, as far apart as the class's straight is long; the same list while nothing changes. Lines from
 * which nothing that changed was followed are not followed again.
 */
export const reversals = (layout: Layout): readonly Reversal[] => found(layout).all;

const found = carry((layout: Layout, last: Carried<Found> | undefined): Found => {
  const { standards } = layout.plan;
  const contexts = lineContexts(layout);
  const sameWays = last?.layout.network.nodes === layout.network.nodes && last.value.standards === standards;
  const before = sameWays ? last.value : undefined;
  if (before?.contexts === contexts) return before;
  const changed = before && changedKeys(before.contexts, contexts);
  const byLine = new Map<LineKey, FoundOnLine>();
  for (const line of layout.lines.values()) {
    const known = changed && before?.byLine.get(line.key);
    const stays = known && !changed.has(line.key) && !known.followed.some((key) => changed.has(key));
    byLine.set(line.key, stays ? known : reversalsFrom(layout, line));
  }
  const all: Reversal[] = [];
  for (const { reversals: own } of byLine.values()) for (const reversal of own) all.push(reversal);
  return { contexts, standards, byLine, all };
});

function reversalsFrom(layout: Layout, line: Line): FoundOnLine {
  const runs = curveRuns(line);
  const [first, last] = [runs[0], runs.at(-1)];
  if (!first || !last) return NOTHING_FOUND;
  const { plan } = layout;
  const own: Reversal[] = [];
  const followed: LineKey[] = [];
  const consider: Consider = (a, b, straight) => {
    const asks = needsStraight(plan, a, b);
    if (asks) own.push({ a, b, asks, straight });
  };
  runs.forEach((run, i) => {
    const next = runs[i + 1];
    if (next) consider(endOf(line, run), startOf(line, next, 1), next.from - run.to);
  });
  acrossEnd(plan, layout, startOf(line, first, -1), consider, followed);
  acrossEnd(plan, layout, endOf(line, last), consider, followed);
  return { reversals: own, followed };
}

const NOTHING_FOUND: FoundOnLine = { reversals: [], followed: [] };

const endOf = (line: Line, run: CurveRun): Facing => ({ line, s: run.to, way: 1, hand: run.hand, jump: run.endJump });
export const startOf = (line: Line, run: CurveRun, way: 1 | -1): Facing => ({
  line,
  s: run.from,
  way,
  hand: run.hand,
  jump: run.startJump,
});

/**
 * Which of two curves facing each other says how much straight they need: that of the lesser class; undefined where they
 * need none.
 */
export function needsStraight(plan: Plan, a: Facing, b: Facing): Facing | undefined {
  if (a.hand * a.way === b.hand * b.way) return undefined;
  if (a.jump < EASED && b.jump < EASED) return undefined;
  const asked = ({ line }: Facing): number => limitsOf(plan, line.class).reverseStraight.value;
  const lesser = asked(a) <= asked(b) ? a : b;
  return a.jump + b.jump <= ROUNDED / limitsOf(plan, lesser.line.class).radius.value ? undefined : lesser;
}

/** Follows the track past an end of a line to the next curve, as far as the class's straight is long. */
function acrossEnd(plan: Plan, layout: Layout, curve: Facing, consider: Consider, followed: LineKey[]): void {
  const limit = limitsOf(plan, curve.line.class).reverseStraight.value;
  const walk = (from: Lookout, straight: number, hops: number, throughPoints: boolean): void => {
    const end = from.way === 1 ? from.line.path.length : 0;
    const gone = straight + Math.abs(end - from.s);
    if (gone >= limit || hops > MOST_HOPS) return;
    for (const { place, points } of placesBeyond(layout, from.line, from.way === 1 ? "end" : "start")) {
      const through = throughPoints || points;
      followed.push(place.line.key);
      const next = curveAhead(place);
      if (!next) walk(place, gone, hops + 1, through);
      // From either side the same is found, but through points only from the diverging route.
      else if (through || told(curve, next.curve)) consider(curve, next.curve, gone + next.straight);
    }
  };
  walk(curve, 0, 0, false);
}

const told = (a: Facing, b: Facing): boolean => (a.line === b.line ? a.way === 1 : a.line.key < b.line.key);

/** Where one comes out past an end of a line; from a turnout's route through its points onto the host. */
function placesBeyond(
  layout: Layout,
  line: Line,
  end: "start" | "end",
): { readonly place: Lookout; readonly points: boolean }[] {
  const turnout = line.kind === "turnout" && end === "start" ? layout.turnouts.get(line.id) : undefined;
  if (turnout) {
    const host = layout.lines.get(turnout.host);
    const way = turnout.direction === 1 ? -1 : 1;
    return host ? [{ place: { line: host, s: turnout.departs, way }, points: true }] : [];
  }
  const slip = line.kind === "slip" ? layout.slips.get(line.id)?.routes.find((r) => r.line === line.key) : undefined;
  if (slip) {
    const host = layout.lines.get(slip[end].line);
    const way = end === "end" ? slip.endWay : slip.startWay === 1 ? -1 : 1;
    return host ? [{ place: { line: host, s: slip[end].s, way }, points: true }] : [];
  }
  return joinedEnds(layout, line).flatMap(({ end: at, other, otherEnd }) => {
    if (at !== end || (other.kind === "turnout" && otherEnd === "start")) return [];
    const place: Lookout =
      otherEnd === "start" ? { line: other, s: 0, way: 1 } : { line: other, s: other.path.length, way: -1 };
    return [{ place, points: false }];
  });
}

/** The next curve of a line as one looks along it, and the straight before it. */
function curveAhead({ line, s, way }: Lookout): { readonly curve: Facing; readonly straight: number } | undefined {
  const runs = curveRuns(line);
  const run = way === 1 ? runs.find((r) => r.to > s + AT_END) : runs.findLast((r) => r.from < s - AT_END);
  if (!run) return undefined;
  const within = way === 1 ? run.from < s - AT_END : run.to > s + AT_END;
  if (within) {
    const jump = Math.abs(curvatureAt(line.path, s - way * AT_END));
    return { curve: { line, s, way, hand: run.hand, jump }, straight: 0 };
  }
  const at = way === 1 ? run.from : run.to;
  const jump = way === 1 ? run.startJump : run.endJump;
  return { curve: { line, s: at, way, hand: run.hand, jump }, straight: Math.abs(at - s) };
}
