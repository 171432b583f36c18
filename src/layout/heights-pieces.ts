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
  const numbered = numberNodes(network);
  const pieces = new Map<number, number[]>();
  network.edges.forEach((edge, i) => {
    const a = numbered.ends[2 * i] ?? -1;
    const b = numbered.ends[2 * i + 1] ?? -1;
    if (a < 0 || b < 0 || !lines.has(edge.line)) return;
    const root = numbered.connected.root(a);
    const piece = pieces.get(root);
    if (piece) piece.push(i);
    else pieces.set(root, [i]);
  });
  return [...pieces.values()].map((indices) => assemblePiece(indices, network, numbered, lines, decks));
}

/** The whole network's nodes by number. */
interface NumberedNodes {
  /** As in a piece; -1 for a node that is missing. */
  readonly ends: Int32Array;
  readonly connected: Groups;
  /** Nodes that share a height. */
  readonly level: Groups;
  readonly pins: Float64Array;
  /** Numbers within their piece of nodes, and of shared heights by the root of their group; -1 until given. */
  readonly inPiece: Int32Array;
  readonly heightInPiece: Int32Array;
}

function numberNodes(network: Network): NumberedNodes {
  const numbers = new Map<NodeKey, number>();
  for (const key of network.nodes.keys()) numbers.set(key, numbers.size);
  const connected = new Groups(numbers.size);
  const level = new Groups(numbers.size);
  const pins = new Float64Array(numbers.size).fill(Number.NaN);
  for (const node of network.nodes.values()) {
    const number = numbers.get(node.key) ?? 0;
    const pinned = network.pinned.get(node.key);
    if (pinned !== undefined) pins[number] = pinned;
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
  const unnumbered = (): Int32Array => new Int32Array(numbers.size).fill(-1);
  return { ends, connected, level, pins, inPiece: unnumbered(), heightInPiece: unnumbered() };
}

function assemblePiece(
  indices: readonly number[],
  network: Network,
  { ends, level, pins, inPiece, heightInPiece }: NumberedNodes,
  lines: ReadonlyMap<LineKey, Line>,
  decks: Readonly<Record<Id, { readonly height: Millimetres }>>,
): Piece {
  const edges: NetworkEdge[] = [];
  const ofEdges: Line[] = [];
  const ownEnds = new Int32Array(2 * indices.length);
  const sides = new Uint8Array(2 * indices.length);
  const shared: number[] = [];
  const ownPins: number[] = [];
  let heightCount = 0;
  const numberInPiece = (node: number): number => {
    const known = inPiece[node] ?? -1;
    if (known >= 0) return known;
    const root = level.root(node);
    if ((heightInPiece[root] ?? -1) < 0) heightInPiece[root] = heightCount++;
    inPiece[node] = shared.length;
    ownPins.push(pins[node] ?? Number.NaN);
    return shared.push(heightInPiece[root] ?? 0) - 1;
  };
  for (const i of indices) {
    const edge = network.edges[i];
    const line = edge && lines.get(edge.line);
    if (!edge || !line) continue;
    const end = 2 * edges.length;
    ownEnds[end] = numberInPiece(ends[2 * i] ?? 0);
    ownEnds[end + 1] = numberInPiece(ends[2 * i + 1] ?? 0);
    sides[end] = edge.a.side;
    sides[end + 1] = edge.b.side;
    edges.push(edge);
    ofEdges.push(line);
  }
  return {
    edges,
    lines: ofEdges,
    ends: ownEnds,
    sides,
    shared: Int32Array.from(shared),
    heightCount,
    pins: Float64Array.from(ownPins),
    deckHeight: deckHeightOf(ofEdges, decks),
  };
}

/** What pieces are cut from. */
export interface PieceGround {
  readonly network: Network;
  readonly lines: ReadonlyMap<LineKey, Line>;
  readonly decks: Readonly<Record<Id, { readonly height: Millimetres }>>;
}

/** A piece whose network hangs together as before, and what of it is new. */
export interface MovedPiece {
  readonly piece: Piece;
  /** Places in the piece of edges that are not what they were. */
  readonly changed: readonly number[];
}

/**
 * The piece with the edges and lines of now, in a network whose nodes are the very ones they were; itself where nothing
 * in it changed. Undefined where an edge got or lost its run, so that other heights are one.
 */
export function movedPiece(
  piece: Piece,
  { network, lines, decks }: PieceGround,
  repinned: readonly NodeKey[],
): MovedPiece | undefined {
  const changed: number[] = [];
  let sameLines = true;
  for (let i = 0; i < piece.edges.length; i++) {
    const before = piece.edges[i];
    const edge = before && network.edges[before.index];
    const line = edge && lines.get(edge.line);
    if (!edge || !line || hasRun(edge) !== hasRun(before)) return undefined;
    if (edge !== before) changed.push(i);
    if (line !== piece.lines[i]) sameLines = false;
  }
  const pins = pinsNow(piece, network, repinned);
  if (changed.length === 0 && sameLines && pins === piece.pins) return { piece, changed };
  const edges = piece.edges.map((edge) => network.edges[edge.index] ?? edge);
  const ofEdges = sameLines ? piece.lines : edges.map((edge, i) => lines.get(edge.line) ?? (piece.lines[i] as Line));
  return { piece: { ...piece, edges, lines: ofEdges, pins, deckHeight: deckHeightOf(ofEdges, decks) }, changed };
}

/** Nodes of the same network that are pinned at another height than before. */
export function changedPins(before: Network, after: Network): NodeKey[] {
  if (before.pinned === after.pinned) return [];
  return [...after.pinned.keys()].filter((key) => after.pinned.get(key) !== before.pinned.get(key));
}

/** Pinned heights of a piece's nodes, some of them anew. */
function pinsNow(piece: Piece, { pinned }: Network, repinned: readonly NodeKey[]): Float64Array {
  let { pins } = piece;
  for (const key of repinned) {
    const end = piece.edges.findIndex(({ a, b }) => a.node === key || b.node === key);
    const edge = piece.edges[end];
    if (!edge) continue;
    if (pins === piece.pins) pins = piece.pins.slice();
    pins[piece.ends[2 * end + (edge.a.node === key ? 0 : 1)] ?? 0] = pinned.get(key) ?? Number.NaN;
  }
  return pins;
}

/** Where a piece lies when no pin holds it: the deck of the first of its longest lines. */
function deckHeightOf(
  lines: readonly Line[],
  decks: Readonly<Record<Id, { readonly height: Millimetres }>>,
): Millimetres {
  let longest: Line | undefined;
  for (const line of lines) if (!longest || line.path.length > longest.path.length) longest = line;
  return decks[longest?.deck ?? ""]?.height ?? 0;
}

/** Edges of each line of a piece by their place in it, in order along the line. */
export function edgesByLine(piece: Piece): Map<LineKey, number[]> {
  const ofLine = new Map<LineKey, number[]>();
  piece.edges.forEach((edge, i) => {
    const own = ofLine.get(edge.line);
    if (own) own.push(i);
    else ofLine.set(edge.line, [i]);
  });
  const from = (i: number): Millimetres => piece.edges[i]?.from ?? 0;
  for (const own of ofLine.values()) own.sort((a, b) => from(a) - from(b));
  return ofLine;
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
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (!Object.is(a[i], b[i])) return false;
  return true;
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
    const p = this.root(a);
    const q = this.root(b);
    this.parent[Math.max(p, q)] = Math.min(p, q);
  }
}
