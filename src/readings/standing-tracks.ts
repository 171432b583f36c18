/**
 * Tracks that cars or trains are left standing on, in yards, staging and spurs: what lies of them between the turnouts
 * that lead to others of their kind. Ladders and throats are no such tracks: who stands there shuts the others in.
 *
 * Always holds: no two standing tracks have a section in common; a clear length is between fouling points and the end of
 * the rails; each holds at least an average car, but for spurs, which are told however short.
 */
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import {
  besideAtEnd,
  besideAtStart,
  firstLine,
  lastLine,
  reversed,
  type Run,
  sectionOf,
  type Sections,
  sectionsOf,
} from "../layout/sections.js";
import type { TrackClass } from "../plan/schema.js";
import { clearStretch, nameOfTrack, placeOnRuns, sectionTracks, trackOfRuns, useOf } from "./runs-of-track.js";
import { countIn } from "./siding-lengths.js";
import type { Place } from "./reading.js";
import { remember, sameItems } from "./remember.js";
import { placeOn } from "./rule.js";

export interface StandingTrack {
  readonly track: Line;
  readonly name: string;
  readonly use: TrackClass;
  /** From one end to the other. */
  readonly runs: readonly Run[];
  /** Between fouling points and ends of rail, mm, and where along the runs that begins. */
  readonly clear: Millimetres;
  readonly from: Millimetres;
  /** Average cars that stand there. */
  readonly cars: number;
}

/** The place of a reading that stands for a track: the middle of what is clear of it. */
export function placeOfTrack(
  layout: Layout,
  { runs, from, clear }: StandingTrack,
  value: number,
  note: string,
): Place[] {
  const at = placeOnRuns(layout, runs, from + clear / 2);
  return at ? [placeOn(at.line, at.s, value, note)] : [];
}

type Use = Extract<TrackClass, "yard" | "staging" | "spur">;

/** All standing tracks by use, in the order of their tracks' ids. */
const byUse = remember(
  (layout: Layout): Readonly<Record<Use, readonly StandingTrack[]>> => ({
    yard: standingOf(layout, "yard"),
    staging: standingOf(layout, "staging"),
    spur: standingOf(layout, "spur"),
  }),
);

export const standingTracks = (layout: Layout, use: Use): readonly StandingTrack[] => byUse(layout)[use];

/** How a chain of sections ends: at the end of the rails, as one of the legs of a turnout, or at its points. */
type ChainEnd = "rails" | "leg" | "points";

/** Sections that follow one another with nothing between them but turnouts to spurs. */
interface Chain {
  readonly runs: readonly Run[];
  /** Whether it ends at the end of the rails. */
  readonly stub: boolean;
  /** Sections beyond the points it ends at. */
  readonly beyond: readonly number[];
}

interface Chains {
  readonly chains: readonly Chain[];
  /** Index of the chain of each section that is in one. */
  readonly chainOf: ReadonlyMap<number, number>;
}

function standingOf(layout: Layout, use: Use): StandingTrack[] {
  const { chains, chainOf } = chainsOf(sectionsOf(layout.network), usesOf(layout), use);
  const { averageCar } = layout.plan.standards;
  const stretches = chains.map(({ runs }) => clearStretch(layout, runs));
  const clearBeyond = (section: number): Millimetres => stretches[chainOf.get(section) ?? -1]?.clear ?? 0;
  return chains
    .flatMap(({ runs, stub, beyond }, i): StandingTrack[] => {
      const { from, clear } = stretches[i] ?? { from: 0, clear: 0 };
      if (beyond.some((section) => clear <= clearBeyond(section))) return [];
      const cars = countIn(clear, averageCar.value);
      const track = trackOfRuns(layout, runs);
      if (!track || (cars === 0 && !(stub && use === "spur"))) return [];
      return [{ track, name: nameOfTrack(layout, track), use, runs, from, clear, cars }];
    })
    .sort((p, q) => (p.track.key < q.track.key ? -1 : p.track.key > q.track.key ? 1 : p.clear - q.clear));
}

type Uses = readonly (TrackClass | undefined)[];

/** By sections, so that the list stays the same while it holds the same. */
const lastUses = new WeakMap<Sections, Uses>();

/** What every section is used as; the same list as long as nothing of it changes. */
export const usesOf = remember((layout: Layout): Uses => {
  const sections = sectionsOf(layout.network);
  const uses = sectionTracks(layout).map((track) => track && useOf(layout, track));
  const last = lastUses.get(sections);
  if (last && sameItems(last, uses)) return last;
  lastUses.set(sections, uses);
  return uses;
});

const knownChains = new WeakMap<Uses, Map<Use, Chains>>();

function chainsOf(sections: Sections, uses: Uses, use: Use): Chains {
  let known = knownChains.get(uses);
  if (!known) knownChains.set(uses, (known = new Map()));
  const last = known.get(use);
  if (last) return last;
  const chains: Chain[] = [];
  const chainOf = new Map<number, number>();
  uses.forEach((own, i) => {
    if (own !== use || chainOf.has(i)) return;
    const chain = chainThrough(sections, uses, use, 2 * i);
    for (const run of chain.runs) chainOf.set(sectionOf(run), chains.length);
    chains.push(chain);
  });
  const next = { chains, chainOf };
  known.set(use, next);
  return next;
}

function chainThrough(sections: Sections, uses: Uses, use: Use, seed: Run): Chain {
  const on = extend(sections, uses, use, seed);
  const back = extend(sections, uses, use, reversed(seed));
  const runs = [...back.map(reversed).reverse(), seed, ...on.filter((run) => !back.includes(reversed(run)))];
  const ends = outward(runs).map((run) => ({ run, end: endOf(sections, run) }));
  const beyond = ends.flatMap(({ run, end }) => (end === "points" ? (sections.next[run] ?? []).map(sectionOf) : []));
  return { runs, stub: ends.some(({ end }) => end === "rails"), beyond };
}

/** The runs by which its ends are come to. */
const outward = (runs: readonly Run[]): Run[] => [runs.at(-1) ?? 0, reversed(runs[0] ?? 0)];

function endOf(sections: Sections, run: Run): ChainEnd {
  if (besideAtEnd(sections, run).length > 0) return "leg";
  return (sections.next[run] ?? []).length > 1 ? "points" : "rails";
}

/** Sections that follow past turnouts where nothing but a spur, or nothing at all, leaves. */
function extend(sections: Sections, uses: readonly (TrackClass | undefined)[], use: Use, seed: Run): Run[] {
  const runs: Run[] = [];
  const met = new Set([sectionOf(seed)]);
  for (let run = seed; use !== "spur"; ) {
    const line = lastLine(sections, run);
    const next = (sections.next[run] ?? []).find((one) => firstLine(sections, one) === line);
    if (next === undefined || uses[sectionOf(next)] !== use || met.has(sectionOf(next))) break;
    const aside = [...besideAtEnd(sections, run).map(reversed), ...besideAtStart(sections, next)];
    if (!aside.every((leg) => leadsAside(sections, uses, leg))) break;
    met.add(sectionOf(next));
    runs.push((run = next));
  }
  return runs;
}

/** Whether a leg is a spur, or a turnout that nothing follows yet. */
const leadsAside = (sections: Sections, uses: Uses, leg: Run): boolean =>
  uses[sectionOf(leg)] === "spur" ||
  (firstLine(sections, leg) === lastLine(sections, leg) &&
    (firstLine(sections, leg) ?? "").startsWith("turnout:") &&
    (sections.next[leg] ?? []).length === 0);
