/**
 * The network's connected pieces. Heights and vertical curves of a piece depend on nothing outside it, so a piece that
 * reads as before keeps all that was derived from it.
 *
 * Always holds: the edges of a line are all in one piece; a node and the node it is level with are in one piece;
 * `samePiece` does not look at the names of nodes, only at how they hang together.
 */
import type { Millimetres } from "../geometry/units.js";
import type { Id } from "../plan/schema.js";
import type { Line, LineKey } from "./line.js";
import type { Network, NetworkEdge, NodeKey } from "./network.js";

/** Edges shorter than this are no run to climb on: their ends are one height. Far below what anyone can lay. */
const NO_RUN: Millimetres = 1e-6;

export interface Piece {
  readonly edges: readonly NetworkEdge[];
  /** Line of each edge. */
  readonly lines: readonly Line[];
  /** Nodes at each edge's `from` (2 e) and `to` (2 e + 1), numbered within the piece. */
  readonly ends: Int32Array;
  /** Side of the node each of these ends is on. */
  readonly sides: Uint8Array;
  /** Height of each node by number: nodes that are level with one another share one. */
  readonly shared: Int32Array;
  readonly heightCount: number;
  /** Pinned height of each node, NaN where there is none. */
  readonly pins: Float64Array;
  /** Where the piece lies when no pin holds it: the deck of its longest line. */
  readonly deckHeight: Millimetres;
}

export const edgeRun = (edge: NetworkEdge): Millimetres => edge.to - edge.from;
export const hasRun = (edge: NetworkEdge): boolean => edgeRun(edge) > NO_RUN;

export function networkPieces(
  network: Network,
  lines: ReadonlyMap<LineKey, Line>,
  decks: Readonly<Record<Id, { readonly height: Millimetres }>>,
): Piece[] {
  const numbers = new Map<NodeKey, number>();
  for (const key of network.nodes.keys()) numbers.set(key, numbers.size);
  const connected = new Groups(numbers.size);
  const level = new Groups(numbers.size);
  const pins = new Float64Array(numbers.size).fill(Number.NaN);
  for (const node of network.nodes.values()) {
    const number = numbers.get(node.key) ?? 0;
    if (node.pinned !== undefined) pins[number] = node.pinned;
    const other = node.level === undefined ? undefined : numbers.get(node.level);
    if (other === undefined) continue;
    connected.join(number, other);
    level.join(number, other);
  }
  const ends = new Int32Array(2 * network.edges.length);
  network.edges.forEach((edge, i) => {
    const a = numbers.get(edge.a.node) ?? -1;
    const b = numbers.get(edge.b.node) ?? -1;
    ends[2 * i] = a;
    ends[2 * i + 1] = b;
    if (a < 0 || b < 0) return;
    connected.join(a, b);
    if (!hasRun(edge)) level.join(a, b);
  });
  const drafts = new Map<number, number[]>();
  network.edges.forEach((edge, i) => {
    const node = ends[2 * i] ?? -1;
    if (node < 0 || (ends[2 * i + 1] ?? -1) < 0 || !lines.has(edge.line)) return;
    const root = connected.root(node);
    const draft = drafts.get(root);
    if (draft) draft.push(i);
    else drafts.set(root, [i]);
  });
  const localNode = new Int32Array(numbers.size).fill(-1);
  const localHeight = new Int32Array(numbers.size).fill(-1);
  return [...drafts.values()].map((indices) => {
    const edges: NetworkEdge[] = [];
    const pieceLines: Line[] = [];
    const pieceEnds = new Int32Array(2 * indices.length);
    const sides = new Uint8Array(2 * indices.length);
    const shared: number[] = [];
    const piecePins: number[] = [];
    let heightCount = 0;
    let longest: Line | undefined;
    const local = (node: number): number => {
      const known = localNode[node] ?? -1;
      if (known >= 0) return known;
      const root = level.root(node);
      if ((localHeight[root] ?? -1) < 0) localHeight[root] = heightCount++;
      localNode[node] = shared.length;
      piecePins.push(pins[node] ?? Number.NaN);
      return shared.push(localHeight[root] ?? 0) - 1;
    };
    for (const i of indices) {
      const edge = network.edges[i];
      const line = edge && lines.get(edge.line);
      if (!edge || !line) continue;
      const end = 2 * edges.length;
      pieceEnds[end] = local(ends[2 * i] ?? 0);
      pieceEnds[end + 1] = local(ends[2 * i + 1] ?? 0);
      sides[end] = edge.a.side;
      sides[end + 1] = edge.b.side;
      edges.push(edge);
      pieceLines.push(line);
      if (!longest || line.path.length > longest.path.length) longest = line;
    }
    return {
      edges,
      lines: pieceLines,
      ends: pieceEnds,
      sides,
      shared: Int32Array.from(shared),
      heightCount,
      pins: Float64Array.from(piecePins),
      deckHeight: decks[longest?.deck ?? ""]?.height ?? 0,
    };
  });
}

/** Whether two pieces have the same heights: the same lines cut at the same places, hanging together in the same way. */
export function samePiece(a: Piece, b: Piece): boolean {
  return (
    a.edges.length === b.edges.length &&
    a.deckHeight === b.deckHeight &&
    sameNumbers(a.pins, b.pins) &&
    sameNumbers(a.ends, b.ends) &&
    sameNumbers(a.sides, b.sides) &&
    sameNumbers(a.shared, b.shared) &&
    a.lines.every((line, i) => line === b.lines[i]) &&
    a.edges.every((edge, i) => sameEdge(edge, b.edges[i]))
  );
}

const sameEdge = (a: NetworkEdge, b: NetworkEdge | undefined): boolean =>
  a === b || (!!b && a.from === b.from && a.to === b.to && (a.plane === undefined) === (b.plane === undefined));

function sameNumbers<T extends Float64Array | Int32Array | Uint8Array>(a: T, b: T): boolean {
  return a.length === b.length && a.every((value: number, i: number) => Object.is(value, b[i]));
}

/** Things that belong together, by number. */
class Groups {
  private readonly parent: Int32Array;

  constructor(count: number) {
    this.parent = Int32Array.from({ length: count }, (_, i) => i);
  }

  root(i: number): number {
    let at = i;
    for (;;) {
      const up = this.parent[at] ?? at;
      if (up === at) return at;
      const next = this.parent[up] ?? up;
      this.parent[at] = next;
      at = next;
    }
  }

  join(a: number, b: number): void {
    const [low, high] = [this.root(a), this.root(b)].sort((p, q) => p - q);
    if (low !== undefined && high !== undefined) this.parent[high] = low;
  }
}
