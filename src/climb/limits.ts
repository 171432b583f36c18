/** The plan's limits as the search needs them: one grade that keeps both grade and grade felt, and the room a track takes. */
import { limitsOf } from "../plan/class-limits.js";
import { centreThrow, endThrow } from "../geometry/throw.js";
import { turnExtent, type TurnExtent } from "../geometry/turn.js";
import type { Millimetres } from "../geometry/units.js";
import type { Plan, TrackClass } from "../plan/schema.js";

/** Kept beyond the limits for gaps and centres, so that rounding of samples never decides, mm. */
const SPARE: Millimetres = 1.5;

/** Curves of a route are seldom all wider than this many times the least radius. */
const GENTLE = 1.25;

export interface ClimbLimits {
  readonly radius: Millimetres;
  readonly easement: Millimetres;
  readonly extent: TurnExtent;
  /** Steepest uniform grade, as a ratio, that a route of gentle curves may have: it keeps the grade, and the grade felt. */
  readonly grade: number;
  /** The same of a route whose sharpest curve has this radius. */
  readonly gradeOn: (radius: Millimetres) => number;
  /** Railhead over railhead where the route passes over track. */
  readonly gap: Millimetres;
  /** Railhead under railhead where it passes under track, which a deck may carry. */
  readonly gapUnder: Millimetres;
  /** Centre lines farther apart than this, plus throws, do not concern one another. */
  readonly apart: Millimetres;
  /** Throw of the longest car on the least radius, the greater of both sides. */
  readonly throws: Millimetres;
  readonly bench: Millimetres;
  readonly wall: Millimetres;
  /** Straight between curves of opposite hand; none where both are eased. */
  readonly reverse: Millimetres;
  /** Level track before a grade begins, for half the vertical curve, as a multiple of the grade (ratio). */
  readonly lead: Millimetres;
}

export function climbLimits(plan: Plan, trackClass: TrackClass): ClimbLimits {
  const { standards } = plan;
  const own = limitsOf(plan, trackClass);
  const car = standards.longestCar.value;
  const radius = own.radius.value;
  const easement = own.easement.value;
  const gradeOn = (sharpest: Millimetres): number =>
    Math.min(own.grade.value, own.feltGrade.value - standards.curveDrag.value / sharpest) / 100;
  const throws = Math.max(centreThrow(radius, car.truckCentres), endThrow(radius, car.length, car.truckCentres));
  const clear = Math.max(standards.overTrack.value, car.height) + SPARE;
  const thickest = Math.max(...Object.values(plan.decks).map(({ thickness }) => thickness));
  return {
    radius,
    easement,
    extent: turnExtent(radius, easement),
    grade: gradeOn(GENTLE * radius),
    gradeOn,
    gap: clear + standards.trackStructure.value,
    gapUnder: clear + Math.max(standards.trackStructure.value, thickest),
    apart: Math.max(own.centres.value, (standards.roadbedWidth.value + car.width) / 2) + SPARE,
    throws,
    bench: standards.benchEdge.value,
    wall: standards.wall.value,
    reverse: easement > 0 ? 0 : own.reverseStraight.value,
    lead: 100 * standards.verticalCurve.value * 0.5,
  };
}

/** Level track at each end of a climb of this grade: half its vertical curve. */
export const leadFor = (limits: ClimbLimits, grade: number): Millimetres => limits.lead * grade;

/** Run that gains a rise at a grade, level leads included. */
export const runFor = (limits: ClimbLimits, rise: Millimetres, grade: number): Millimetres =>
  rise / grade + 2 * leadFor(limits, grade);
