/**
 * Yards: class tracks that hang together by yard and lead track, and the lead on which they are switched, that is what
 * lies off the main beyond the last turnout by which they come together.
 */
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import { besideAtEnd, reversed, type Run, sectionOf, type Sections, sectionsOf } from "../layout/sections.js";
import type { TrackClass } from "../plan/schema.js";
import { rememberBeside } from "./remember.js";
import { placeOnRuns, type TrackPlace } from "./runs-of-track.js";
import { type StandingTrack, standingTracks, usesOf } from "./standing-tracks.js";
import { wayOut } from "./way-out.js";

export interface Yard {
  /** Longest first. */
  readonly tracks: readonly [StandingTrack, ...StandingTrack[]];
  /** Off the main, mm; 0 where the yard hangs on the main itself. */
  readonly lead: Millimetres;
  /** Where the lead begins. */
  readonly throat: TrackPlace | undefined;
}

/** Leads are not measured beyond this many times the longest track. */
const ENOUGH = 4;

export function yardsOf(layout: Layout): Yard[] {
  const sections = sectionsOf(layout.network);
  const uses = usesOf(layout);
  let groups = knownGroups.get(uses);
  if (!groups) knownGroups.set(uses, (groups = groupsOf(sections, uses)));
  const byGroup = new Map<number, StandingTrack[]>();
  for (const track of standingTracks(layout, "yard")) {
    const group = groups[sectionOf(track.runs[0] ?? 0)] ?? -1;
    const own = byGroup.get(group);
    if (own) own.push(track);
    else byGroup.set(group, [track]);
  }
  return [...byGroup.values()].flatMap((own): Yard[] => {
    const [longest, ...others] = [...own].sort((p, q) => q.clear - p.clear || (p.track.key < q.track.key ? -1 : 1));
    return longest ? [{ tracks: [longest, ...others], ...leadOf(layout, sections, uses, own, longest.clear) }] : [];
  });
}

/** By what every section is used as, which stays the same list while nothing of it changes. */
const knownGroups = new WeakMap<readonly (TrackClass | undefined)[], readonly (number | undefined)[]>();

const isOff = (use: TrackClass | undefined): boolean => use === "yard" || use === "lead";

/** The group of yard and lead sections each of these belongs to: the number of the group's first section. */
function groupsOf({ sections, leaving }: Sections, uses: readonly (TrackClass | undefined)[]): (number | undefined)[] {
  const group: (number | undefined)[] = sections.map(() => undefined);
  sections.forEach((_, root) => {
    if (group[root] !== undefined || uses[root] !== "yard") return;
    const queue = [root];
    group[root] = root;
    for (const i of queue) {
      const section = sections[i];
      for (const end of section ? [section.a, section.b] : []) {
        for (const run of leaving.get(end.node)?.flat() ?? []) {
          const other = sectionOf(run);
          if (group[other] !== undefined || !isOff(uses[other])) continue;
          group[other] = root;
          queue.push(other);
        }
      }
    }
  });
  return group;
}

/** The longest lead beyond the places at which most of the tracks have come together. */
function leadOf(
  layout: Layout,
  sections: Sections,
  uses: readonly (TrackClass | undefined)[],
  tracks: readonly StandingTrack[],
  longest: Millimetres,
): Pick<Yard, "lead" | "throat"> {
  const { standing, throats } = throatsOf(tracks[0]?.runs ?? NO_RUNS, sections, ...tracks.map(({ runs }) => runs));
  const mayUse = (section: number): boolean => isOff(uses[section]) && !standing.has(section);
  let lead: Millimetres = 0;
  let best = throats[0];
  for (const run of throats) {
    const length = wayOut(layout, run, ENOUGH * longest, mayUse);
    if (length <= lead) continue;
    lead = length;
    best = run;
  }
  return { lead, throat: best === undefined ? undefined : placeOnRuns(layout, [best], 0) };
}

const NO_RUNS: readonly Run[] = [];

/** Remembered beside the runs of the first: sections stood on, and the runs one comes to out of as many of the tracks as can be. */
const throatsOf = rememberBeside(
  (
    _first: readonly Run[],
    sections: Sections,
    ...tracks: readonly (readonly Run[])[]
  ): { readonly standing: ReadonlySet<number>; readonly throats: readonly Run[] } => {
    const together = new Map<Run, number>();
    for (const runs of tracks) {
      const out = new Set<Run>();
      for (const end of [runs.at(-1) ?? 0, reversed(runs[0] ?? 0)]) {
        if (besideAtEnd(sections, end).length === 0) continue;
        for (const run of outOver(sections, end)) out.add(run);
      }
      for (const run of out) together.set(run, (together.get(run) ?? 0) + 1);
    }
    const most = Math.max(0, ...together.values());
    const throats = [...together].flatMap(([run, count]) => (count === most ? [run] : []));
    return { standing: new Set(tracks.flatMap((runs) => runs.map(sectionOf))), throats };
  },
);

/** Ladders of more turnouts have not been built. */
const LONGEST_LADDER = 64;

/** Runs one comes to out of a track as long as turnouts are only met from behind. */
function outOver(sections: Sections, end: Run): Run[] {
  const runs: Run[] = [];
  for (let following = sections.next[end] ?? []; following.length === 1 && runs.length < LONGEST_LADDER; ) {
    const [run = end] = following;
    if (runs.includes(run)) break;
    runs.push(run);
    following = besideAtEnd(sections, run).length > 0 ? (sections.next[run] ?? []) : [];
  }
  return runs;
}
