/** What a climb has to gain between which ends, and the run that takes. */
import type { Millimetres } from "../geometry/units.js";
import type { EndRoom } from "./end-room.js";
import type { ClimbLimits } from "./limits.js";

export interface Rise {
  readonly low: Millimetres;
  readonly rise: Millimetres;
  /** What lies behind the lower end and behind the upper. */
  readonly rooms: readonly [EndRoom, EndRoom];
  /** Level stretch asked for on the way, between its vertical curves; 0 for none. */
  readonly level: Millimetres;
}

/** How the grade ends: within the route's own track, or run on to the pin beyond. */
export type Ending = "own" | "on";

/**
 * How far from the joint the grade begins, along the route; negative where it runs on. Half the vertical curve at its
 * foot or head may lie on level track beyond. Undefined where there is no run on, or no room for the curve at the pin.
 */
export function endOfGrade(limits: ClimbLimits, room: EndRoom, grade: number, ending: Ending): Millimetres | undefined {
  const half = limits.lead * grade;
  if (ending === "own") return Math.max(0, half - room.beyondJoint);
  return room.runOn > 0 && room.beyondPin >= half && grade <= room.steepest + ROUNDING ? -room.runOn : undefined;
}

/** Grades are kept to their limits to this. */
export const ROUNDING = 1e-9;

/** Level track between two grades, with half a vertical curve at both its ends. */
export const levelBetween = (limits: ClimbLimits, { level }: Rise, grade: number): Millimetres =>
  level > 0 ? level + 2 * limits.lead * grade : 0;

/** Run of the route's own track that gains the rise at a grade; the least of all ways the grade may end. */
export function runFor(limits: ClimbLimits, rise: Rise, grade: number): Millimetres {
  if (!(grade > 0)) return Number.POSITIVE_INFINITY;
  const ends = rise.rooms.reduce((sum, room) => {
    const own = endOfGrade(limits, room, grade, "own") ?? 0;
    return sum + Math.min(own, endOfGrade(limits, room, grade, "on") ?? own);
  }, 0);
  return rise.rise / grade + levelBetween(limits, rise, grade) + ends;
}

/** The rise a run gains at a grade. */
export const riseOver = (limits: ClimbLimits, rise: Rise, run: Millimetres, grade: number): Millimetres =>
  Math.max(0, rise.rise - grade * (runFor(limits, rise, grade) - run));

/** The gentlest grade at which a run gains the rise with such endings; undefined where none up to the steepest does. */
export function gentlestGrade(
  limits: ClimbLimits,
  rise: Rise,
  run: Millimetres,
  endings: readonly [Ending, Ending],
  steepest: number,
): number | undefined {
  const short = (grade: number): number | undefined => {
    const [a, b] = rise.rooms.map((room, i) => endOfGrade(limits, room, grade, endings[i] ?? "own"));
    if (a === undefined || b === undefined) return undefined;
    return rise.rise / grade + levelBetween(limits, rise, grade) + a + b - run;
  };
  const most = Math.min(steepest, ...rise.rooms.map((room, i) => (endings[i] === "on" ? room.steepest : Infinity)));
  const left = short(most);
  if (!(most > 0) || left === undefined || left > ROUNDING * run) return undefined;
  // A gentler grade wants more run throughout the range of railways: the border is found by halving.
  let [low, high] = [0, most];
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2;
    const more = middle > 0 ? short(middle) : Number.POSITIVE_INFINITY;
    if (more !== undefined && more <= 0) high = middle;
    else low = middle;
  }
  return high;
}
