/**
 * Passing ways: a road that leaves another where ways part and comes back to it with no reversal, keeping to the straight
 * of every turnout between. Which of the two is the siding is for others to say.
 *
 * Always holds: both roads of a way begin at one node on one side by different legs, and end at one node likewise; they
 * have no section in common; a pair of roads is told once, run one way; no road leads back to where it began.
 * Bounds: a road of more than `MOST_SECTIONS` sections, or whose other road has more, is not found.
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

export interface PassingWay {
  readonly road: readonly Run[];
  readonly other: readonly Run[];
}

/** A siding with so many turnouts in it has not been built. */
export const MOST_SECTIONS = 64;
/** Runs looked at to find the other road. */
const MOST_LOOKS = 400;

const known = new WeakMap<Sections, readonly PassingWay[]>();

/** All passing ways of a network; the same list while it hangs together as it did. */
export function passingWays(network: Network): readonly PassingWay[] {
  const sections = sectionsOf(network);
  let ways = known.get(sections);
  if (!ways) known.set(sections, (ways = findWays(sections)));
  return ways;
}

function findWays(sections: Sections): PassingWay[] {
  const found = new Map<string, PassingWay>();
  for (let run = 0; run < sections.next.length; run++) {
    if (besideAtStart(sections, run).length === 0 || !diverges(sections, run)) continue;
    const way = wayFrom(sections, run);
    if (!way) continue;
    const key = [nameOf(way.road), nameOf(way.other)].sort().join(" ");
    if (!found.has(key)) found.set(key, way);
  }
  return [...found.values()];
}

/** A road's name is the same whichever way it is run. */
const nameOf = (road: readonly Run[]): string =>
  road
    .map(sectionOf)
    .sort((a, b) => a - b)
    .join(",");

/** The way whose road begins with a run: the shortest road that meets another from the same turnout. */
function wayFrom(sections: Sections, first: Run): PassingWay | undefined {
  const road: Run[] = [];
  const start = beginOf(sections, first).node;
  for (let run: Run | undefined = first; run !== undefined; run = straightOn(sections, run)) {
    if (road.length >= MOST_SECTIONS || road.includes(run) || road.includes(reversed(run))) return undefined;
    road.push(run);
    const { node } = arrivalOf(sections, run);
    if (node === start) return undefined;
    if (besideAtEnd(sections, run).length === 0) continue;
    const leaves = diverges(sections, reversed(run));
    const other = leaves ? anyOther(sections, road) : straightOther(sections, road);
    if (other) return { road: [...road], other };
    if (leaves) return undefined;
  }
  return undefined;
}

/** Another road straight on from the first node of a road to its last. */
function straightOther(sections: Sections, road: readonly Run[]): Run[] | undefined {
  const [first, last] = [road[0] ?? 0, road.at(-1) ?? 0];
  const goals = besideAtEnd(sections, last);
  for (const begin of besideAtStart(sections, first)) {
    const other: Run[] = [];
    for (let run: Run | undefined = begin; run !== undefined; run = straightOn(sections, run)) {
      if (other.length >= MOST_SECTIONS || other.includes(run)) break;
      other.push(run);
      if (goals.includes(run)) return other;
      if (arrivalOf(sections, run).node === beginOf(sections, first).node) break;
    }
  }
  return undefined;
}

/** The other road of fewest sections, whichever way the turnouts between lie. */
function anyOther(sections: Sections, road: readonly Run[]): Run[] | undefined {
  const straight = straightOther(sections, road);
  if (straight) return straight;
  const [first, last] = [road[0] ?? 0, road.at(-1) ?? 0];
  const goals = new Set(besideAtEnd(sections, last));
  const taken = new Set(road.map(sectionOf));
  const start = beginOf(sections, first).node;
  const before = new Map<Run, Run | undefined>();
  const queue: Run[] = [];
  const push = (run: Run, from: Run | undefined): void => {
    if (taken.has(sectionOf(run)) || before.has(run)) return;
    before.set(run, from);
    queue.push(run);
  };
  for (const run of besideAtStart(sections, first)) push(run, undefined);
  for (let i = 0; i < queue.length && i < MOST_LOOKS; i++) {
    const run = queue[i] ?? 0;
    if (goals.has(run)) return backTo(before, run);
    if (arrivalOf(sections, run).node === start) continue;
    for (const next of sections.next[run] ?? []) push(next, run);
  }
  return undefined;
}

function backTo(before: ReadonlyMap<Run, Run | undefined>, last: Run): Run[] {
  const runs: Run[] = [];
  for (let run: Run | undefined = last; run !== undefined; run = before.get(run)) runs.push(run);
  return runs.reverse();
}
