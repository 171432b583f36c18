/**
 * The climb sheet: what a climb takes, reckoned before anything is drawn. From rise, grade and radius: run, turns of a
 * helix with what is clear between them, grade felt, the round bench it stands on, and what other heights and grades
 * would cost. The limits are those of a plan and a class of its track.
 *
 * Always holds: the rise is the run's at the grade between two breaks, with half a vertical curve on level track before
 * and after; a climb of these figures that is laid and measured in a layout has the same run, grade felt and gap. More
 * rise is never less run, a steeper grade never more turns.
 * Not reckoned: easements into and out of the helix, level stretches on the way, grades eased on curves.
 */
import { bracketedRoot } from "../geometry/bracketed-root.js";
import { centreThrow, endThrow } from "../geometry/throw.js";
import type { Millimetres, Percent } from "../geometry/units.js";
import { heightAt, type Profile } from "../layout/profile.js";
import { limitsOf } from "../plan/class-limits.js";
import { BOUNDS, type Plan, type Setting, type TrackClass } from "../plan/schema.js";
import { settingOf } from "../plan/settings.js";
import { feltPercent } from "../readings/felt-grade.js";
import { overTrackLimit } from "../readings/over-track.js";
import type { Reading } from "../readings/reading.js";
import { judge } from "../readings/verdict.js";
import { climbLimits } from "./limits.js";

export interface ClimbWishes {
  readonly rise: Millimetres;
  /** Of the track itself, drag left out. */
  readonly grade: Percent;
  readonly radius: Millimetres;
}

export interface ClimbSums extends ClimbWishes {
  /** Track from level to level, vertical curves included. */
  readonly run: Millimetres;
  /** Of that, from break to break of the grade. */
  readonly climbing: Millimetres;
  /** Length of the vertical curve at each end; half of it lies beyond the break. */
  readonly verticalCurve: Millimetres;
  /** With the drag of the radius. */
  readonly felt: Percent;
  /** Height gained by one turn of a circle of the radius, railhead to railhead. */
  readonly perTurn: Millimetres;
  /** Turns from break to break. */
  readonly turns: number;
  /** Clear height between two turns, structure of the upper one taken off. */
  readonly clear: Millimetres;
  /**
   * Clear height over the railhead below, structure of the track above taken off, where it is least: at the ends, which
   * leave the circle along tangents. Undefined where there is less than one turn.
   */
  readonly gap: Millimetres | undefined;
}

/** Diameters of the ground of a helix. */
export interface ClimbPad {
  /** The least round bench. */
  readonly bench: Millimetres;
  /** To be free of walls and obstacles. */
  readonly clear: Millimetres;
  /** Within the lowest turn; someone may have to stand in it. 0 where nothing is left. */
  readonly hole: Millimetres;
}

/** A figure held against a limit, as a reading of a plan would be. */
export type SheetCheck = Pick<Reading, "id" | "label" | "value" | "unit" | "limit" | "bound" | "verdict" | "source">;

export interface ClimbSheet {
  readonly class: TrackClass;
  readonly sums: ClimbSums;
  readonly pad: ClimbPad;
  readonly checks: readonly SheetCheck[];
  /** Steepest grade that keeps the limits of grade and of grade felt on this radius; 0 where none does. */
  readonly steepest: Percent;
  /** Least grade on this radius, and least radius at this grade, at which turns may lie over one another; undefined where none does. */
  readonly stacks: { readonly grade: Percent | undefined; readonly radius: Millimetres | undefined };
  /** Heights from the foot, along the run. */
  readonly profile: Profile;
}

export type ClimbSheetResult =
  | { readonly ok: true; readonly sheet: ClimbSheet }
  | { readonly ok: false; readonly field: keyof ClimbWishes; readonly message: string };

/** Grades below this, percent, are level, and above the other no railway without a rack. */
export const SHEET_GRADES = { least: 0.1, most: 15 } as const;
/** Turns of a helix whose ends do not concern one another. */
const MANY = 4;
/** A gap this near to what is asked for is it, mm. */
const NEAR: Millimetres = 1e-7;
/** Wider circles fit no room, mm. */
const WIDEST: Millimetres = 20_000;

/** Refused, naming the field: what is not above nothing, or beyond any plan; a radius the longest car cannot stand on. */
export function climbSheet(plan: Plan, trackClass: TrackClass, wishes: ClimbWishes): ClimbSheetResult {
  const fault = faultOf(plan, wishes);
  if (fault) return { ok: false, ...fault };
  const sums = climbSums(plan, wishes);
  return {
    ok: true,
    sheet: {
      class: trackClass,
      sums,
      pad: padFor(plan, wishes.radius),
      checks: checksOf(plan, trackClass, sums),
      steepest: steepestGrade(plan, trackClass, wishes.radius),
      stacks: stacksAt(plan, wishes),
      profile: profileOf(sums),
    },
  };
}

/** Steepest grade that keeps the limits of grade and of grade felt on a radius; 0 where none does. */
export const steepestGrade = (plan: Plan, trackClass: TrackClass, radius: Millimetres): Percent =>
  Math.max(0, 100 * climbLimits(plan, trackClass).gradeOn(radius));

/** Of a helix of many turns. */
function stacksAt(plan: Plan, { grade, radius }: ClimbWishes): ClimbSheet["stacks"] {
  const { value: asked } = overTrackLimit(plan);
  const spare = (g: Percent, r: Millimetres): number => {
    const rise = (MANY * 2 * Math.PI * r * g) / 100;
    return (climbSums(plan, { rise, grade: g, radius: r }).gap ?? 0) - asked;
  };
  const { least, most } = SHEET_GRADES;
  return {
    grade: rootBetween((g) => spare(g, radius), least, most),
    radius: rootBetween((r) => spare(grade, r), plan.standards.longestCar.value.truckCentres, WIDEST),
  };
}

function rootBetween(cross: (x: number) => number, from: number, to: number): number | undefined {
  const [a, b] = [cross(from), cross(to)];
  return a < 0 && b > 0 ? bracketedRoot({ cross }, from, to, a, b, NEAR) : undefined;
}

/** The figures alone, of wishes that `climbSheet` takes. */
export function climbSums(plan: Plan, wishes: ClimbWishes): ClimbSums {
  const { rise, grade, radius } = wishes;
  const round = 2 * Math.PI * radius;
  const climbing = (100 * rise) / grade;
  const verticalCurve = plan.standards.verticalCurve.value * grade;
  const bare = {
    ...wishes,
    run: climbing + verticalCurve,
    climbing,
    verticalCurve,
    felt: feltPercent({ s: 0, slope: grade / 100, curvature: 1 / radius }, plan.standards.curveDrag.value),
    perTurn: (round * grade) / 100,
    turns: climbing / round,
    clear: (round * grade) / 100 - plan.standards.trackStructure.value,
  };
  return { ...bare, gap: gapOf(plan, bare) };
}

/**
 * Where two turns, or a turn and the way in or out, lie over one another they are nearest at the ends: the way in still
 * runs under the first turn for as far as a car on its tangent reaches the roadbed above, and has a part of the turn less
 * to gain; the vertical curve takes its share. At the head likewise. The upper track's structure is taken off.
 */
function gapOf({ standards }: Plan, sums: Omit<ClimbSums, "gap">): Millimetres | undefined {
  const { climbing, radius } = sums;
  const round = 2 * Math.PI * radius;
  if (climbing <= round) return undefined;
  const { longestCar, roadbedWidth, trackStructure } = standards;
  const { width, length, truckCentres } = longestCar.value;
  const reach = (roadbedWidth.value + width) / 2 + endThrow(radius, length, truckCentres);
  // So far along the tangent it is `reach` from the circle, abreast of so much of its arc.
  const along = Math.sqrt((radius + reach) ** 2 - radius ** 2);
  const turn = round - radius * Math.atan(along / radius);
  const profile = profileOf(sums);
  const foot = profile.stations[1] ?? 0;
  const head = foot + climbing;
  const atFoot = heightAt(profile, foot + turn) - heightAt(profile, foot - along);
  const atHead = heightAt(profile, head + along) - heightAt(profile, head - turn);
  return Math.min(atFoot, atHead) - trackStructure.value;
}

/** Level, up at the grade, level; a vertical curve at both breaks, as long as the climb leaves room for. */
function profileOf({
  rise,
  run,
  climbing,
  verticalCurve,
}: Pick<ClimbSums, "rise" | "run" | "climbing" | "verticalCurve">): Profile {
  const lead = (run - climbing) / 2;
  const length = Math.min(verticalCurve, climbing);
  const change = rise / climbing;
  const curves =
    length > 0
      ? [
          { at: lead, length, wanted: verticalCurve, change },
          { at: lead + climbing, length, wanted: verticalCurve, change: -change },
        ]
      : [];
  return { stations: [0, lead, lead + climbing, run], heights: [0, 0, rise, rise], curves };
}

function padFor(plan: Plan, radius: Millimetres): ClimbPad {
  const { longestCar, benchEdge, wall, roadbedWidth } = plan.standards;
  const { width, length, truckCentres } = longestCar.value;
  const out = endThrow(radius, length, truckCentres);
  const bed = roadbedWidth.value / 2;
  const within = Math.max(bed, width / 2 + centreThrow(radius, truckCentres));
  return {
    bench: 2 * (radius + Math.max(benchEdge.value, bed, width / 2 + out)),
    clear: 2 * (radius + wall.value + out),
    hole: Math.max(0, 2 * (radius - within)),
  };
}

function checksOf(plan: Plan, trackClass: TrackClass, sums: ClimbSums): SheetCheck[] {
  const own = limitsOf(plan, trackClass);
  const check = (
    head: Pick<SheetCheck, "id" | "label" | "unit" | "bound">,
    value: number | undefined,
    { value: limit, source }: Setting<number>,
    margin: Percent = plan.standards.tight.value,
  ): SheetCheck => ({ ...head, value, limit, source, verdict: judge(value, limit, head.bound, margin) });
  const checks = [
    check({ id: "grade", label: "Grade", unit: "percent", bound: "most" }, sums.grade, own.grade),
    check({ id: "felt-grade", label: "Grade felt", unit: "percent", bound: "most" }, sums.felt, own.feltGrade),
    check({ id: "radius", label: "Radius", unit: "mm", bound: "least" }, sums.radius, own.radius),
  ];
  if (sums.gap !== undefined) {
    const head = { id: "over-track", label: "Clear under the next turn", unit: "mm", bound: "least" } as const;
    checks.push(check(head, sums.gap, overTrackLimit(plan)));
    const within = { id: "aisle", label: "Room to stand within", unit: "mm", bound: "least" } as const;
    const standing = check(within, padFor(plan, sums.radius).hole, settingOf(plan, "aisle"));
    // A helix one cannot stand in is worked on from outside: no fault, but worth knowing.
    checks.push({ ...standing, verdict: standing.verdict === "fails" ? "tight" : standing.verdict });
  }
  if (sums.verticalCurve > sums.climbing) {
    const { verticalCurve } = plan.standards;
    const head = { id: "vertical-curve", label: "Vertical curve, per 1 %", unit: "mm", bound: "least" } as const;
    checks.push(check(head, sums.climbing / sums.grade, verticalCurve, 0));
  }
  return checks;
}

function faultOf(
  plan: Plan,
  { rise, grade, radius }: ClimbWishes,
): { field: keyof ClimbWishes; message: string } | undefined {
  if (!(rise > 0)) return { field: "rise", message: "a climb goes up: the rise is more than nothing" };
  if (rise > BOUNDS.height) return { field: "rise", message: "no room is that high" };
  const { truckCentres } = plan.standards.longestCar.value;
  if (!(radius > truckCentres / 2))
    return { field: "radius", message: "the longest car does not stand on that radius" };
  if (radius > BOUNDS.radius) return { field: "radius", message: "that is as good as straight" };
  const { least, most } = SHEET_GRADES;
  if (!(grade >= least)) return { field: "grade", message: `less than ${least} % is level` };
  if (!(grade <= most)) return { field: "grade", message: `more than ${most} % asks for a rack` };
  return undefined;
}
