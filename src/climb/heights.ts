/**
 * Heights of a way: an even grade, as gentle as the way allows, begun and ended within the route or run on into track
 * whose heights are free, with a level stretch on the way where one is asked for. Where the gentlest leaves too little
 * height between passes it is steeper, with more level at its ends.
 *
 * Always holds: the heights of a way keep the gap over itself and past existing track, vertical curves included; the
 * grade never exceeds that of the sharpest curve, nor of the track it runs on over.
 * Not modelled: grades eased on curves; ways that need them are given up.
 */
import type { Millimetres } from "../geometry/units.js";
import { type Element, finer, nearPlaces } from "./element.js";
import type { Band, ExistingTrack } from "./existing-track.js";
import type { Way } from "./find-ways.js";
import type { ClimbLimits } from "./limits.js";
import { endOfGrade, type Ending, gentlestGrade, levelBetween, type Rise, ROUNDING } from "./task.js";

/** A place where the grade changes: distance along the way, negative or beyond its end where it runs on; height over the foot. */
export interface Knot {
  readonly s: Millimetres;
  readonly h: Millimetres;
}

export interface ClimbHeights {
  readonly knots: readonly Knot[];
  /** Ratio. */
  readonly grade: number;
  readonly endings: readonly [Ending, Ending];
  /** The level stretch that was asked for, between its vertical curves. */
  readonly level: readonly [Millimetres, Millimetres] | undefined;
}

/** Grades and places tried between the gentlest and the limit. */
const GRADES = 6;
const PLACES = 4;
/** Places of a level stretch tried, as shares of the climb below it. */
const LEVELS = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8];
const WITHOUT_LEVEL = [1];
/** Passes are looked at in such steps: at the steepest grade less than a millimetre of height. */
const FINE: Millimetres = 20;
/** Level beside level is so to rounding, mm. */
const EXACT: Millimetres = 1e-6;

const ENDINGS: readonly (readonly [Ending, Ending])[] = [
  ["on", "on"],
  ["own", "on"],
  ["on", "own"],
  ["own", "own"],
];

/** For every way the grade may end the gentlest heights that keep all gaps; the gentlest of all first. */
export function climbHeights(way: Way, rise: Rise, limits: ClimbLimits, existing: ExistingTrack): ClimbHeights[] {
  const steepest = limits.gradeOn(sharpestOf(way));
  let passes: Passes | undefined;
  const found: ClimbHeights[] = [];
  for (const endings of ENDINGS) {
    const gentlest = gentlestGrade(limits, rise, way.length, endings, steepest);
    if (gentlest === undefined) continue;
    passes ??= passesOf(way, limits, existing);
    const heights = gentlestOf(way, rise, limits, endings, gentlest, steepest, passes);
    if (heights) found.push(heights);
  }
  return found.sort((a, b) => a.grade - b.grade);
}

/** Infinite where it is straight throughout. */
export const sharpestOf = ({ turns }: Pick<Way, "turns">): Millimetres =>
  Math.min(Number.POSITIVE_INFINITY, ...turns.flatMap(({ parts }) => parts.map(({ shape }) => shape.radius)));

interface Passes {
  readonly over: readonly (readonly [number, number])[];
  readonly by: readonly (readonly [Millimetres, Band])[];
}

function gentlestOf(
  way: Way,
  rise: Rise,
  limits: ClimbLimits,
  endings: readonly [Ending, Ending],
  gentlest: number,
  steepest: number,
  passes: Passes,
): ClimbHeights | undefined {
  const most = Math.min(steepest, ...rise.rooms.map((room, i) => (endings[i] === "on" ? room.steepest : Infinity)));
  for (let i = 0; i <= GRADES; i++) {
    const grade = gentlest + ((most - gentlest) * i) / GRADES;
    const begins = endOfGrade(limits, rise.rooms[0], grade, endings[0]);
    const ends = endOfGrade(limits, rise.rooms[1], grade, endings[1]);
    if (begins === undefined || ends === undefined) continue;
    const between = levelBetween(limits, rise, grade);
    const climb = rise.rise / grade;
    const spare = Math.max(0, way.length - ends - begins - climb - between);
    // Grades that run on to a pin begin or end there and nowhere else.
    const fixed = endings[0] === "on" ? [0] : endings[1] === "on" ? [1] : undefined;
    if (fixed && endings[0] === endings[1] && spare > ROUNDING * way.length && i > 0) break;
    for (const share of fixed ?? shares(i === 0 ? 0 : PLACES)) {
      for (const below of between > 0 ? LEVELS : WITHOUT_LEVEL) {
        const from = begins + spare * share;
        const to = from + climb + between;
        const middle = from + climb * below;
        const knots: Knot[] = [{ s: from, h: 0 }];
        if (between > 0) {
          knots.push({ s: middle, h: rise.rise * below });
          knots.push({ s: middle + between, h: rise.rise * below });
        }
        knots.push({ s: to, h: rise.rise });
        const lead = limits.lead * grade;
        const level = between > 0 ? ([middle + lead, middle + between - lead] as const) : undefined;
        if (level && (level[0] < 0 || level[1] > way.length)) continue;
        const profile = new Heights(knots, limits);
        if (keeps(profile, rise.low, limits, passes)) return { knots, grade, endings, level };
      }
    }
    if (spare === 0 && fixed) break;
  }
  return undefined;
}

/** The middle first, then to either side of it. */
const shares = (places: number): number[] =>
  Array.from({ length: places + 1 }, (_, j) => 0.5 + ((j % 2 === 0 ? 1 : -1) * Math.ceil(j / 2)) / Math.max(1, places));

function keeps(profile: Heights, low: Millimetres, limits: ClimbLimits, { over, by }: Passes): boolean {
  return (
    over.every(([a, b]) => profile.at(b) - profile.at(a) >= limits.gap) &&
    by.every(([s, { from: under, to: above }]) => {
      const height = low + profile.at(s);
      return height <= under + EXACT || height >= above - EXACT;
    })
  );
}

/** Heights over the foot, with the parabolas at the changes of grade. */
class Heights {
  private readonly changes: readonly number[];

  constructor(
    private readonly knots: readonly Knot[],
    private readonly limits: ClimbLimits,
  ) {
    const slope = (i: number): number => {
      const [a, b] = [knots[i], knots[i + 1]];
      return a && b ? (b.h - a.h) / (b.s - a.s) : 0;
    };
    this.changes = knots.map((_, i) => slope(i) - slope(i - 1));
  }

  at(s: Millimetres): Millimetres {
    const { knots } = this;
    const [first, last] = [knots[0], knots.at(-1)];
    if (!first || !last) return 0;
    let h = s <= first.s ? first.h : last.h;
    for (let i = 0; i + 1 < knots.length; i++) {
      const [a, b] = [knots[i], knots[i + 1]];
      if (a && b && s > a.s && s <= b.s) h = a.h + ((b.h - a.h) * (s - a.s)) / (b.s - a.s);
    }
    knots.forEach(({ s: at }, i) => {
      const change = this.changes[i] ?? 0;
      const half = this.limits.lead * Math.abs(change);
      const within = half - Math.abs(s - at);
      if (within > 0) h += (change * within * within) / (4 * half);
    });
    return h;
  }
}

function passesOf(way: Way, limits: ClimbLimits, existing: ExistingTrack): Passes {
  const fine = way.elements.map((element) => finer(element, FINE));
  return { over: passesOver(way.elements, fine, limits), by: passesTrack(fine, limits, existing) };
}

/** Places near existing track, and the heights they may not have. */
function passesTrack(
  elements: readonly Element[],
  { throws }: ClimbLimits,
  existing: ExistingTrack,
): [Millimetres, Band][] {
  return elements.flatMap(({ points, stations, begins, curved }) =>
    [...stations].flatMap((station, i) =>
      existing
        .bandsAt(points[2 * i] ?? 0, points[2 * i + 1] ?? 0, curved ? throws : 0)
        .map((band): [Millimetres, Band] => [begins + station, band]),
    ),
  );
}

/** Pairs of places, earlier and later, of which the later passes over the earlier. */
function passesOver(
  elements: readonly Element[],
  fine: readonly Element[],
  { apart, throws }: ClimbLimits,
): (readonly [number, number])[] {
  const pairs: (readonly [number, number])[] = [];
  fine.forEach((later, j) => {
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
