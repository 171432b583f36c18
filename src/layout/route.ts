/**
 * Routes over the network: the shortest way a train can run from one place to another without reversing.
 *
 * Always holds: stretches follow one another end to end; the lengths of the stretches add up to `length`; a route from
 * b to a is as long as one from a to b; a node is left on the side other than the one it was entered on.
 */
import FlatQueue from "flatqueue";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "./layout.js";
import type { LineKey, LinePlace } from "./line.js";
import type { Network, NetworkEdge } from "./network.js";
import { placesNamed } from "./place-names.js";

/** Part of a line run over; `from` is greater than `to` where it is run against the line's direction. */
export interface Stretch {
  readonly line: LineKey;
  readonly from: Millimetres;
  readonly to: Millimetres;
}

export interface Route {
  readonly stretches: readonly Stretch[];
  readonly length: Millimetres;
}

/** Places, or a name for them as `placesNamed` reads it. */
export type RouteEnd = string | readonly LinePlace[];

/** An edge run one way: forwards from its node a to its node b, or backwards. */
interface Run {
  readonly edge: NetworkEdge;
  readonly forwards: boolean;
  /** Where on the edge the run begins: its entry end, or a place the route starts from. */
  readonly begins: Millimetres;
  readonly cost: Millimetres;
  readonly before: Run | undefined;
  /** Where the route stops, for the last run. */
  readonly stops?: Millimetres;
}

const placesOf = (layout: Layout, end: RouteEnd): readonly LinePlace[] =>
  typeof end === "string" ? placesNamed(layout, end) : end;

/** Edges that hold a place: two where it lies on a node along its line. */
function edgesAt(layout: Layout, place: LinePlace): NetworkEdge[] {
  const edges = layout.network.byLine.get(place.line) ?? [];
  return edges.filter((edge) => edge.from <= place.s && place.s <= edge.to);
}

const partsOf = new WeakMap<Network["nodes"], Int32Array>();

/** Number of the connected part each edge is in, by its index: no route leads from one part to another. */
function connectedParts({ nodes, edges }: Network): Int32Array {
  const known = partsOf.get(nodes);
  if (known) return known;
  const parts = new Int32Array(edges.length).fill(-1);
  let part = 0;
  for (const { index: first } of edges) {
    if (parts[first] !== -1) continue;
    const ahead = [first];
    parts[first] = part;
    for (let index = ahead.pop(); index !== undefined; index = ahead.pop()) {
      const edge = edges[index];
      for (const end of edge ? [edge.a, edge.b] : [])
        for (const side of nodes.get(end.node)?.sides ?? [])
          for (const next of side) {
            if (parts[next] !== -1) continue;
            parts[next] = part;
            ahead.push(next);
          }
    }
    part++;
  }
  partsOf.set(nodes, parts);
  return parts;
}

/** An edge run one way, by number: twice its index, and one more where it is run from its node a to its node b. */
type EdgeWay = number;
const wayOf = (edge: NetworkEdge, forwards: boolean): EdgeWay => edge.index * 2 + (forwards ? 1 : 0);

const onwardOf = new WeakMap<Network["nodes"], readonly (readonly EdgeWay[])[]>();

/** The runs that may follow each: they leave the node it arrives at by the other side. */
function onwardWays({ nodes, edges }: Network): readonly (readonly EdgeWay[])[] {
  const known = onwardOf.get(nodes);
  if (known) return known;
  const after = ({ node, side }: NetworkEdge["a"]): EdgeWay[] => {
    const other = side === 0 ? 1 : 0;
    return [...new Set(nodes.get(node)?.sides[other] ?? [])].flatMap((index) => {
      const edge = edges[index];
      const ways: EdgeWay[] = [];
      if (edge?.a.node === node && edge.a.side === other) ways.push(wayOf(edge, true));
      if (edge?.b.node === node && edge.b.side === other) ways.push(wayOf(edge, false));
      return ways;
    });
  };
  const ways = edges.flatMap(({ a, b }) => [after(a), after(b)]);
  onwardOf.set(nodes, ways);
  return ways;
}

/**
 * The shortest route, or undefined where an end names nothing or no train can get there without reversing.
 * Either end may stand for several places; the nearest pair is taken. A route within one place has length 0.
 */
export function findRoute(layout: Layout, from: RouteEnd, to: RouteEnd): Route | undefined {
  const goals = new Map<number, Millimetres[]>();
  for (const place of placesOf(layout, to)) {
    for (const edge of edgesAt(layout, place)) {
      const own = goals.get(edge.index);
      if (own) own.push(place.s);
      else goals.set(edge.index, [place.s]);
    }
  }
  const parts = connectedParts(layout.network);
  const reachable = new Set([...goals.keys()].map((index) => parts[index]));
  const queue = new FlatQueue<Run>();
  const { edges } = layout.network;
  const onward = onwardWays(layout.network);
  const settled = new Uint8Array(2 * edges.length);
  const push = (run: Run) => {
    queue.push(run, run.cost);
    for (const goal of goals.get(run.edge.index) ?? []) {
      const ahead = run.forwards ? goal - run.begins : run.begins - goal;
      if (ahead >= 0) queue.push({ ...run, cost: run.cost + ahead, stops: goal }, run.cost + ahead);
    }
  };
  for (const place of placesOf(layout, from)) {
    for (const edge of edgesAt(layout, place)) {
      if (!reachable.has(parts[edge.index])) continue;
      for (const forwards of [true, false]) push({ edge, forwards, begins: place.s, cost: 0, before: undefined });
    }
  }
  for (let run = queue.pop(); run; run = queue.pop()) {
    if (run.stops !== undefined) return traced(run);
    const { edge, forwards } = run;
    const entered = run.begins === (forwards ? edge.from : edge.to);
    const state = wayOf(edge, forwards);
    if (entered && settled[state] === 1) continue;
    if (entered) settled[state] = 1;
    const cost = run.cost + Math.abs((forwards ? edge.to : edge.from) - run.begins);
    for (const way of onward[state] ?? []) {
      const next = edges[way >> 1];
      if (!next || settled[way] === 1) continue;
      const onwards = way % 2 === 1;
      push({ edge: next, forwards: onwards, begins: onwards ? next.from : next.to, cost, before: run });
    }
  }
  return undefined;
}

function traced(last: Run): Route {
  const stretches: Stretch[] = [];
  for (let run: Run | undefined = last; run; run = run.before) {
    const { edge, forwards } = run;
    const to = run.stops ?? (forwards ? edge.to : edge.from);
    const next = stretches[0];
    const follows = next && next.line === edge.line && next.from === to && sameWay(next, forwards);
    if (follows) stretches[0] = { line: edge.line, from: run.begins, to: next.to };
    else if (run.begins !== to || (!run.before && stretches.length === 0))
      stretches.unshift({ line: edge.line, from: run.begins, to });
  }
  return { stretches, length: last.cost };
}

const sameWay = (stretch: Stretch, forwards: boolean): boolean =>
  stretch.from === stretch.to || stretch.to > stretch.from === forwards;

export const stretchLength = (stretch: Stretch): Millimetres => Math.abs(stretch.to - stretch.from);

/** The place `distance` along a route, taken into it; undefined for a route of no stretches. */
export function routePlaceAt(route: Route, distance: Millimetres): LinePlace | undefined {
  let begin = 0;
  let found: LinePlace | undefined;
  for (const stretch of route.stretches) {
    const way = stretch.to >= stretch.from ? 1 : -1;
    const within = Math.min(Math.max(distance - begin, 0), stretchLength(stretch));
    found = { line: stretch.line, s: stretch.from + way * within };
    begin += stretchLength(stretch);
    if (distance <= begin) break;
  }
  return found;
}
