/**
 * Ends of track: those nothing is joined to, which of them lie so close that they were meant to be joined, and places
 * where too many come together.
 *
 * Always holds: while the network hangs together as it did, what of this follows from that alone is not asked again; ends are
 * held against one another anew only where their line or its heights changed.
 */
import { distance, type Pose, reversePose } from "../geometry/pose.js";
import { indexBoxes } from "../geometry/search.js";
import { changedKeys } from "../layout/changed-keys.js";
import type { Layout } from "../layout/layout.js";
import type { Line, LineKey } from "../layout/line.js";
import type { Network, NetworkEdge, NetworkNode, NodeKey } from "../layout/network.js";
import { heightOn } from "../layout/place-names.js";
import { type Carried, carry } from "./carry.js";
import { isLineEnd } from "./joined-ends.js";
import { type LineContexts, lineContexts } from "./line-context.js";

/** Ends nearer than this in plan, and as near in height, were surely meant to meet, mm. */
const CLOSE = 10;

/** Looking away from its line at one of its ends. */
export const poseOut = (line: Line, end: "start" | "end"): Pose =>
  end === "end" ? line.path.end : reversePose(line.path.start);
export const stationOf = (line: Line, end: "start" | "end"): number => (end === "end" ? line.path.length : 0);

/** What follows from how a network hangs together; edges by index. */
interface Ends {
  readonly loose: readonly { readonly line: LineKey; readonly end: "start" | "end" }[];
  readonly crowded: readonly { readonly node: NodeKey; readonly edge: number }[];
}

const known = new WeakMap<Network["nodes"], Ends>();

function endsOf(layout: Layout): Ends {
  const { network } = layout;
  let ends = known.get(network.nodes);
  if (!ends) known.set(network.nodes, (ends = { loose: looseEnds(network), crowded: findCrowded(layout) }));
  return ends;
}

/**
 * Only at points may several tracks go on from one: the routes that start there, or end there in a slip, and beside them
 * the host's own way, if any; and across a turntable.
 */
export const crowdedNodes = (layout: Layout): Ends["crowded"] => endsOf(layout).crowded;

function findCrowded({ network, turnouts }: Layout): Ends["crowded"] {
  const { nodes, edges } = network;
  const wyes = new Set(
    [...turnouts.values()].flatMap(({ hand, routes }) => (hand === "wye" ? routes : [])).map(({ line }) => line),
  );
  return [...nodes.values()].flatMap((node) => {
    if (node.kind === "turntable" || node.sides.every((side) => side.length < 2)) return [];
    const side = node.sides.find((own) => {
      const lines = own.flatMap((index) => edges[index] ?? []);
      const routes = lines.filter((edge) => isRoute(network, edge, node));
      const slips = lines.filter(({ line }) => line.startsWith("slip:"));
      const others = own.length - routes.length - slips.length;
      return others > (routes.some(({ line }) => wyes.has(line)) ? 0 : 1);
    });
    const edge = side?.[0];
    return edge === undefined ? [] : [{ node: node.key, edge }];
  });
}

/** Whether an edge is the beginning of a turnout's diverging route, at this node. */
const isRoute = (network: Network, edge: NetworkEdge, node: NetworkNode): boolean =>
  edge.line.startsWith("turnout:") && edge.a.node === node.key && isLineEnd(network, edge, "start");

function looseEnds(network: Network): Ends["loose"] {
  const loose: { line: LineKey; end: "start" | "end" }[] = [];
  for (const node of network.nodes.values()) {
    for (const side of [0, 1] as const) {
      if (node.sides[side].length > 0) continue;
      for (const index of node.sides[side === 0 ? 1 : 0]) {
        const edge = network.edges[index];
        if (!edge) continue;
        const atEnd = edge.b.node === node.key && edge.b.side !== side && isLineEnd(network, edge, "end");
        loose.push({ line: edge.line, end: atEnd ? "end" : "start" });
      }
    }
  }
  return loose;
}

export interface LooseEnd {
  readonly line: Line;
  readonly s: number;
  readonly pose: Pose;
  readonly height: number;
}

/** Two loose ends that were surely meant to meet. */
export interface CloseEnds {
  readonly a: LooseEnd;
  readonly b: LooseEnd;
  readonly apart: number;
}

interface Found {
  readonly contexts: LineContexts;
  readonly loose: Ends["loose"];
  readonly ends: readonly (LooseEnd | undefined)[];
  /** By the numbers of the two ends. */
  readonly close: readonly { readonly i: number; readonly j: number; readonly pair: CloseEnds }[];
}

/** More ends than this are held against all others by way of a tree. */
const FEW_ENDS = 24;

const closeEnds = carry((layout: Layout, last: Carried<Found> | undefined): Found => {
  const contexts = lineContexts(layout);
  const { loose } = endsOf(layout);
  const before = last?.value.loose === loose ? last.value : undefined;
  if (before?.contexts === contexts) return before;
  const changed = before && changedKeys(before.contexts, contexts);
  const anew = (i: number): boolean => !changed || changed.has(loose[i]?.line ?? "track:");
  const ends = loose.map(({ line: key, end }, i): LooseEnd | undefined => {
    if (!anew(i)) return before?.ends[i];
    const line = layout.lines.get(key);
    const s = line ? stationOf(line, end) : 0;
    return line && { line, s, pose: poseOut(line, end), height: heightOn(layout, key, s) };
  });
  const close = before?.close.filter(({ i, j }) => !anew(i) && !anew(j)) ?? [];
  const moved = ends.flatMap((_, i) => (anew(i) ? [i] : []));
  const offer = (i: number, j: number): void => {
    const [a, b] = [ends[Math.min(i, j)], ends[Math.max(i, j)]];
    // Of two ends that both moved the pair is told by the second.
    if (!a || !b || i === j || (anew(j) && j > i)) return;
    const apart = distance(a.pose, b.pose);
    if (apart <= CLOSE && Math.abs(a.height - b.height) <= CLOSE)
      close.push({ i: Math.min(i, j), j: Math.max(i, j), pair: { a, b, apart } });
  };
  const beside = besideOf(ends, moved.length);
  for (const i of moved) for (const j of beside(i)) offer(i, j);
  close.sort((p, q) => p.i - q.i || p.j - q.j);
  return { contexts, loose, ends, close };
});

/** Numbers of all ends that may lie close to one of them. */
function besideOf(ends: readonly (LooseEnd | undefined)[], asked: number): (i: number) => Iterable<number> {
  if (asked <= FEW_ENDS) return () => ends.keys();
  const index = indexBoxes(
    ends.flatMap((end) => {
      const { x, y } = end?.pose ?? { x: Number.NaN, y: Number.NaN };
      return [x - CLOSE, y - CLOSE, x + CLOSE, y + CLOSE];
    }),
  );
  return (i) => {
    const { x, y } = ends[i]?.pose ?? { x: Number.NaN, y: Number.NaN };
    return index.overlapping(x, y, x, y);
  };
}

/** Pairs of loose ends that lie close to one another, in the order of the network's nodes. */
export const endsTooClose = (layout: Layout): CloseEnds[] => closeEnds(layout).close.map(({ pair }) => pair);
