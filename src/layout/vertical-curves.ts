/**
 * Vertical curves: parabolas centred on the breaks of grade along the ways a train can take through the nodes.
 *
 * The rules, by name:
 * - host first: where several routes meet at a node, the break is the one of the line that goes on through it; routes
 *   that branch off there lie in the same plane and take the same curve at the same distance.
 * - half way: half a curve reaches at most half way to the next break along any way, so that curves never overlap.
 * - not past the points: seen from one of several routes, a curve ends where they become one track, since beyond it
 *   the track cannot have the heights of all of them; nor does a curve reach past the end of the track.
 * - written where it reaches: a curve stands on every line it reaches, at its distance along that line.
 * Always holds: the heights of two lines that meet at a node are the same there, curves included.
 */
import type { Millimetres } from "../geometry/units.js";
import { edgeRun, hasRun, type Piece } from "./heights-pieces.js";
import type { LineKey } from "./line.js";
import type { VerticalCurve } from "./profile.js";

/** Changes of grade up to this, 0.005 %, are left as they are: a fiftieth of a millimetre off over a long car. */
export const NO_BREAK = 5e-5;

/** Two places of one curve on one line nearer than this are the same place, reached from both sides. */
const SAME_PLACE: Millimetres = 1e-6;

export interface Break {
  readonly node: number;
  readonly change: number;
  readonly wanted: Millimetres;
}

export interface Curves {
  /** Of each line in order along it. */
  readonly byLine: ReadonlyMap<LineKey, VerticalCurve[]>;
  /** Edges of the piece that were looked at for them: as long as these stay, so do the curves. */
  readonly reached: Uint8Array;
}

/** The curves at the breaks of a piece. */
export function curvesAt(ways: Ways, breaks: readonly Break[]): Curves {
  const { piece } = ways;
  const byLine = new Map<LineKey, VerticalCurve[]>();
  const reached = new Uint8Array(piece.edges.length);
  const isBreak = new Uint8Array(piece.pins.length);
  for (const { node } of breaks) isBreak[node] = 1;
  for (const at of breaks) {
    const half = roomFor(at, ways, isBreak, reached);
    write(at, half, ways, byLine);
  }
  for (const own of byLine.values()) own.sort((a, b) => a.at - b.at);
  return { byLine, reached };
}

/** How edge ends meet at nodes. An end is numbered 2 e at an edge's `from` and 2 e + 1 at its `to`. */
export class Ways {
  /** Ends on side 0 of node n at 2 n, on side 1 at 2 n + 1. */
  private readonly meeting: number[][];

  /** `like`: ways of a piece that hangs together in the same way. */
  constructor(
    readonly piece: Piece,
    like?: Ways,
  ) {
    this.meeting = like?.meeting ?? [];
    if (like) return;
    for (let i = 0; i < 2 * piece.pins.length; i++) this.meeting.push([]);
    for (let end = 0; end < piece.ends.length; end++) {
      this.meeting[2 * (piece.ends[end] ?? 0) + (piece.sides[end] ?? 0)]?.push(end);
    }
  }

  at(node: number, side: number): readonly number[] {
    return this.meeting[2 * node + side] ?? [];
  }

  /** The two ends a train goes through a node by: the same line on both sides, or the first lines with a weight. */
  through(node: number): readonly [number, number] | undefined {
    const before = this.at(node, 0);
    const after = this.at(node, 1);
    for (const a of before) for (const b of after) if (this.follow(a, b)) return [a, b];
    const a = before.find((end) => !this.isPlane(end)) ?? before[0];
    const b = after.find((end) => !this.isPlane(end)) ?? after[0];
    return a === undefined || b === undefined ? undefined : [a, b];
  }

  private follow(a: number, b: number): boolean {
    return a !== b && this.piece.lines[a >> 1] === this.piece.lines[b >> 1];
  }

  private isPlane(end: number): boolean {
    return this.piece.edges[end >> 1]?.plane !== undefined;
  }

  run(end: number): Millimetres {
    const edge = this.piece.edges[end >> 1];
    return edge ? edgeRun(edge) : 0;
  }

  /** The end of an edge with a run that an end leads to, past edges without; undefined where there is none. */
  withRun(end: number): number | undefined {
    let at = end;
    for (let step = 0; step <= this.piece.edges.length; step++) {
      const edge = this.piece.edges[at >> 1];
      if (!edge) return undefined;
      if (hasRun(edge)) return at;
      const far = at ^ 1;
      const side = this.piece.sides[far] ?? 0;
      const next = this.through(this.piece.ends[far] ?? 0)?.[1 - side];
      if (next === undefined) return undefined;
      at = next;
    }
    return undefined;
  }

  /**
   * Follows every way out of a node. `enter` is told each edge end entered and the distance so far, and says whether
   * to go along; `meet` is told each end at which a node is reached and the distance, and says whether to go on.
   */
  explore(
    node: number,
    enter: (end: number, gone: Millimetres) => boolean,
    meet: (end: number, gone: Millimetres) => boolean,
  ): void {
    const nearest = new Map<number, Millimetres>();
    const ahead: [number, Millimetres][] = [];
    const leave = (ends: readonly number[], gone: Millimetres): void => {
      for (const end of ends) {
        if (gone >= (nearest.get(end) ?? Number.POSITIVE_INFINITY) || !enter(end, gone)) continue;
        nearest.set(end, gone);
        ahead.push([end, gone]);
      }
    };
    leave(this.at(node, 0), 0);
    leave(this.at(node, 1), 0);
    for (let i = 0; i < ahead.length; i++) {
      const [end, gone] = ahead[i] ?? [0, 0];
      const reached = end ^ 1;
      const there = gone + this.run(end);
      if (meet(reached, there))
        leave(this.at(this.piece.ends[reached] ?? 0, 1 - (this.piece.sides[reached] ?? 0)), there);
    }
  }
}

/** Breaks of grade between heights of nodes that ask for a curve of `perPercent` mm for each percent; none for 0. */
export function findBreaks(ways: Ways, heights: ArrayLike<Millimetres>, perPercent: Millimetres): Break[] {
  if (!(perPercent > 0)) return [];
  const { ends } = ways.piece;
  /** Slope going away from the node, up positive. */
  const slope = (end: number): number =>
    ((heights[ends[end ^ 1] ?? 0] ?? 0) - (heights[ends[end] ?? 0] ?? 0)) / ways.run(end);
  const breaks: Break[] = [];
  // A break between edges that have others without a run between them is found at either node, and kept once.
  const found = new Set<string>();
  for (let node = 0; node < ways.piece.pins.length; node++) {
    const pair = ways.through(node);
    const a = pair && ways.withRun(pair[0]);
    const b = pair && ways.withRun(pair[1]);
    if (a === undefined || b === undefined) continue;
    const change = slope(a) + slope(b);
    if (Math.abs(change) <= NO_BREAK) continue;
    if (a !== pair?.[0] || b !== pair[1]) {
      const name = a < b ? `${a} ${b}` : `${b} ${a}`;
      if (found.has(name)) continue;
      found.add(name);
    }
    breaks.push({ node, change, wanted: Math.abs(change) * 100 * perPercent });
  }
  return breaks;
}

/** Half the length of curve there is room for, at most half the length wanted. */
function roomFor(at: Break, ways: Ways, isBreak: Uint8Array, looked: Uint8Array): Millimetres {
  const { ends, sides } = ways.piece;
  let half = at.wanted / 2;
  ways.explore(
    at.node,
    (end, gone) => {
      looked[end >> 1] = 1;
      return gone < at.wanted;
    },
    (reached, gone) => {
      const node = ends[reached] ?? 0;
      if (isBreak[node]) {
        half = Math.min(half, gone / 2);
        return false;
      }
      const side = sides[reached] ?? 0;
      // Breaks beyond the points still count, as their curves may reach through them the other way.
      if (ways.at(node, side).length > 1 || ways.at(node, 1 - side).length === 0) half = Math.min(half, gone);
      return true;
    },
  );
  return half;
}

function write(at: Break, half: Millimetres, ways: Ways, curves: Map<LineKey, VerticalCurve[]>): void {
  const { lines, edges } = ways.piece;
  const { change, wanted } = at;
  const written: { readonly line: LineKey; readonly at: Millimetres }[] = [];
  ways.explore(
    at.node,
    (end, gone) => {
      if (gone > 0 && gone >= half) return false;
      const edge = edges[end >> 1];
      const line = lines[end >> 1]?.key;
      if (!edge || line === undefined) return false;
      const place = end % 2 === 0 ? edge.from - gone : edge.to + gone;
      if (written.some((other) => other.line === line && Math.abs(other.at - place) < SAME_PLACE)) return true;
      written.push({ line, at: place });
      const own = curves.get(line) ?? [];
      own.push({ at: place, length: 2 * half, wanted, change });
      curves.set(line, own);
      return true;
    },
    (_, gone) => gone < half || gone === 0,
  );
}
