/**
 * The longest way a train can go from an end of track without reversing, to another end or to where it would begin to
 * circle. Amid track on which it could circle for ever, the shortest way is what counts.
 *
 * Always holds: it is no shorter than the shortest route between any two ends of track; nothing is said of a network
 * without an end of track.
 * Bounds: of places where circling track can be come to, the `MOST_ENTRIES` with the longest way behind them are looked at.
 */
import FlatQueue from "flatqueue";
import type { Millimetres } from "../geometry/units.js";
import type { Network } from "./network.js";
import { reversed, type Run, sectionLengths, sectionOf, type Sections, sectionsOf } from "./sections.js";
import { strongParts } from "./strong-parts.js";

export interface LongestWay {
  readonly length: Millimetres;
  /** The runs it begins and ends with. */
  readonly first: Run;
  readonly last: Run;
}

export const MOST_ENTRIES = 16;

const known = new WeakMap<Network, { readonly way: LongestWay | undefined }>();

export function longestWay(network: Network): LongestWay | undefined {
  let found = known.get(network);
  if (!found) known.set(network, (found = { way: findLongest(network) }));
  return found.way;
}

function findLongest(network: Network): LongestWay | undefined {
  const sections = sectionsOf(network);
  const lengths = sectionLengths(network);
  const { lastFirst, parts, partOf } = strongParts(sections);
  /** Longest way that ends with a run, that run included, and what it began with; none from no end of track. */
  const behind = new Float64Array(sections.next.length).fill(Number.NEGATIVE_INFINITY);
  const began = new Int32Array(sections.next.length);
  const lengthOf = (run: Run): Millimetres => lengths[sectionOf(run)] ?? 0;
  const raise = (run: Run, length: Millimetres, first: Run): void => {
    if (length <= (behind[run] ?? 0)) return;
    behind[run] = length;
    began[run] = first;
  };
  let best: LongestWay | undefined;
  const done = new Set<number>();
  for (let i = lastFirst.length - 1; i >= 0; i--) {
    const run = lastFirst[i] ?? 0;
    // What can follow nothing but an end of track begins there.
    if ((sections.next[reversed(run)] ?? []).length === 0) raise(run, lengthOf(run), run);
    const part = partOf[run];
    if (part !== undefined && !done.has(part)) {
      done.add(part);
      goThrough(sections, lengthOf, parts[part] ?? [], behind, raise, began);
    }
    const length = behind[run] ?? 0;
    if (!(length > 0)) continue;
    if (length > (best?.length ?? 0)) best = { length, first: began[run] ?? run, last: run };
    for (const next of sections.next[run] ?? []) {
      if (part === undefined || partOf[next] !== part) raise(next, length + lengthOf(next), began[run] ?? run);
    }
  }
  return best;
}

/** Within a part in which a train can circle: from every place it is come to, the shortest way on to every other. */
function goThrough(
  sections: Sections,
  lengthOf: (run: Run) => Millimetres,
  part: readonly Run[],
  behind: Float64Array,
  raise: (run: Run, length: Millimetres, first: Run) => void,
  began: Int32Array,
): void {
  const within = new Set(part);
  const entries = part
    .filter((run) => (behind[run] ?? 0) > 0)
    .map((run) => ({ run, length: behind[run] ?? 0, first: began[run] ?? run }))
    .sort((p, q) => q.length - p.length || p.run - q.run)
    .slice(0, MOST_ENTRIES);
  for (const entry of entries) {
    const queue = new FlatQueue<Run>();
    const settled = new Set<Run>();
    const far = new Map<Run, Millimetres>([[entry.run, entry.length]]);
    queue.push(entry.run, entry.length);
    for (let run = queue.pop(); run !== undefined; run = queue.pop()) {
      if (settled.has(run)) continue;
      settled.add(run);
      const here = far.get(run) ?? 0;
      if (run !== entry.run) raise(run, here, entry.first);
      for (const next of sections.next[run] ?? []) {
        const there = here + lengthOf(next);
        if (!within.has(next) || there >= (far.get(next) ?? Number.POSITIVE_INFINITY)) continue;
        far.set(next, there);
        queue.push(next, there);
      }
    }
  }
}
