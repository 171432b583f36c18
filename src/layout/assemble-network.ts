/**
 * From lines cut at places to nodes and edges. Cuts of a line nearer together than ONE_PLACE are one node; what lies
 * between two nodes is an edge.
 *
 * Always holds: the edges of a line cover it from its start to its end without gap or overlap, and a line has at least
 * one; both ends of a line are places of their own, however short it is; a node is named after the first of its members'
 * names, so that names do not depend on anything elsewhere.
 */
import type { Millimetres } from "../geometry/units.js";
import type { Id } from "../plan/schema.js";
import type { LineKey } from "./line.js";
import type { Network, NetworkEdge, NetworkNode, NodeKey } from "./network.js";
import type { SidedUnion } from "./sided-union.js";

/** Cuts nearer than this are one: a tenth of what a saw or a rail joint can tell apart. */
const ONE_PLACE: Millimetres = 0.05;

/** A place on a line; its side 0 is the way back along the line, side 1 the way on. */
export interface Cut {
  readonly key: NodeKey;
  readonly s: Millimetres;
  readonly kind: NetworkNode["kind"];
}

export interface CutLine {
  readonly key: LineKey;
  readonly length: Millimetres;
  readonly start: NodeKey;
  readonly end: NodeKey;
  /** Cuts between its ends, in any order. */
  readonly cuts: Cut[];
  /** Turnout whose diverging route this is, where it carries no weight of its own. */
  plane?: Id;
}

export interface CutLines {
  readonly lines: ReadonlyMap<LineKey, CutLine>;
  readonly union: SidedUnion;
  /** Keys whose height is that of another. */
  readonly level: ReadonlyMap<NodeKey, NodeKey>;
  readonly pinned: ReadonlyMap<NodeKey, Millimetres>;
}

/** A node that is several things at once is named after the first of these. */
const RANK: readonly NetworkNode["kind"][] = ["points", "heel", "joint", "pin", "end"];

interface NodeDraft {
  kind: NetworkNode["kind"];
  readonly sides: [number[], number[]];
  pinned?: Millimetres;
  level?: NodeKey;
}

export interface Assembled {
  readonly network: Network;
  /** Keys of pins at one place, in order of lines and of places along them; the first holds. */
  readonly pinsTogether: readonly (readonly NodeKey[])[];
}

export function assembleNetwork({ lines, union, level, pinned }: CutLines): Assembled {
  const borders = new Map<LineKey, Cut[]>();
  for (const line of lines.values()) borders.set(line.key, bordersOf(line, union));
  const nodes = new Map<NodeKey, NodeDraft>();
  const pins = new Map<NodeKey, NodeKey[]>();
  const nodeAt = (root: NodeKey): NodeDraft => {
    const known = nodes.get(root);
    if (known) return known;
    const node: NodeDraft = { kind: "end", sides: [[], []] };
    nodes.set(root, node);
    return node;
  };
  const member = (key: NodeKey, kind: NetworkNode["kind"]): void => {
    const { root } = union.find(key);
    const node = nodeAt(root);
    if (RANK.indexOf(kind) < RANK.indexOf(node.kind)) node.kind = kind;
    const height = pinned.get(key);
    if (height !== undefined) {
      node.pinned ??= height;
      const together = pins.get(root);
      if (together) together.push(key);
      else pins.set(root, [key]);
    }
    const other = level.get(key);
    if (other !== undefined) node.level = union.find(other).root;
  };
  const edges: NetworkEdge[] = [];
  const byLine = new Map<LineKey, NetworkEdge[]>();
  for (const line of lines.values()) {
    member(line.start, "end");
    for (const { key, kind } of line.cuts) member(key, kind);
    member(line.end, "end");
    const own: NetworkEdge[] = [];
    let from: Cut | undefined;
    for (const to of borders.get(line.key) ?? []) {
      if (from) {
        const edge = edgeBetween(from, to, line, union, edges.length);
        nodeAt(edge.a.node).sides[edge.a.side].push(edge.index);
        nodeAt(edge.b.node).sides[edge.b.side].push(edge.index);
        edges.push(edge);
        own.push(edge);
      }
      from = to;
    }
    byLine.set(line.key, own);
  }
  const finished = new Map<NodeKey, NetworkNode>();
  for (const [key, node] of nodes) finished.set(key, finishNode(key, node));
  return { network: { nodes: finished, edges, byLine }, pinsTogether: [...pins.values()].filter((p) => p.length > 1) };
}

/** The places an edge of the line begins or ends at; cuts close to one of them are made one with it. */
function bordersOf({ start, end, length, cuts }: CutLine, union: SidedUnion): Cut[] {
  if (cuts.length > 1) cuts.sort((a, b) => a.s - b.s || (a.key < b.key ? -1 : 1));
  let last: Cut = { key: start, s: 0, kind: "end" };
  const borders = [last];
  for (const cut of cuts) {
    if (cut.s - last.s < ONE_PLACE) union.join(last.key, cut.key, false);
    else if (length - cut.s < ONE_PLACE) union.join(end, cut.key, false);
    else borders.push((last = cut));
  }
  borders.push({ key: end, s: length, kind: "end" });
  return borders;
}

function edgeBetween(from: Cut, to: Cut, line: CutLine, union: SidedUnion, index: number): NetworkEdge {
  const a = union.find(from.key);
  const b = union.find(to.key);
  return {
    index,
    line: line.key,
    from: from.s,
    to: to.s,
    length: to.s - from.s,
    a: { node: a.root, side: a.turned ? 0 : 1 },
    b: { node: b.root, side: b.turned ? 1 : 0 },
    ...(line.plane !== undefined && { plane: line.plane }),
  };
}

function finishNode(key: NodeKey, { kind, sides, pinned, level }: NodeDraft): NetworkNode {
  const [zero, one] = sides;
  return {
    key,
    kind: kind === "end" && zero.length > 0 && one.length > 0 ? "joint" : kind,
    sides,
    ...(pinned !== undefined && { pinned }),
    ...(level !== undefined && level !== key && { level }),
  };
}
