/**
 * The network drawn together: what lies between two places where ways part or end is one section. A section can be run
 * two ways; each is a number of its own, 2i from its end a to its end b and 2i + 1 back.
 *
 * Always holds: every edge is in exactly one section; `reversed(reversed(run))` is the run; a run's successors leave the
 * node it arrives at on the other side; what follows a run in reverse are the reverses of what comes before it; sections
 * are in an order that follows from names alone, not from the order of records.
 */
import type { Millimetres } from "../geometry/units.js";
import type { LineKey } from "./line.js";
import type { Network, NetworkEdge, NodeKey } from "./network.js";

/** A section run one way. */
export type Run = number;

export const reversed = (run: Run): Run => run ^ 1;
export const sectionOf = (run: Run): number => run >> 1;

export interface EdgeRun {
  /** Index of the edge in the network. */
  readonly edge: number;
  readonly line: LineKey;
  /** From the edge's node a to its node b. */
  readonly forwards: boolean;
}

export interface SectionEnd {
  readonly node: NodeKey;
  readonly side: 0 | 1;
}

export interface Section {
  readonly key: string;
  /** From end a to end b. */
  readonly edges: readonly EdgeRun[];
  readonly a: SectionEnd;
  readonly b: SectionEnd;
}

export interface Sections {
  readonly sections: readonly Section[];
  /** Runs that may follow a run. */
  readonly next: readonly (readonly Run[])[];
  /** The other runs that leave a node by the side a run leaves it by. */
  readonly beside: readonly (readonly Run[])[];
  /** Runs that leave a node by a side: all but the first and last of every section lie within. */
  readonly leaving: ReadonlyMap<NodeKey, readonly [readonly Run[], readonly Run[]]>;
}

const NONE: readonly Run[] = [];
const known = new WeakMap<Network["nodes"], Sections>();

/** The sections of a network; the same object while it hangs together as it did, wherever its lines lie. */
export function sectionsOf(network: Network): Sections {
  let sections = known.get(network.nodes);
  if (!sections) known.set(network.nodes, (sections = drawTogether(network)));
  return sections;
}

function drawTogether(network: Network): Sections {
  const { nodes, edges } = network;
  const used = new Uint8Array(edges.length);
  const sections: Section[] = [];
  const plain = (node: NodeKey): boolean => {
    const sides = nodes.get(node)?.sides;
    return sides !== undefined && sides[0].length === 1 && sides[1].length === 1;
  };
  /** Runs on from an edge until ways part, or back to where it began. */
  const follow = (first: NetworkEdge, firstForwards: boolean): Section => {
    const runs: EdgeRun[] = [];
    let edge: NetworkEdge | undefined = first;
    let forwards = firstForwards;
    const a = forwards ? first.a : first.b;
    let b = a;
    while (edge && !used[edge.index]) {
      used[edge.index] = 1;
      runs.push({ edge: edge.index, line: edge.line, forwards });
      b = forwards ? edge.b : edge.a;
      if (!plain(b.node)) break;
      const side: 0 | 1 = b.side === 0 ? 1 : 0;
      const { node } = b;
      edge = edges[nodes.get(node)?.sides[side][0] ?? -1];
      forwards = edge?.a.node === node && edge.a.side === side;
    }
    return inOrder(runs, a, b, edges);
  };
  for (const { key, sides } of nodes.values()) {
    if (plain(key)) continue;
    for (const side of [0, 1] as const) {
      for (const index of sides[side]) {
        const edge = edges[index];
        if (edge && !used[index]) sections.push(follow(edge, edge.a.node === key && edge.a.side === side));
      }
    }
  }
  // What is left closes on itself without anything parting from it: it begins at the first of its nodes by name.
  const rings = edges.filter(({ index }) => !used[index]).sort((p, q) => order(p.a.node, q.a.node));
  for (const edge of rings) if (!used[edge.index]) sections.push(follow(edge, true));
  sections.sort((p, q) => order(p.key, q.key));
  return { sections, ...connected(sections) };
}

const order = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
const nameOf = ({ node, side }: SectionEnd): string => `${node}/${side}`;

/** A section from its end that comes first by name; one that returns to its end from the lower place of its line. */
function inOrder(runs: EdgeRun[], a: SectionEnd, b: SectionEnd, edges: readonly NetworkEdge[]): Section {
  const [first, last] = [runs[0], runs.at(-1)];
  const place = (run: EdgeRun | undefined): string => `${run?.line ?? ""} ${run ? (edges[run.edge]?.from ?? 0) : 0}`;
  const turn = order(nameOf(a), nameOf(b)) || order(place(first), place(last));
  const [from, to] = turn > 0 ? [b, a] : [a, b];
  const along = turn > 0 ? runs.reverse().map((run) => ({ ...run, forwards: !run.forwards })) : runs;
  return { key: `${nameOf(from)} ${nameOf(to)} ${along[0]?.line ?? ""}`, edges: along, a: from, b: to };
}

function connected(sections: readonly Section[]): Pick<Sections, "next" | "beside" | "leaving"> {
  const leaving = new Map<NodeKey, readonly [Run[], Run[]]>();
  const at = (node: NodeKey): readonly [Run[], Run[]] => {
    let sides = leaving.get(node);
    if (!sides) leaving.set(node, (sides = [[], []]));
    return sides;
  };
  sections.forEach(({ a, b }, i) => {
    at(a.node)[a.side].push(2 * i);
    at(b.node)[b.side].push(2 * i + 1);
  });
  const next = sections.flatMap(({ a, b }) =>
    [b, a].map((end): readonly Run[] => leaving.get(end.node)?.[end.side === 0 ? 1 : 0] ?? NONE),
  );
  const beside = sections.flatMap(({ a, b }, i) =>
    [a, b].map((end, turned): readonly Run[] => {
      const runs = leaving.get(end.node)?.[end.side] ?? NONE;
      return runs.length < 2 ? NONE : runs.filter((run) => run !== 2 * i + turned);
    }),
  );
  return { next, beside, leaving };
}

/** Where a run begins, and where it arrives. */
export const beginOf = ({ sections }: Sections, run: Run): SectionEnd => endAt(sections, run, true);
export const arrivalOf = ({ sections }: Sections, run: Run): SectionEnd => endAt(sections, run, false);

function endAt(sections: readonly Section[], run: Run, begin: boolean): SectionEnd {
  const section = sections[sectionOf(run)];
  if (!section) throw new RangeError(`there is no run ${run}`);
  return begin === (run % 2 === 0) ? section.a : section.b;
}

/** Edges of a run in the order they are met. */
export function edgesOf({ sections }: Sections, run: Run): readonly EdgeRun[] {
  const edges = sections[sectionOf(run)]?.edges ?? [];
  return run % 2 === 0 ? edges : [...edges].reverse().map((r) => ({ ...r, forwards: !r.forwards }));
}

/** Line a run begins on, and the line it ends on. */
export const firstLine = ({ sections }: Sections, run: Run): LineKey | undefined =>
  sections[sectionOf(run)]?.edges.at(run % 2 === 0 ? 0 : -1)?.line;
export const lastLine = (sections: Sections, run: Run): LineKey | undefined => firstLine(sections, reversed(run));

/** The other runs that leave a node by the side a run leaves it by. */
export const besideAtStart = ({ beside }: Sections, run: Run): readonly Run[] => beside[run] ?? NONE;

/** Runs that come together with a run where it arrives. */
export const besideAtEnd = (sections: Sections, run: Run): readonly Run[] =>
  besideAtStart(sections, reversed(run)).map(reversed);

/** What follows with no turnout thrown out of its straight: the only way on, or that of the same line. */
export function straightOn(sections: Sections, run: Run): Run | undefined {
  const following = sections.next[run] ?? NONE;
  if (following.length < 2) return following[0];
  const line = lastLine(sections, run);
  return following.find((next) => firstLine(sections, next) === line);
}

/** Whether a run leaves where ways part by the diverging way: no line comes through to it. */
export function diverges(sections: Sections, run: Run): boolean {
  if (besideAtStart(sections, run).length === 0) return false;
  const line = firstLine(sections, run);
  return !(sections.next[reversed(run)] ?? NONE).some((before) => firstLine(sections, before) === line);
}

const lengths = new WeakMap<Network, Float64Array>();

/** Length of every section. */
export function sectionLengths(network: Network): Float64Array {
  let found = lengths.get(network);
  if (!found) {
    const { sections } = sectionsOf(network);
    found = new Float64Array(sections.length);
    for (const [i, { edges }] of sections.entries()) {
      let sum: Millimetres = 0;
      for (const { edge } of edges) sum += network.edges[edge]?.length ?? 0;
      found[i] = sum;
    }
    lengths.set(network, found);
  }
  return found;
}
