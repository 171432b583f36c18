/** Runs of sections as track: which track they mostly are, its class, and where a distance along them lies. */
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import {
  edgesOf,
  type EdgeRun,
  type Run,
  reversed,
  sectionOf,
  sectionLengths,
  type Sections,
  sectionsOf,
} from "../layout/sections.js";
import type { TrackClass } from "../plan/schema.js";
import { legFouling } from "./fouling-point.js";
import { edgeStamps } from "./edge-stamps.js";
import { sameItems } from "./remember.js";

const edgesOfRuns = (layout: Layout, runs: readonly Run[]): readonly EdgeRun[] => {
  const sections = sectionsOf(layout.network);
  return runs.length === 1 ? edgesOf(sections, runs[0] ?? 0) : runs.flatMap((run) => edgesOf(sections, run));
};

/**
 * The track there is most of on runs; a turnout's route where there is no track at all. Of two there is as much of, the
 * first by key.
 */
export function trackOfRuns(layout: Layout, runs: readonly Run[]): Line | undefined {
  const { lines, network } = layout;
  const edges = edgesOfRuns(layout, runs);
  const tracks = edges.filter(({ line }) => line.startsWith("track:"));
  const [first] = tracks;
  if (first && tracks.every(({ line }) => line === first.line)) return lines.get(first.line);
  const lengths = new Map<Line, Millimetres>();
  for (const { edge, line: key } of edges) {
    const line = lines.get(key);
    if (line) lengths.set(line, (lengths.get(line) ?? 0) + (network.edges[edge]?.length ?? 0));
  }
  let most: Line | undefined;
  for (const [line, length] of lengths) {
    if (!most || before(line, length, most, lengths.get(most) ?? 0)) most = line;
  }
  return most;
}

/** Lengths nearer than this are one: sums of them are taken in another order. */
const SAME_LENGTH: Millimetres = 1e-6;

function before(line: Line, length: Millimetres, other: Line, otherLength: Millimetres): boolean {
  if (line.kind !== other.kind) return line.kind === "track";
  return Math.abs(length - otherLength) < SAME_LENGTH ? line.key < other.key : length > otherLength;
}

interface KnownTracks {
  readonly tracks: readonly (Line | undefined)[];
  readonly made: number;
}
const known = new WeakMap<Sections, KnownTracks>();

/** The track every section mostly is; the same list as long as all of these stay. */
export function sectionTracks(layout: Layout): readonly (Line | undefined)[] {
  const sections = sectionsOf(layout.network);
  const last = known.get(sections);
  const { stamps, now } = edgeStamps(layout);
  if (last?.made === now) return last.tracks;
  const tracks = sections.sections.map(({ edges }, i) => {
    const stays = last && edges.every(({ edge }) => (stamps[edge] ?? 0) <= last.made);
    return stays ? last.tracks[i] : trackOfRuns(layout, [2 * i]);
  });
  const next = { tracks: last && sameItems(last.tracks, tracks) ? last.tracks : tracks, made: now };
  known.set(sections, next);
  return next.tracks;
}

export const isStaging = ({ plan }: Layout, line: Line | undefined): boolean =>
  line !== undefined && (line.class === "staging" || plan.decks[line.deck]?.kind === "staging");

/** Class by which a line's track is used: what lies on a staging deck is staging. */
export const useOf = (layout: Layout, line: Line): TrackClass => (isStaging(layout, line) ? "staging" : line.class);

/** What a track is called. */
export const nameOfTrack = ({ plan }: Layout, { kind, id }: Line): string =>
  (kind === "track" ? plan.tracks[id]?.name : plan.turnouts[id]?.name) ?? id;

export function lengthOfRuns(layout: Layout, runs: readonly Run[]): Millimetres {
  const lengths = sectionLengths(layout.network);
  return runs.reduce((sum, run) => sum + (lengths[sectionOf(run)] ?? 0), 0);
}

export interface TrackPlace {
  readonly line: Line;
  readonly s: Millimetres;
  /** Whether the runs go the way the line does. */
  readonly forwards: boolean;
}

/** The place a distance along runs; their end where they are shorter; undefined where there are none. */
export function placeOnRuns(layout: Layout, runs: readonly Run[], distance: Millimetres): TrackPlace | undefined {
  let begin = 0;
  let found: TrackPlace | undefined;
  for (const { edge: index, line: key, forwards } of edgesOfRuns(layout, runs)) {
    const edge = layout.network.edges[index];
    const line = layout.lines.get(key);
    if (!edge || !line) continue;
    const into = Math.min(Math.max(0, distance - begin), edge.length);
    found = { line, s: forwards ? edge.from + into : edge.to - into, forwards };
    begin += edge.length;
    if (distance <= begin) break;
  }
  return found;
}

export interface ClearStretch {
  /** Where it begins, along the runs, and how long it is, mm; 0 where the ways at an end do not part. */
  readonly from: Millimetres;
  readonly clear: Millimetres;
  /** Whether the ways part at both ends. */
  readonly parts: boolean;
}

/** What of runs lies between the fouling points at their ends. */
export function clearStretch(layout: Layout, runs: readonly Run[]): ClearStretch {
  const [first, last] = [runs[0], runs.at(-1)];
  const from = first === undefined ? undefined : legFouling(layout, first);
  const back = last === undefined ? undefined : legFouling(layout, reversed(last));
  const length = lengthOfRuns(layout, runs);
  if (from === undefined || back === undefined) return { from: length / 2, clear: 0, parts: false };
  return { from: Math.min(from, length), clear: Math.max(0, length - from - back), parts: true };
}
