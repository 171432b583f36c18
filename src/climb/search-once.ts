/** One search of one plan: lanes, turns and ways first, then heights and readings for each way worth showing. */
import { reversePose } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import { deriveLayout } from "../layout/derive.js";
import { anchoredEnd } from "../layout/joints.js";
import type { Layout } from "../layout/layout.js";
import { straightHeightAt } from "../layout/profile.js";
import { placeOfAnchor } from "../layout/trackwork-makers/building.js";
import type { Id, Plan } from "../plan/schema.js";
import { diagonals } from "./diagonals.js";
import { DIFFERENT, DIFFERENT_ALIKE, difference, type Occupancy, occupancyOf } from "./difference.js";
import { ExistingTrack } from "./existing-track.js";
import { findWays, type Way, type WaySearch, type WayTask } from "./find-ways.js";
import { climbGround } from "./ground.js";
import { climbHeights } from "./heights.js";
import { figuresOf, RouteJudge } from "./judge-route.js";
import { Lanes } from "./lanes.js";
import { climbLimits, runFor } from "./limits.js";
import { type ClimbEnd, type ClimbRequest, type ClimbRoute, type ClimbStep, isTurnoutPlace } from "./request.js";
import { routeEdit } from "./route-edit.js";
import { Turns } from "./turns.js";

/** Routes shown where the request does not say. */
const MOST_ROUTES = 6;
/** Ways held against the readings, at most; the cheapest first. */
const MOST_JUDGED = 60;

/** Routes that cost more than this beside the best are waste: bends and loops for their own sake. */
const wasteful = (best: number): number => 2 * best + 4;

interface End {
  readonly pose: { readonly x: number; readonly y: number; readonly heading: number };
  readonly height: Millimetres;
  readonly deck: Id;
}

/** Searches one plan; asks nothing about what would have to give. */
export interface PlainAnswer {
  readonly routes: readonly ClimbRoute[];
  readonly needed: Millimetres;
  readonly grade: number;
  readonly longest: Millimetres | undefined;
}

/** The search itself; stops at the first route where `first` says so. Undefined where it was refused. */
export function* searchOnce(
  plan: Plan,
  request: ClimbRequest,
  derived?: Layout,
  first = false,
): Generator<ClimbStep, PlainAnswer | undefined, void> {
  const layout = derived ?? deriveLayout(plan);
  const from = endOf(layout, request.from);
  const to = endOf(layout, request.to);
  if ("why" in from || "why" in to) {
    yield { kind: "refused", why: "why" in from ? `from: ${from.why}` : "why" in to ? `to: ${to.why}` : "" };
    return undefined;
  }
  const rise = to.height - from.height;
  if (!(rise > 0)) {
    yield { kind: "refused", why: "the upper end must be above the lower" };
    return undefined;
  }
  const limits = climbLimits(plan, request.class);
  const needed = runFor(limits, rise, limits.grade);
  const told: WaySearch = { looked: 0, longest: undefined, bound: Infinity, shortest: Infinity };
  const none = { routes: [], needed, grade: 100 * limits.grade, longest: undefined };
  if (!(limits.grade > 0)) return none;
  const ground = climbGround(layout, from.height, to.height, request.allow ?? [], limits);
  const lanes = new Lanes(ground, from.pose, reversePose(to.pose), limits);
  const turns = new Turns(ground, limits, rise);
  for (const a of lanes.all) {
    for (const b of lanes.all) turns.between(a, b);
    if (a.index % 8 === 7) yield { kind: "progress", stage: "turns", looked: a.index, found: turns.all.length };
  }
  for (const pose of diagonals(lanes.all, turns.all, ground, limits)) lanes.addBothWays(pose, true);
  for (const a of lanes.all) {
    for (const b of lanes.all) if (a.diagonal || b.diagonal) turns.between(a, b);
    if (a.index % 8 === 7) yield { kind: "progress", stage: "diagonals", looked: a.index, found: turns.all.length };
  }
  const existing = new ExistingTrack(layout, limits, [from.pose, to.pose], from.height, to.height);
  const { start, goal } = lanes;
  const task: WayTask = { start, goal, turns: turns.all, low: from.height, rise, limits, existing };
  const judge = new RouteJudge(layout);
  const deck = from.deck;
  const judged = new Map<Way, Judged | undefined>();
  const judgeWay = (way: Way): Judged | undefined => {
    if (judged.has(way)) return judged.get(way);
    const result = routeOf(layout, judge, request, deck, way, from.height, to.height, task);
    judged.set(way, result);
    return result;
  };
  const most = request.most ?? MOST_ROUTES;
  const ways: Way[] = [];
  const shown: Judged[] = [];
  for (const way of findWays(task, told)) {
    if (!way) {
      yield { kind: "progress", stage: "ways", looked: told.looked, found: ways.length };
      continue;
    }
    ways.push(way);
    if (shown.length >= most || judged.size >= MOST_JUDGED / 2 || !isOther(way, shown)) continue;
    const route = judgeWay(way);
    if (!route) continue;
    shown.push(route);
    told.bound = Math.min(told.bound, wasteful(route.way.cost));
    yield { kind: "route", route: route.route };
    if (first) return { ...none, routes: [route.route], longest: told.longest };
  }
  const chosen: Judged[] = [];
  for (const way of bestFirst(ways)) {
    if (chosen.length >= most || judged.size >= MOST_JUDGED) break;
    const route = isOther(way, chosen) ? judgeWay(way) : undefined;
    if (route) chosen.push(route);
  }
  for (const route of shown) if (chosen.length < most && isOther(route.way, chosen)) chosen.push(route);
  chosen.sort((a, b) => a.way.cost - b.way.cost);
  const bound = wasteful(chosen[0]?.way.cost ?? 0);
  const routes = chosen.filter(({ way }) => way.cost <= bound).map(({ route }) => route);
  return { ...none, routes, longest: told.longest };
}

/** Whether a way differs enough from all that are there. */
function isOther(way: Way, there: readonly Judged[]): boolean {
  const occupancy = occupancyOf(pointsOf(way));
  const family = familyOf(way);
  return there.every((other) => {
    const alike = familyOf(other.way) === family;
    return difference(other.occupancy, occupancy) >= (alike ? DIFFERENT_ALIKE : DIFFERENT);
  });
}

interface Judged {
  readonly way: Way;
  readonly route: ClimbRoute;
  readonly occupancy: Occupancy;
}

function routeOf(
  layout: Layout,
  judge: RouteJudge,
  request: ClimbRequest,
  deck: Id,
  way: Way,
  low: Millimetres,
  high: Millimetres,
  { limits, existing }: WayTask,
): Judged | undefined {
  const heights = climbHeights(way, low, high - low, limits, existing);
  if (!heights) return undefined;
  const laid = routeEdit(layout, request, deck, way, heights, { low, high });
  const { edit } = laid;
  if (!edit.ok) return undefined;
  const after = judge.judge(edit.plan, laid.track);
  if (typeof after === "string") return undefined;
  const figures = figuresOf(after, laid, way, high - low);
  const route: ClimbRoute = { track: laid.track, legs: laid.legs, edit, figures, cost: way.cost };
  return { way, route, occupancy: occupancyOf(pointsOf(way)) };
}

function* pointsOf({ elements }: Way): Generator<readonly [number, number]> {
  for (const { points } of elements)
    for (let i = 0; i < points.length; i += 2) yield [points[i] ?? 0, points[i + 1] ?? 0];
}

/** How much a way turns all in all, and how much to one side, in half circles. */
function familyOf(way: Way): string {
  const curves = way.turns.flatMap(({ parts }) => parts);
  const net = curves.reduce((sum, { hand, shape }) => sum + (hand === "left" ? 1 : -1) * shape.angle, 0);
  const all = curves.reduce((sum, { shape }) => sum + shape.angle, 0);
  return `${Math.round(net / Math.PI)} ${Math.round(all / Math.PI)}`;
}

/** The cheapest of each family first, then the second of each. */
function bestFirst(ways: readonly Way[]): Way[] {
  const rank = new Map<string, number>();
  return [...ways]
    .sort((a, b) => a.cost - b.cost)
    .map((way) => {
      const family = familyOf(way);
      const place = rank.get(family) ?? 0;
      rank.set(family, place + 1);
      return { way, place };
    })
    .sort((a, b) => a.place - b.place || a.way.cost - b.way.cost)
    .map(({ way }) => way);
}

/** Where a climb leaves an end, looking away from it, and its height. */
function endOf(layout: Layout, anchor: ClimbEnd): End | { readonly why: string } {
  if (isTurnoutPlace(anchor)) return { why: "it begins at the end of a track or of a turnout" };
  const place = placeOfAnchor(layout, anchor);
  if ("why" in place) return place;
  const end = anchoredEnd(anchor, layout);
  const line = end && layout.lines.get(end.line);
  const profile = end && layout.profiles.get(end.line);
  if (!line || !profile) return { why: "no track lies there" };
  const height = straightHeightAt(profile, end.end === "start" ? 0 : line.path.length);
  return { pose: place.pose, height, deck: line.deck };
}
