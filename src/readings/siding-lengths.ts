/**
 * Double-ended sidings: which of two parallel roads is the siding, what it is called, and how much of it lies between its
 * fouling points. What is shorter than a car between them (a crossover) is no siding; where its roads do not part at all,
 * one too long for a crossover is, and has no clear length.
 */
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import { type PassingWay, passingWays } from "../layout/passing-ways.js";
import { diverges, reversed, type Run, sectionsOf } from "../layout/sections.js";
import { TRACK_CLASSES, type TrackClass } from "../plan/schema.js";
import { FAR_REACH, legReach } from "./leg-shape.js";
import { remember } from "./remember.js";
import {
  clearStretch,
  lengthOfRuns,
  nameOfTrack,
  placeOnRuns,
  type TrackPlace,
  trackOfRuns,
  useOf,
} from "./runs-of-track.js";

export interface Siding {
  /** Track there is most of on it, after which it is called. */
  readonly track: Line;
  readonly name: string;
  /** What it is used as; `staging` for all that lies on a staging deck. */
  readonly use: TrackClass;
  /** The siding from end to end, and the road beside it from the same turnout to the same. */
  readonly road: readonly Run[];
  readonly other: readonly Run[];
  /** Between the fouling points, mm; 0 where its roads do not stand clear of one another. */
  readonly clear: Millimetres;
  /** Where along the road that begins. */
  readonly from: Millimetres;
  /** What of the road beside it is clear. */
  readonly otherClear: Millimetres;
  /** Cars that stand there, of the longest kind and of the average. */
  readonly longestCars: number;
  readonly cars: number;
  /** The middle of what is clear. */
  readonly middle: TrackPlace;
}

/** Lengths short of a whole number of cars by less hold them, mm: track is laid to no better. */
const SLACK: Millimetres = 0.5;

/** How many of a length stand in a clear length. */
export const countIn = (clear: Millimetres, each: Millimetres): number =>
  Math.max(0, Math.floor((clear + SLACK) / each));

/** All double-ended sidings of a layout in the order of their tracks' ids; staging and yard tracks are among them. */
export const sidingsOf = remember((layout: Layout): readonly Siding[] => {
  return passingWays(layout.network)
    .flatMap((way) => sidingOf(layout, way) ?? [])
    .sort(byTrack);
});

const byTrack = (p: Siding, q: Siding): number =>
  p.track.key < q.track.key ? -1 : p.track.key > q.track.key ? 1 : p.clear - q.clear;

function sidingOf(layout: Layout, way: PassingWay): Siding | undefined {
  const [road, other] = sidingFirst(layout, way);
  const track = trackOfRuns(layout, road);
  const { from, clear, parts } = clearStretch(layout, road);
  const { standards } = layout.plan;
  const { longestCar, averageCar } = standards;
  const isSiding = parts
    ? countIn(clear, averageCar.value) > 0
    : lengthOfRuns(layout, road) > legReach(standards, FAR_REACH);
  const middle = placeOnRuns(layout, road, from + clear / 2);
  if (!isSiding || !track || !middle) return undefined;
  return {
    track,
    name: nameOfTrack(layout, track),
    use: useOf(layout, track),
    road,
    other,
    clear,
    from,
    otherClear: clearStretch(layout, other).clear,
    longestCars: countIn(clear, longestCar.value.overCouplers),
    cars: countIn(clear, averageCar.value),
    middle,
  };
}

/** Of two roads that of the lesser class is the siding; of one class, that which leaves the other at both ends. */
function sidingFirst(layout: Layout, { road, other }: PassingWay): readonly [readonly Run[], readonly Run[]] {
  const sections = sectionsOf(layout.network);
  const [track, beside] = [trackOfRuns(layout, road), trackOfRuns(layout, other)];
  const rank = (line: Line | undefined): number => (line ? TRACK_CLASSES.indexOf(useOf(layout, line)) : 0);
  const leaves = (runs: readonly Run[]): number =>
    Number(diverges(sections, runs[0] ?? 0)) + Number(diverges(sections, reversed(runs.at(-1) ?? 0)));
  const turn = rank(track) - rank(beside) || leaves(road) - leaves(other);
  const first = turn === 0 ? (track?.key ?? "") <= (beside?.key ?? "") : turn > 0;
  return first ? [road, other] : [other, road];
}
