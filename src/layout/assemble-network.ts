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

/** A place on a line, by its number in the union; its side 0 is the way back along the line, side 1 the way on. */
export interface Cut {
  readonly place: number;
  readonly s: Millimetres;
  readonly kind: NetworkNode["kind"];
  /** Pinned height, of a pin. */
  readonly pinned?: Millimetres;
  /** Place whose height it has, on another line. */
  readonly level?: number;
}

export interface CutLine {
  readonly key: LineKey;
  readonly length: Millimetres;
  /** Places of its ends. */
  readonly start: number;
  readonly end: number;
  /** Cuts between its ends; in order along it once they are assembled. */
  readonly cuts: Cut[];
  /** Turnout whose diverging route this is, where it carries no weight of its own. */
  plane?: Id;
  /** Place whose height the line's end has. */
  endLevel?: number;
}

interface NodeDraft {
  readonly key: NodeKey;
  kind: NetworkNode["kind"];
  readonly sides: [number[], number[]];
  /** Cuts with a pin, in order of lines and of places along them. */
  pins?: Cut[];
  level?: number;
}

export interface Assembled {
  readonly network: Network;
  /** Pins at one place where there are several; the first holds. */
  readonly pinsTogether: readonly (readonly Cut[])[];
}

/** A node that is several things at once is named after the first of these. */
const RANK = { turntable: 0, points: 1, heel: 2, joint: 3, pin: 4, end: 5 } as const;

/** Joins places as it goes, so all other joins come first. `pits`: places of ends that lead to a turntable. */
export function assembleNetwork(lines: readonly CutLine[], union: SidedUnion, pits: readonly number[] = []): Assembled {
  const borders = lines.map((line) => bordersOf(line, union));
  for (const { merged } of borders) for (const [one, other] of merged) union.join(one, other, false);
  const nodes = new Nodes(union);
  const edges: NetworkEdge[] = [];
  const byLine = new Map<LineKey, NetworkEdge[]>();
  lines.forEach((line, i) => {
    nodes.at(line.start);
    for (const cut of line.cuts) nodes.add(cut);
    const end = nodes.at(line.end);
    if (line.endLevel !== undefined) end.level = union.root(line.endLevel);
    const own: NetworkEdge[] = [];
    let from: Cut | undefined;
    for (const to of borders[i]?.places ?? []) {
      if (from) {
        const edge = nodes.link(from, to, line, edges.length);
        edges.push(edge);
        own.push(edge);
      }
      from = to;
    }
    byLine.set(line.key, own);
  });
  for (const pit of pits) nodes.at(pit).kind = "turntable";
  const network = { nodes: nodes.finished(), edges, byLine, pinned: nodes.pinned() };
  return { network, pinsTogether: nodes.pinsTogether() };
}

interface Borders {
  /** Where edges of the line begin or end, in order along it. */
  readonly places: readonly Cut[];
  /** Cuts close to one of these, with it. */
  readonly merged: readonly (readonly [number, number])[];
}

function bordersOf({ start, end, length, cuts }: CutLine, union: SidedUnion): Borders {
  if (cuts.length > 1) cuts.sort((a, b) => a.s - b.s || (union.nameOf(a.place) < union.nameOf(b.place) ? -1 : 1));
  let last: Cut = { place: start, s: 0, kind: "end" };
  const places = [last];
  const merged: [number, number][] = [];
  for (const cut of cuts) {
    if (cut.s - last.s < ONE_PLACE) merged.push([last.place, cut.place]);
    else if (length - cut.s < ONE_PLACE) merged.push([end, cut.place]);
    else places.push((last = cut));
  }
  places.push({ place: end, s: length, kind: "end" });
  return { places, merged };
}

/**
 * The network with some lines cut elsewhere or of another length, where they still hang together as they did; undefined
 * where they do not. Nodes are the same object, and so are the edges of all other lines.
 */
export function movedCuts(
  network: Network,
  lines: readonly { readonly before: CutLine; readonly after: CutLine }[],
  union: SidedUnion,
): Network | undefined {
  const edges = [...network.edges];
  const byLine = new Map(network.byLine);
  for (const { before, after } of lines) {
    const was = bordersOf(before, union);
    const is = bordersOf(after, union);
    const own = network.byLine.get(after.key) ?? [];
    if (own.length + 1 !== is.places.length || !sameBorders(was, is)) return undefined;
    const moved = own.map((edge, i): NetworkEdge => {
      const from = is.places[i]?.s ?? 0;
      const to = is.places[i + 1]?.s ?? 0;
      return edge.from === from && edge.to === to ? edge : { ...edge, from, to, length: to - from };
    });
    for (const edge of moved) edges[edge.index] = edge;
    byLine.set(after.key, moved);
  }
  return { ...network, edges, byLine };
}

const sameBorders = (a: Borders, b: Borders): boolean =>
  a.places.length === b.places.length &&
  a.merged.length === b.merged.length &&
  a.places.every(({ place }, i) => place === b.places[i]?.place) &&
  a.merged.every(([one, other], i) => one === b.merged[i]?.[0] && other === b.merged[i]?.[1]);

class Nodes {
  /** By the number of their root, in the order they are first met. */
  private readonly drafts: (NodeDraft | undefined)[];
  private readonly met: NodeDraft[] = [];

  constructor(private readonly union: SidedUnion) {
    this.drafts = Array.from({ length: union.size }, () => undefined);
  }

  at(place: number): NodeDraft {
    const root = this.union.root(place);
    const known = this.drafts[root];
    if (known) return known;
    const node: NodeDraft = { key: this.union.nameOf(root), kind: "end", sides: [[], []] };
    this.drafts[root] = node;
    this.met.push(node);
    return node;
  }

  add(cut: Cut): void {
    const node = this.at(cut.place);
    if (RANK[cut.kind] < RANK[node.kind]) node.kind = cut.kind;
    if (cut.pinned !== undefined) (node.pins ??= []).push(cut);
    if (cut.level !== undefined) node.level = this.union.root(cut.level);
  }

  link(from: Cut, to: Cut, line: CutLine, index: number): NetworkEdge {
    const a = this.at(from.place);
    const b = this.at(to.place);
    const sideA = this.union.turned(from.place) ? 0 : 1;
    const sideB = this.union.turned(to.place) ? 1 : 0;
    a.sides[sideA].push(index);
    b.sides[sideB].push(index);
    return {
      index,
      line: line.key,
      from: from.s,
      to: to.s,
      length: to.s - from.s,
      a: { node: a.key, side: sideA },
      b: { node: b.key, side: sideB },
      ...(line.plane !== undefined && { plane: line.plane }),
    };
  }

  finished(): Map<NodeKey, NetworkNode> {
    const finished = new Map<NodeKey, NetworkNode>();
    for (const { key, kind, sides, level } of this.met) {
      const levelKey = level === undefined ? key : this.union.nameOf(level);
      finished.set(key, {
        key,
        kind: kind === "end" && sides[0].length > 0 && sides[1].length > 0 ? "joint" : kind,
        sides,
        ...(levelKey !== key && { level: levelKey }),
      });
    }
    return finished;
  }

  /** The first pin of each node. */
  pinned(): Map<NodeKey, Millimetres> {
    const heights = new Map<NodeKey, Millimetres>();
    for (const { key, pins } of this.met) {
      const height = pins?.[0]?.pinned;
      if (height !== undefined) heights.set(key, height);
    }
    return heights;
  }

  pinsTogether(): (readonly Cut[])[] {
    return this.met.flatMap(({ pins }) => (pins && pins.length > 1 ? [pins] : []));
  }
}
