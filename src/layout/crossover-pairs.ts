/**
 * Pairs of crossovers: over the one from a track to another, along that, and over the second back to the first, with no
 * reversal. An engine can run round on them as on a siding.
 *
 * Always holds: a pair is told once; its two roads begin at one node and end at one, by different legs.
 */
import type { Network } from "./network.js";
import {
  arrivalOf,
  beginOf,
  besideAtEnd,
  besideAtStart,
  diverges,
  reversed,
  type Run,
  sectionOf,
  type Sections,
  sectionsOf,
  straightOn,
} from "./sections.js";
import { MOST_SECTIONS, type PassingWay } from "./passing-ways.js";

const known = new WeakMap<Sections, readonly PassingWay[]>();

export function crossoverPairs(network: Network): readonly PassingWay[] {
  const sections = sectionsOf(network);
  let pairs = known.get(sections);
  if (!pairs) known.set(sections, (pairs = findPairs(sections)));
  return pairs;
}

/** Whether a run leads from the diverging leg of one turnout to that of another. */
const isCrossover = (sections: Sections, run: Run): boolean =>
  diverges(sections, run) &&
  diverges(sections, reversed(run)) &&
  beginOf(sections, run).node !== arrivalOf(sections, run).node;

function findPairs(sections: Sections): PassingWay[] {
  const found = new Map<string, PassingWay>();
  for (let first = 0; first < sections.next.length; first++) {
    if (!isCrossover(sections, first)) continue;
    const other = straightOf(sections, first);
    const middle: Run[] = [];
    for (let run = straightOn(sections, first); run !== undefined; run = straightOn(sections, run)) {
      if (middle.length >= MOST_SECTIONS || middle.includes(run)) break;
      middle.push(run);
      for (const second of sections.next[run] ?? []) {
        if (sectionOf(second) === sectionOf(first) || !isCrossover(sections, second)) continue;
        const end = other.findIndex((o) => besideAtEnd(sections, second).includes(o));
        if (end < 0) continue;
        const key = [sectionOf(first), sectionOf(second)].sort((a, b) => a - b).join(" ");
        if (!found.has(key)) found.set(key, { road: [first, ...middle, second], other: other.slice(0, end + 1) });
      }
    }
  }
  return [...found.values()];
}

/** The way straight on past the points a run leaves by. */
function straightOf(sections: Sections, first: Run): Run[] {
  const runs: Run[] = [];
  for (let run = besideAtStart(sections, first)[0]; run !== undefined; run = straightOn(sections, run)) {
    if (runs.length >= MOST_SECTIONS || runs.includes(run)) break;
    runs.push(run);
  }
  return runs;
}
