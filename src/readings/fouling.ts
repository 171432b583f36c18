/**
 * Where lines lie close because they belong together: to both sides of a joint, and from a turnout's points on, as long
 * as its routes draw apart. Spacing is not asked there; where they have ceased to part, it is.
 */
import { limitsOf } from "../plan/class-limits.js";
import { type Millimetres, positiveAngle } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Line, LineKey } from "../layout/line.js";
import type { Meeting } from "../layout/meetings.js";
import type { NetworkEdge, NetworkNode, NodeKey } from "../layout/network.js";
import { sameItems } from "./remember.js";

/** Part of a line within reach of a node along the track. */
interface Zone {
  /** Whether lines must draw apart here to belong together: away from points, but not within the turnout or at a joint. */
  readonly parting: boolean;
  readonly from: Millimetres;
  readonly to: Millimetres;
  /** Which way along the line leads away from the node. */
  readonly away: 1 | -1;
}

export type ZonesOfLine = ReadonlyMap<NodeKey, readonly Zone[]>;
export type Zones = ReadonlyMap<LineKey, ZonesOfLine>;

/** Stalls nearer to one another, radians (1 degree), are followed no farther. */
const LEAST_STALL = Math.PI / 180;
/** From one end of a slip over its curve and back to the other end of that track: four tangents, and a little. */
const WITHIN_SLIP = 4.2;

/** Zones of two lines round one node. */
export interface ZonePair {
  readonly a: Zone;
  readonly b: Zone;
}

/** Routes that come to be worth more than this more, mm, further on are still parting; distances are no better known. */
const MORE: Millimetres = 0.1;
/** Where a line ends before that can be seen, routes that gain less than this run beside one another. */
const PARTING = 1 / 100;
/** Heights and distances typed to a tenth of a millimetre. */
const SLACK: Millimetres = 0.1;

/**
 * Zones round every joint, `near` mm along the track, and round points as far as the routes may take to part by `near`:
 * the turnout itself, N times the spacing at the frog number, and the curve that turns the branch parallel.
 */
export function foulingZones(layout: Layout, near: Millimetres): Zones {
  const { plan, network, turnouts, slips, turntables } = layout;
  const asked = [near, network, turnouts, slips, turntables, plan.standards] as const;
  const before = lastAsked.get(network.nodes);
  if (before && sameItems(before.asked, asked)) return before.zones;
  const zones = zonesRound(layout, near);
  lastAsked.set(network.nodes, { asked, zones });
  return zones;
}

const lastAsked = new WeakMap<
  Layout["network"]["nodes"],
  { readonly asked: readonly unknown[]; readonly zones: Zones }
>();

function zonesRound(layout: Layout, near: Millimetres): Zones {
  const { nodes } = layout.network;
  const pointsReach = turnoutReaches(layout, near);
  const rounds: Round[] = [];
  const pits = pitReaches(layout, near);
  const slips = slipReaches(layout);
  const before = allRounds.get(nodes);
  const changed = before && changedEdges(before.edges, layout.network.edges);
  let n = 0;
  for (const node of nodes.values()) {
    const reach = pointsReach.get(node.key);
    const slip = slips.get(node.key);
    const pit = pits.get(node.key);
    const round = (far: Millimetres, points: boolean): void => {
      const last = before?.rounds[n++];
      const stays = changed && last?.node === node && last.reach === far && last.points === points;
      rounds.push(stays && !last.edges.some(({ index }) => changed[index]) ? last : roundOf(layout, node, far, points));
    };
    if (reach !== undefined) round(reach, true);
    else if (slip !== undefined) round(slip, false);
    else if (pit !== undefined) round(pit, true);
    else if (node.kind === "joint") round(near, false);
  }
  const { edges } = layout.network;
  if (before && sameItems(before.rounds, rounds)) {
    allRounds.set(nodes, { ...before, edges });
    return before.zones;
  }
  const aligned =
    before?.rounds.length === rounds.length && before.rounds.every(({ node }, i) => node === rounds[i]?.node);
  const next = before && aligned ? regathered(layout, before, rounds) : gathered(layout, rounds);
  allRounds.set(nodes, next);
  return next.zones;
}

/** By index, whether an edge is not the object it was; undefined where there are others. */
function changedEdges(before: readonly NetworkEdge[], after: readonly NetworkEdge[]): readonly boolean[] | undefined {
  return before.length === after.length ? after.map((edge, i) => edge !== before[i]) : undefined;
}

/** What is known of a whole layout: what lies round its nodes, in their order, and by line. */
interface Gathered {
  readonly edges: readonly NetworkEdge[];
  readonly rounds: readonly Round[];
  readonly byLine: ReadonlyMap<LineKey, ReadonlySet<Round>>;
  readonly zones: Zones;
}

function gathered(layout: Layout, rounds: readonly Round[]): Gathered {
  const byLine = new Map<LineKey, Set<Round>>();
  for (const round of rounds) for (const { line } of round.found) add(byLine, line, round);
  const zones = new Map<LineKey, ZonesOfLine>();
  for (const [key, own] of byLine) setZones(layout, zones, key, own);
  return { edges: layout.network.edges, rounds, byLine, zones };
}

/** The same from the one before, whose nodes are the same: only lines near a node round which something changed. */
function regathered(layout: Layout, last: Gathered, rounds: readonly Round[]): Gathered {
  const byLine = new Map(last.byLine);
  const touched = new Map<LineKey, Set<Round>>();
  const own = (line: LineKey): Set<Round> => {
    let set = touched.get(line);
    if (!set) {
      set = new Set(byLine.get(line));
      touched.set(line, set);
      byLine.set(line, set);
    }
    return set;
  };
  rounds.forEach((round, i) => {
    const before = last.rounds[i];
    if (before === round) return;
    for (const { line } of before?.found ?? []) if (before) own(line).delete(before);
    for (const { line } of round.found) own(line).add(round);
  });
  const zones = new Map(last.zones);
  for (const [key, set] of touched) setZones(layout, zones, key, set);
  return { edges: layout.network.edges, rounds, byLine, zones };
}

function add(byLine: Map<LineKey, Set<Round>>, line: LineKey, round: Round): void {
  const own = byLine.get(line);
  if (own) own.add(round);
  else byLine.set(line, new Set([round]));
}

function setZones(layout: Layout, zones: Map<LineKey, ZonesOfLine>, key: LineKey, rounds: ReadonlySet<Round>): void {
  const line = layout.lines.get(key);
  if (!line) return;
  const own = new Map<NodeKey, Zone[]>();
  for (const { node, found } of rounds)
    for (const { line: on, zone } of found) if (on === key) addZone(own, node.key, zone);
  zones.set(key, kept(line, own));
}

/** What lies within reach of a node along the track; the same as long as its edges stay. */
interface Round {
  readonly node: NetworkNode;
  readonly reach: Millimetres;
  readonly points: boolean;
  /** Edges that were followed to find it. */
  readonly edges: readonly NetworkEdge[];
  readonly found: readonly { readonly line: LineKey; readonly zone: Zone }[];
}

const roundNode = new WeakMap<NetworkNode, Round>();
/** Of the layout before, by its nodes, which stay the same object while the network hangs together as it did. */
const allRounds = new WeakMap<Layout["network"]["nodes"], Gathered>();

function roundOf(layout: Layout, node: NetworkNode, reach: Millimetres, points: boolean): Round {
  const last = roundNode.get(node);
  const { edges } = layout.network;
  if (last?.reach === reach && last.points === points && last.edges.every((edge) => edges[edge.index] === edge))
    return last;
  const round = { node, reach, points, ...spread(layout, node, reach, points) };
  roundNode.set(node, round);
  return round;
}

/** Pairs of zones of two lines that lie round one node and are met with. */
export function zonePairs(
  ofA: ZonesOfLine | undefined,
  ofB: ZonesOfLine | undefined,
  { places }: Meeting,
): readonly ZonePair[] {
  if (!ofA || !ofB) return NONE;
  const first = (places[0]?.sa ?? 0) - SLACK;
  const last = (places.at(-1)?.sa ?? 0) + SLACK;
  const pairs: ZonePair[] = [];
  for (const [node, own] of ofA) {
    const others = ofB.get(node);
    if (!others) continue;
    for (const a of own) if (a.from <= last && a.to >= first) for (const b of others) pairs.push({ a, b });
  }
  return pairs;
}

const NONE: readonly never[] = [];

/** The zones a line had in the layout before, so that they stay the same object while they are the same. */
const before = new WeakMap<Line, ZonesOfLine>();

function kept(line: Line, zones: ZonesOfLine): ZonesOfLine {
  const last = before.get(line);
  if (last && sameZones(last, zones)) return last;
  before.set(line, zones);
  return zones;
}

function sameZones(p: ZonesOfLine, q: ZonesOfLine): boolean {
  if (p.size !== q.size) return false;
  for (const [node, own] of p) {
    const other = q.get(node);
    if (own.length !== other?.length || !own.every((zone, i) => sameZone(zone, other[i]))) return false;
  }
  return true;
}

const sameZone = (p: Zone, q: Zone | undefined): boolean =>
  p.from === q?.from && p.to === q.to && p.away === q.away && p.parting === q.parting;

/** A meeting with what its spacing is worth place by place, and the length of its second line. */
export interface WorthOfMeeting {
  readonly places: Meeting["places"];
  readonly worths: Float64Array;
  readonly length: Millimetres;
}

/**
 * Whether place i of a meeting is close because its lines part at a joint or points there. Routes are parting as long as
 * their spacing is worth more within `ahead` mm further on, about a car's length: a car's throw fades out so far beyond
 * the curve.
 */
export function belongsTogether(
  meeting: WorthOfMeeting,
  i: number,
  ahead: Millimetres,
  pairs: readonly ZonePair[],
): boolean {
  const place = meeting.places[i];
  if (!place) return false;
  return pairs.some(({ a, b }) => {
    if (place.sa < a.from - SLACK || place.sa > a.to + SLACK) return false;
    if (place.sb < b.from - SLACK || place.sb > b.to + SLACK) return false;
    return (!a.parting && !b.parting) || parting(meeting, i, ahead, a.away);
  });
}

/** Whether the lines draw apart at place i as one goes on in the order of places (1) or against it (-1). */
function parting(meeting: WorthOfMeeting, i: number, ahead: Millimetres, away: 1 | -1): boolean {
  const { places, worths } = meeting;
  const here = places[i]?.sa ?? 0;
  for (let j = i + away; isBeside(meeting, j); j += away) {
    if (Math.abs((places[j]?.sa ?? 0) - here) > ahead) return false;
    if ((worths[j] ?? 0) > (worths[i] ?? 0) + MORE) return true;
  }
  const [from, to] = isBeside(meeting, i + away) || !places[i - away] ? [i, i + away] : [i - away, i];
  const step = Math.abs((places[to]?.sa ?? 0) - (places[from]?.sa ?? 0));
  return (worths[to] ?? 0) - (worths[from] ?? 0) > PARTING * step;
}

/** Whether there is a place j, and the second line does not end there: beyond its end it seems to draw away. */
function isBeside({ places, length }: WorthOfMeeting, j: number): boolean {
  const place = places[j];
  return place !== undefined && place.sb !== 0 && place.sb !== length;
}

function turnoutReaches(layout: Layout, near: Millimetres): Map<NodeKey, Millimetres> {
  const reaches = new Map<NodeKey, Millimetres>();
  for (const turnout of layout.turnouts.values()) {
    const route = turnout.routes[0];
    const line = route && layout.lines.get(route.line);
    const first = line && layout.network.byLine.get(line.key)?.[0];
    if (!first) continue;
    const curve = limitsOf(layout.plan, line.class).radius.value * turnout.angle;
    const reach = line.path.length + turnout.number * near + curve;
    reaches.set(first.a.node, Math.max(reach, reaches.get(first.a.node) ?? 0));
  }
  return reaches;
}

/** Round a turntable, as far as its two nearest stalls may take to part by `near` where they lead straight on. */
function pitReaches(layout: Layout, near: Millimetres): Map<NodeKey, Millimetres> {
  const reaches = new Map<NodeKey, Millimetres>();
  for (const { approach, pose, stalls } of layout.turntables.values()) {
    const edges = layout.network.byLine.get(approach.line);
    const end = approach.end === "start" ? edges?.[0]?.a : edges?.at(-1)?.b;
    const angles = [Math.PI, ...stalls.map((stall) => positiveAngle(stall.heading - pose.heading))].sort(
      (a, b) => a - b,
    );
    const gaps = angles.map((angle, i) => (angles[i + 1] ?? (angles[0] ?? 0) + 2 * Math.PI) - angle);
    const least = Math.max(LEAST_STALL, Math.min(...gaps));
    if (end) reaches.set(end.node, near / (2 * Math.sin(least / 2)));
  }
  return reaches;
}

/** Round one end of a slip, as far as its other ends: everything within the crossing lies close to everything. */
function slipReaches(layout: Layout): Map<NodeKey, Millimetres> {
  const reaches = new Map<NodeKey, Millimetres>();
  for (const { routes, tangent } of layout.slips.values()) {
    for (const { line } of routes) {
      const first = layout.network.byLine.get(line)?.[0];
      if (first) reaches.set(first.a.node, WITHIN_SLIP * tangent);
    }
  }
  return reaches;
}

/** Everything within `reach` of a node along the track, whichever way. */
function spread(
  { network }: Layout,
  node: NetworkNode,
  reach: Millimetres,
  points: boolean,
): Pick<Round, "edges" | "found"> {
  const edges: NetworkEdge[] = [];
  const found: { line: LineKey; zone: Zone }[] = [];
  const reached = new Map<NodeKey, Millimetres>([[node.key, reach]]);
  const done = new Set<NodeKey>();
  for (let next = farthestReach(reached, done); next; next = farthestReach(reached, done)) {
    const [key, left] = next;
    done.add(key);
    // Stalls part from the pit on; a turnout's routes only behind it.
    const parting = points && (key !== node.key || node.kind === "turntable");
    for (const side of network.nodes.get(key)?.sides ?? []) {
      for (const index of side) {
        const edge = network.edges[index];
        if (!edge) continue;
        edges.push(edge);
        const length = Math.min(left, edge.length);
        for (const away of [1, -1] as const) {
          const [near, far] = away === 1 ? [edge.a, edge.b] : [edge.b, edge.a];
          if (near.node !== key) continue;
          const [from, to] = away === 1 ? [edge.from, edge.from + length] : [edge.to - length, edge.to];
          found.push({ line: edge.line, zone: { parting, away, from, to } });
          const beyond = left - edge.length;
          if (beyond > 0 && beyond > (reached.get(far.node) ?? 0)) reached.set(far.node, beyond);
        }
      }
    }
  }
  return { edges, found };
}

/** Of the nodes that are reached and not done, the one from which most is left to go. */
function farthestReach(
  reached: ReadonlyMap<NodeKey, Millimetres>,
  done: ReadonlySet<NodeKey>,
): readonly [NodeKey, Millimetres] | undefined {
  let best: readonly [NodeKey, Millimetres] | undefined;
  for (const entry of reached) if (!done.has(entry[0]) && !(best && best[1] >= entry[1])) best = entry;
  return best;
}

function addZone(ofLine: Map<NodeKey, Zone[]>, node: NodeKey, zone: Zone): void {
  const own = ofLine.get(node);
  const touching = own?.findIndex(
    (z) => z.parting === zone.parting && z.away === zone.away && z.from <= zone.to && zone.from <= z.to,
  );
  if (!own) ofLine.set(node, [zone]);
  else if (touching === undefined || touching < 0) own.push(zone);
  else {
    const other = own[touching] ?? zone;
    own[touching] = { ...zone, from: Math.min(zone.from, other.from), to: Math.max(zone.to, other.to) };
  }
}
