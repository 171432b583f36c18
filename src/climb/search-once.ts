/** One search of a prepared plan: ways first, then heights and readings for each way worth showing. */
import type { Layout } from "../layout/layout.js";
import { areTwo, occupancyOf, type RouteShape } from "./difference.js";
import type { PlacedEnd } from "./ends.js";
import { figuresOf } from "./figures.js";
import { findWays, type Way, type WaySearch, type WayTask } from "./find-ways.js";
import { climbHeights } from "./heights.js";
import type { RouteJudge } from "./judge-route.js";
import type { Lane } from "./lanes.js";
import type { ClimbLimits } from "./limits.js";
import type { Ends, Prepared } from "./prepare.js";
import type { ClimbRequest, ClimbRoute, ClimbStep } from "./request.js";
import { routeEdit } from "./route-edit.js";
import type { Rise } from "./task.js";

/** Routes shown where the request does not say. */
const MOST_ROUTES = 6;
/** Ways held against the readings, at most; the cheapest first. */
const MOST_JUDGED = 60;

/** Ways kept at one place, first and then. */
const BREADTHS = [1, 4];

/** Routes that cost more than this beside the best are waste: bends and loops for their own sake. */
const wasteful = (best: number): number => 2 * best + 4;

export interface PlainAnswer {
  readonly routes: readonly ClimbRoute[];
  /** Longest way found that keeps clear of itself. */
  readonly longest: number | undefined;
}

/** What is searched, and with what. */
export interface Search {
  readonly layout: Layout;
  readonly judge: RouteJudge;
  readonly request: ClimbRequest;
  readonly ends: Ends;
  /** Limits of the class. */
  readonly limits: ClimbLimits;
  /** One for each least radius worth searching with. */
  readonly passes: readonly Pass[];
}

export interface Pass {
  readonly limits: ClimbLimits;
  readonly prepared: Prepared;
}

/** Ends at the first route where `first` says so. */
export function* searchOnce(search: Search, first = false): Generator<ClimbStep, PlainAnswer, void> {
  const { request, ends } = search;
  const low = Math.max(...ends.from.map(({ height }) => height));
  const level = request.level?.length ?? 0;
  const told: WaySearch = { looked: 0, longest: undefined, bound: Infinity, shortest: Infinity };
  const judged = new Map<Way, Judged | undefined>();
  const most = request.most ?? MOST_ROUTES;
  const ways: Found[] = [];
  const shown: Judged[] = [];
  const judgeWay = (found: Found): Judged | undefined => {
    if (judged.has(found.way)) return judged.get(found.way);
    const result = routeOf(search, found);
    judged.set(found.way, result);
    return result;
  };
  // A narrow look finds the first routes soon; what they cost then bounds the broad one.
  for (const [breadth, pass] of BREADTHS.flatMap((n) => search.passes.map((p) => [n, p] as const))) {
    const { lanes, turns, helices, existing } = pass.prepared;
    const { starts, goals } = lanes;
    const riseOf = (start: Lane, goal: Lane): Rise => {
      const [from, to] = endsOf(ends, pass, start, goal);
      return { low: from.height, rise: to.height - from.height, rooms: [from.room, to.room], level };
    };
    const all = [...turns, ...helices];
    const task: WayTask = { starts, goals, turns: all, low, riseOf, limits: pass.limits, existing };
    for (const way of findWays(task, told, breadth)) {
      if (!way) {
        yield { kind: "progress", stage: "ways", looked: told.looked, found: ways.length };
        continue;
      }
      const found = { way, pass, rise: riseOf(way.start, way.goal) };
      ways.push(found);
      if (shown.length >= most || judged.size >= MOST_JUDGED / 2 || !isOther(way, shown)) continue;
      const route = judgeWay(found);
      if (!route) continue;
      shown.push(route);
      told.bound = Math.min(told.bound, wasteful(route.way.cost));
      yield { kind: "route", route: route.route };
      if (first) return { routes: [route.route], longest: told.longest };
    }
  }
  const chosen: Judged[] = [];
  for (const found of bestFirst(ways)) {
    if (chosen.length >= most || judged.size >= MOST_JUDGED) break;
    const route = isOther(found.way, chosen) ? judgeWay(found) : undefined;
    if (route) chosen.push(route);
    yield { kind: "progress", stage: "readings", looked: judged.size, found: chosen.length };
  }
  for (const route of shown) if (chosen.length < most && isOther(route.way, chosen)) chosen.push(route);
  chosen.sort((a, b) => a.way.cost - b.way.cost);
  const bound = wasteful(chosen[0]?.way.cost ?? 0);
  const routes = chosen.filter(({ way }) => way.cost <= bound).map(({ route }) => route);
  return { routes, longest: told.longest };
}

interface Found {
  readonly way: Way;
  readonly pass: Pass;
  readonly rise: Rise;
}

/** The ends whose lanes a way leads from and to. */
function endsOf(
  { from, to }: Ends,
  { prepared: { lanes } }: Pass,
  start: Lane,
  goal: Lane,
): readonly [PlacedEnd, PlacedEnd] {
  const foot = from[lanes.starts.indexOf(start)];
  const head = to[lanes.goals.indexOf(goal)];
  if (!foot || !head) throw new Error("a way leads from a start to a goal");
  return [foot, head];
}

/** Whether a way differs enough from all that are there. */
function isOther(way: Way, there: readonly Judged[]): boolean {
  if (there.length === 0) return true;
  const shape = shapeOf(way);
  return there.every((other) => areTwo(shapeOf(other.way), shape));
}

interface Judged {
  readonly way: Way;
  readonly route: ClimbRoute;
}

/** The route a way makes with the gentlest heights that pass all readings; undefined where none do. */
function routeOf({ layout, judge, request, ends }: Search, { way, pass, rise }: Found): Judged | undefined {
  for (const heights of climbHeights(way, rise, pass.limits, pass.prepared.existing)) {
    const laid = routeEdit(layout, request, endsOf(ends, pass, way.start, way.goal), way, heights);
    const { edit } = laid;
    if (!edit.ok) continue;
    const after = judge.judge(edit.plan, laid.track);
    if ("fails" in after) continue;
    const figures = figuresOf(after.layout, laid, way, rise.rise, heights, request);
    const route: ClimbRoute = { track: laid.track, legs: laid.legs, edit, figures, cost: way.cost };
    return { way, route };
  }
  return undefined;
}

function* pointsOf({ elements }: Way): Generator<readonly [number, number]> {
  for (const { points } of elements)
    for (let i = 0; i < points.length; i += 2) yield [points[i] ?? 0, points[i + 1] ?? 0];
}

const shapes = new WeakMap<Way, RouteShape>();

/** Its shape, measured once: a way is held against others again and again. */
function shapeOf(way: Way): RouteShape {
  let shape = shapes.get(way);
  if (!shape) shapes.set(way, (shape = { occupancy: occupancyOf(pointsOf(way)), ...turningOf(way) }));
  return shape;
}

function turningOf(way: Way): Pick<RouteShape, "net" | "all"> {
  const curves = way.turns.flatMap(({ parts }) => parts);
  const net = curves.reduce((sum, { hand, shape }) => sum + (hand === "left" ? 1 : -1) * shape.angle, 0);
  const all = curves.reduce((sum, { shape }) => sum + shape.angle, 0);
  return { net, all };
}

/** Ways that turn alike, in half circles to one side and all in all. */
function familyOf(way: Way): string {
  const { net, all } = turningOf(way);
  return `${Math.round(net / Math.PI)} ${Math.round(all / Math.PI)}`;
}

/** The cheapest of each family first, then the second of each. */
function bestFirst(ways: readonly Found[]): Found[] {
  const rank = new Map<string, number>();
  return [...ways]
    .sort((a, b) => a.way.cost - b.way.cost)
    .map((found) => {
      const family = familyOf(found.way);
      const place = rank.get(family) ?? 0;
      rank.set(family, place + 1);
      return { found, place };
    })
    .sort((a, b) => a.place - b.place || a.found.way.cost - b.found.way.cost)
    .map(({ found }) => found);
}
