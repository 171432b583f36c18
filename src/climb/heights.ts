/**
 * Heights of a way: level for half a vertical curve at both ends, one even grade between, as gentle as the way allows;
 * where that leaves too little height between passes, the grade is steeper and the level ends longer.
 *
 * Not modelled: grades eased on curves, and more than one grade in a route; ways that need them are given up.
 */
import type { Millimetres } from "../geometry/units.js";
import { nearPlaces } from "./element.js";
import type { Band, ExistingTrack } from "./existing-track.js";
import type { Way } from "./find-ways.js";
import { type ClimbLimits, leadFor } from "./limits.js";

export interface ClimbHeights {
  /** Where the grade begins and ends, as distances along the way. */
  readonly from: Millimetres;
  readonly to: Millimetres;
  /** Ratio. */
  readonly grade: number;
}

/** Grades and places tried between the gentlest and the limit. */
const GRADES = 8;
const PLACES = 6;
/** A grade at its limit is kept to it: rounding. */
const ROUNDING = 1e-9;

/** Undefined where no such heights keep the gap. */
export function climbHeights(
  way: Way,
  low: Millimetres,
  rise: Millimetres,
  limits: ClimbLimits,
  existing: ExistingTrack,
): ClimbHeights | undefined {
  const curves = way.turns.flatMap(({ parts }) => parts.map(({ shape }) => shape.radius));
  const steepest = limits.gradeOn(Math.min(...curves));
  const gentlest = gentlestGrade(way.length, rise, limits);
  if (!(gentlest <= steepest + ROUNDING)) return undefined;
  const pairs = passesOver(way, limits);
  const bands = passesTrack(way, limits, existing);
  for (let i = 0; i <= GRADES; i++) {
    const grade = gentlest + ((steepest - gentlest) * i) / GRADES;
    const lead = leadFor(limits, grade);
    const climb = rise / grade;
    const spare = Math.max(0, way.length - 2 * lead - climb);
    for (let j = 0; j <= (i === 0 ? 0 : PLACES); j++) {
      // The middle first, then to either side of it.
      const share = 0.5 + ((j % 2 === 0 ? 1 : -1) * Math.ceil(j / 2)) / PLACES;
      const from = lead + spare * share;
      const heights = { from, to: from + climb, grade };
      const passes =
        pairs.every(([a, b]) => heightOn(heights, b) - heightOn(heights, a) >= limits.gap) &&
        bands.every(([s, { from: under, to: over }]) => {
          const height = low + heightOn(heights, s);
          return height <= under || height >= over;
        });
      if (passes) return heights;
    }
  }
  return undefined;
}

const heightOn = ({ from, to, grade }: ClimbHeights, s: Millimetres): Millimetres =>
  grade * (Math.min(Math.max(s, from), to) - from);

/** The uniform grade that gains the rise between leads that grow with it: grade (length - 2 lead grade) = rise. */
function gentlestGrade(length: Millimetres, rise: Millimetres, { lead }: ClimbLimits): number {
  if (lead === 0) return rise / length;
  const root = length * length - 8 * lead * rise;
  return root < 0 ? Number.POSITIVE_INFINITY : (length - Math.sqrt(root)) / (4 * lead);
}

/** Places near existing track, and the heights they may not have. */
function passesTrack(
  { elements }: Way,
  { apart, throws }: ClimbLimits,
  existing: ExistingTrack,
): [Millimetres, Band][] {
  return elements.flatMap(({ points, stations, begins, curved }) =>
    [...stations].flatMap((station, i): [Millimetres, Band][] => {
      const band = existing.bandAt(points[2 * i] ?? 0, points[2 * i + 1] ?? 0, apart + (curved ? throws : 0));
      return band ? [[begins + station, band]] : [];
    }),
  );
}

/** Pairs of places, earlier and later, of which the later passes over the earlier. */
function passesOver({ elements }: Way, { apart, throws }: ClimbLimits): (readonly [number, number])[] {
  const pairs: (readonly [number, number])[] = [];
  elements.forEach((later, j) => {
    for (const earlier of elements.slice(0, j + 1)) {
      const reach = apart + (earlier.curved ? throws : 0) + (later.curved ? throws : 0);
      nearPlaces(earlier, later, reach, 2 * (apart + 2 * throws), (a, b) => {
        pairs.push([a, b]);
        return false;
      });
    }
  });
  return pairs;
}
