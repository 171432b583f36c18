/**
 * Closed circuits: ways a train can go round for ever without reversing, and how many trains can circle at once while no
 * turnout is thrown. Circuits are found as Johnson did ("Finding all the elementary circuits of a directed graph", SIAM
 * J. Comput. 4, 1975), on sections run one way.
 *
 * Always holds: a circuit's runs follow one another and the first follows the last; no run stands twice in it; no two
 * circuits have the same sections; circles that run at once have no node in common; the same network by another order of
 * records has the same circuits.
 * Bounds: at most `MOST_CIRCUITS` circuits, and as many looks; `all` tells whether that sufficed.
 */
import type { Network } from "./network.js";
import { beginOf, reversed, type Run, sectionOf, type Sections, sectionsOf } from "./sections.js";
import { strongParts } from "./strong-parts.js";

export interface Circuits {
  /** Each as the runs of one lap. */
  readonly circuits: readonly (readonly Run[])[];
  /** Whether there are no others. */
  readonly all: boolean;
  /** As many as can be run at once with every turnout left as it lies; indices of circuits. */
  readonly together: readonly number[];
  /** Whether no more than those can be. */
  readonly most: boolean;
}

export const MOST_CIRCUITS = 200;
const MOST_LOOKS = 20_000;
/** Up to so many circuits, all their combinations are tried. */
export const MOST_COMBINED = 24;

const known = new WeakMap<Sections, Circuits>();

export function circuitsOf(network: Network): Circuits {
  const sections = sectionsOf(network);
  let circuits = known.get(sections);
  if (!circuits) known.set(sections, (circuits = findCircuits(sections)));
  return circuits;
}

function findCircuits(sections: Sections): Circuits {
  const search: Search = { sections, found: new Map(), looks: 0, all: true };
  const { parts, partOf } = strongParts(sections);
  parts.forEach((part, i) => {
    // Run the other way, circuits have the same sections: of two parts that are one another's reverse one will do.
    const mirror = partOf[reversed(part[0] ?? 0)];
    if (mirror !== undefined && mirror !== i && (parts[mirror]?.[0] ?? 0) < (part[0] ?? 0)) return;
    circuitsIn(search, part);
  });
  const circuits = [...search.found.values()];
  return { circuits, all: search.all, ...atOnce(sections, circuits, search.all) };
}

interface Search {
  readonly sections: Sections;
  readonly found: Map<string, readonly Run[]>;
  looks: number;
  all: boolean;
}

/** Circuits within one part: from every run in turn, those that come back to it over later runs. */
function circuitsIn(search: Search, part: readonly Run[]): void {
  const within = new Set(part);
  for (const start of part) {
    if (!within.has(start)) continue;
    const blocked = new Set<Run>();
    const waiting = new Map<Run, Set<Run>>();
    const lap: Run[] = [];
    const free = (run: Run): void => {
      const toFree = [run];
      for (let next = toFree.pop(); next !== undefined; next = toFree.pop()) {
        if (!blocked.delete(next)) continue;
        toFree.push(...(waiting.get(next) ?? []));
        waiting.delete(next);
      }
    };
    const visit = (run: Run): boolean => {
      if (!search.all) return false;
      lap.push(run);
      blocked.add(run);
      let closed = false;
      for (const next of search.sections.next[run] ?? []) {
        if (!within.has(next)) continue;
        if (++search.looks > MOST_LOOKS) search.all = false;
        if (next === start) {
          keep(search, lap);
          closed = true;
        } else if (!blocked.has(next) && visit(next)) closed = true;
      }
      if (closed) free(run);
      else {
        for (const next of search.sections.next[run] ?? []) {
          if (!within.has(next)) continue;
          const own = waiting.get(next);
          if (own) own.add(run);
          else waiting.set(next, new Set([run]));
        }
      }
      lap.pop();
      return closed;
    };
    visit(start);
    drop(search.sections, within, start);
    if (!search.all) return;
  }
}

/** Takes a run out, and with it all that can then no longer be on a circuit: what nothing leads to, or leads nowhere. */
function drop({ next }: Sections, within: Set<Run>, run: Run): void {
  const left = [run];
  const stays = (runs: readonly Run[]): boolean => runs.some((other) => within.has(other));
  for (let gone = left.pop(); gone !== undefined; gone = left.pop()) {
    if (!within.delete(gone)) continue;
    const after = next[gone] ?? [];
    const before = (next[reversed(gone)] ?? []).map(reversed);
    for (const one of after) if (within.has(one) && !stays((next[reversed(one)] ?? []).map(reversed))) left.push(one);
    for (const one of before) if (within.has(one) && !stays(next[one] ?? [])) left.push(one);
  }
}

function keep(search: Search, lap: readonly Run[]): void {
  const key = [...new Set(lap.map(sectionOf))].sort((a, b) => a - b).join(",");
  if (search.found.has(key)) return;
  if (search.found.size >= MOST_CIRCUITS) search.all = false;
  else search.found.set(key, [...lap]);
}

/** The most circuits of which no two have a node in common: every turnout then lies one way for good. */
function atOnce(
  sections: Sections,
  circuits: readonly (readonly Run[])[],
  all: boolean,
): Pick<Circuits, "together" | "most"> {
  const simple = circuits.flatMap((lap, index) => {
    const nodes = new Set(lap.map((run) => beginOf(sections, run).node));
    return nodes.size === lap.length ? [{ index, nodes }] : [];
  });
  simple.sort((p, q) => p.nodes.size - q.nodes.size || p.index - q.index);
  const apart = (p: ReadonlySet<string>, q: ReadonlySet<string>): boolean => [...p].every((node) => !q.has(node));
  const exact = simple.length <= MOST_COMBINED;
  let best: number[] = [];
  const extend = (taken: number[], from: number): void => {
    if (taken.length > best.length) best = [...taken];
    for (let i = from; i < simple.length && taken.length + simple.length - i > best.length; i++) {
      const next = simple[i];
      if (!next || !taken.every((j) => apart(simple[j]?.nodes ?? next.nodes, next.nodes))) continue;
      taken.push(i);
      extend(taken, i + 1);
      taken.pop();
    }
  };
  if (exact) extend([], 0);
  else {
    simple.forEach(({ nodes }, i) => {
      if (best.every((j) => apart(simple[j]?.nodes ?? nodes, nodes))) best.push(i);
    });
  }
  return { together: best.map((i) => simple[i]?.index ?? 0), most: exact && all };
}
