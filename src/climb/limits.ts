/** The plan's limits as the search needs them: grades that keep both grade and grade felt, and the room a track takes. */
import { limitsOf } from "../plan/class-limits.js";
import { centreThrow, endThrow } from "../geometry/throw.js";
import type { Millimetres } from "../geometry/units.js";
import type { Plan, TrackClass } from "../plan/schema.js";

/** Kept beyond the limits for gaps and centres, so that rounding of samples never decides, mm. */
const SPARE: Millimetres = 1.5;

/** Curves of a route are seldom all wider than this many times the least radius. */
const GENTLE = 1.25;

export interface ClimbLimits {
  readonly radius: Millimetres;
  readonly easement: Millimetres;
  /** Grade, as a ratio, of a route of gentle curves: what is told where there is no route to go by. */
  readonly usualGrade: number;
  /** Steepest uniform grade of a route whose sharpest curve has this radius: it keeps the grade, and the grade felt. */
  readonly gradeOn: (radius: Millimetres) => number;
  /** Least radius on which one whole circle gains the gap: 2 pi R g = gap, where g + drag / R is felt at most. */
  readonly helix: Millimetres;
  /** Railhead over railhead where the route passes over track. */
  readonly gap: Millimetres;
  /** Railhead under railhead where it passes under track on a deck so thick. */
  readonly gapUnder: (thickness: Millimetres) => Millimetres;
  /** Centre lines farther apart than this, plus throws, do not concern one another. */
  readonly apart: Millimetres;
  /** Centres of tracks beside one another, before throws; and how far apart in height they are still that. */
  readonly centres: Millimetres;
  readonly level: Millimetres;
  /** Throw of the longest car on the least radius, the greater of both sides. */
  readonly throws: Millimetres;
  readonly bench: Millimetres;
  readonly wall: Millimetres;
  /** Straight between curves of opposite hand; none where both are eased. */
  readonly reverse: Millimetres;
  /** Half a vertical curve from level, as a multiple of the grade (ratio). */
  readonly lead: Millimetres;
}

/** A helix a little wider than the least gains the gap even where a swing onto it takes some of its length. */
const WIDER = 1.04;
/** Where a helix wants curves wider by less than this, the class's least radius is helix enough. */
const SAME_RADIUS = 1.02;

/**
 * The limits with every least radius worth a search of its own: the class's, and where a climb over itself wants wider
 * curves, or a gentler felt grade, those. One grade goes all the way, so one sharp curve costs it everywhere.
 */
export function radiiWorth(limits: ClimbLimits): ClimbLimits[] {
  const { radius, helix } = limits;
  const radii = helix > SAME_RADIUS * radius ? [radius, WIDER * helix] : [helix];
  return radii.map((least) => ({ ...limits, radius: least, helix: Math.max(least, helix) }));
}

export function climbLimits(plan: Plan, trackClass: TrackClass): ClimbLimits {
  const { standards } = plan;
  const own = limitsOf(plan, trackClass);
  const car = standards.longestCar.value;
  const radius = own.radius.value;
  const easement = own.easement.value;
  const drag = standards.curveDrag.value;
  const gradeOn = (sharpest: Millimetres): number =>
    Math.min(own.grade.value, own.feltGrade.value - drag / sharpest) / 100;
  const throws = Math.max(centreThrow(radius, car.truckCentres), endThrow(radius, car.length, car.truckCentres));
  const clear = Math.max(standards.overTrack.value, car.height) + SPARE;
  const gap = clear + standards.trackStructure.value;
  const round = (100 * gap) / (2 * Math.PI);
  return {
    radius,
    easement,
    usualGrade: gradeOn(GENTLE * radius),
    gradeOn,
    helix: Math.max(radius, 0.5 + Math.max(round / own.grade.value, (round + drag) / own.feltGrade.value)),
    gap,
    gapUnder: (thickness) => clear + Math.max(standards.trackStructure.value, thickness),
    apart: Math.max(own.centres.value, (standards.roadbedWidth.value + car.width) / 2) + SPARE,
    centres: own.centres.value + SPARE,
    level: car.height / 2,
    throws,
    bench: standards.benchEdge.value,
    wall: standards.wall.value,
    reverse: easement > 0 ? 0 : own.reverseStraight.value,
    lead: 100 * standards.verticalCurve.value * 0.5,
  };
}
