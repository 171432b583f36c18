/**
 * Turnouts by frog number: NMRA RP-12.7's table for 9 mm gauge, scaled to any gauge, and the formulas of the split
 * switch where the table ends.
 *
 * Always holds: all lengths are in proportion to the gauge; the lead curve ends no later than the frog's toe and departs
 * after the joint end before the points; the joint ends lie beyond the frog's heel, and two turnouts of one number still
 * make a crossover at the closest track centres of straight track.
 */
import type { Millimetres, Radians } from "../geometry/units.js";
import { toRadians } from "../geometry/units.js";
import { type Cited, type Figure, inches } from "./cited.js";

export type TurnoutDimensions = {
  readonly number: number;
  /** Frog angle. */
  readonly angle: Radians;
  /** From where the straight routes' centre lines meet to the theoretical frog point: number x gauge. */
  readonly intersectionToFrog: Millimetres;
  /** From the points to the theoretical frog point. */
  readonly lead: Millimetres;
  /** From the points to the heel of the switch. */
  readonly switchLength: Millimetres;
  /** From the frog's toe to its theoretical point, and from there to its heel. */
  readonly frogToe: Millimetres;
  readonly frogHeel: Millimetres;
  /** Radius of the rail between switch and frog. */
  readonly closureRadius: Millimetres;
  /** Largest radius of a smooth lead curve, tangent to both routes, that ends short of the frog's toe. */
  readonly leadRadius: Millimetres;
  /** From the joint end before the points to the points. */
  readonly pointsJoint: Millimetres;
  /** From the theoretical frog point to the joint end of either route. */
  readonly heelJoint: Millimetres;
  /** How closure radius and joints are known, which no table here gives with the rest. */
  readonly closure: Cited;
  readonly joints: Cited;
} & Cited;

/** F = 2 atan(1/2N), NMRA's frog number: NMRA RP-12.7 prints the angles, catalogues of frogs the formula. */
export const frogAngle = (number: number): Radians => 2 * Math.atan(1 / (2 * number));
export const frogNumber = (angle: Radians): number => 1 / (2 * Math.tan(angle / 2));

/** The switch and frog of one turnout; lengths in any one unit. */
export interface SwitchParts {
  readonly gauge: number;
  readonly frogAngle: Radians;
  /** Angle of the switch rail at its heel. */
  readonly heelAngle: Radians;
  /** From the stock rail to the switch rail at its heel, gauge line to gauge line. */
  readonly heelSpread: number;
  readonly switchLength: number;
  /** From the frog's toe to its theoretical point. */
  readonly toe: number;
}

/** Gauge line to gauge line between the switch's heel and the frog's toe: what the closure curve has to cross. */
const closureOffset = (p: SwitchParts): number => p.gauge - p.heelSpread - p.toe * Math.sin(p.frogAngle);

/**
 * Radius of the closure rail, tangent to the switch rail at its heel and to the frog at its toe:
 * (G - h - w sin F) / (cos S - cos F). Infinite where both angles are the same, negative where the switch is the steeper.
 * US Army TI 850-02, eq. 6-13 and 6-14 (the form of 6-14 from memory), and the Indian railways' design worksheet.
 */
export const closureRadius = (p: SwitchParts): number =>
  closureOffset(p) / (Math.cos(p.heelAngle) - Math.cos(p.frogAngle));

/** From the points to the theoretical frog point: switch, closure rail along the track, frog's toe. Same sources. */
export const leadOf = (p: SwitchParts): number =>
  p.switchLength + closureOffset(p) / Math.tan((p.frogAngle + p.heelAngle) / 2) + p.toe * Math.cos(p.frogAngle);

/**
 * Largest radius tangent to both routes that ends a toe's length before the frog point: its tangent R tan(F/2) may reach
 * from the intersection to there, so R = 2N(GN - toe). With no toe this is the simple rule R = 2GN².
 */
export const largestLeadRadius = (gauge: number, number: number, toe: number): number =>
  2 * number * (gauge * number - toe);

/** NMRA RP-12.7, 9 mm gauge, by frog number; mm and degrees. */
export const RP_12_7: Cited = { source: "NMRA RP-12.7", known: "read" };
export const RP_12_7_GAUGE: Millimetres = 9;
const HEEL_ANGLE_SHORT = 4 + 50 / 60;
const HEEL_ANGLE_LONG = 2 + 56 / 60;
export const RP_12_7_ROWS = [
  {
    number: 4,
    lead: 67.5,
    toe: 7.5,
    heel: 13,
    closureRadius: 201,
    switchLength: 28,
    heelSpread: 1.65,
    heelAngle: HEEL_ANGLE_SHORT,
  },
  {
    number: 5,
    lead: 75.5,
    toe: 8.5,
    heel: 15,
    closureRadius: 348,
    switchLength: 28,
    heelSpread: 1.65,
    heelAngle: HEEL_ANGLE_SHORT,
  },
  {
    number: 6,
    lead: 83,
    toe: 9.5,
    heel: 16.5,
    closureRadius: 562,
    switchLength: 28,
    heelSpread: 1.65,
    heelAngle: HEEL_ANGLE_SHORT,
  },
  {
    number: 7,
    lead: 115,
    toe: 11,
    heel: 17.5,
    closureRadius: 656,
    switchLength: 44.5,
    heelSpread: 1.65,
    heelAngle: HEEL_ANGLE_LONG,
  },
] as const;
type Row = { readonly [K in keyof (typeof RP_12_7_ROWS)[number]]: number };

/** HO closure radii by frog number, inches. RP-12.31 is the later sheet. */
export const RP_12_3_CLOSURE: Readonly<Record<number, number>> = { 4: 15, 5: 26, 6: 43, 7: 49, 8: 67, 10: 117 };
export const RP_12_31_CLOSURE: Readonly<Record<number, number>> = { 5: 23, 6: 35 };
const HO_GAUGE: Millimetres = 16.5;
/** HO track is laid to 16.5 to 16.55 mm. */
const HO_GAUGE_TOLERANCE: Millimetres = 0.1;

/**
 * From the frog point to the joint end, as a share of number x gauge. The routes of a crossover at track centres c leave
 * c N - G N between frog points (seen along the track, for small angles), half of it for each turnout. At NEM 112's
 * 46 mm in 16.5 mm gauge that is 0.39 of number x gauge; a little less leaves room for the joint.
 */
export const HEEL_JOINT_SHARE = 0.37;
/** A No. 6 of RP-12.7 has its smooth lead curve depart 1.72 gauges before the points, the farthest of all. */
export const POINTS_JOINT_OVER_GAUGE = 2;
const JOINTS: Cited = {
  source: "NEM 112 (1975), track centres",
  known: "derived",
  how:
    "heel joint so far behind the frog point that two turnouts still make a crossover at 46 mm centres in H0; " +
    "points joint 2 gauges before the points (no source), so that the smooth lead curve lies inside the turnout",
};

/**
 * The turnout of a frog number, whole or not, in a gauge. Number and gauge above 0; meant for numbers from 2 to 40.
 * Numbers 4 to 7 are RP-12.7's rows in proportion to the gauge. Others have a switch and frog between those rows, or the
 * nearest row's drawn out along the track in proportion to the number, and the lead by formula.
 */
export function turnoutDimensions(gauge: Millimetres, number: number): TurnoutDimensions {
  const size = gauge / RP_12_7_GAUGE;
  const printed: Row | undefined = RP_12_7_ROWS.find((row) => row.number === number);
  const row = printed ?? rowFor(number);
  const toe = row.toe * size;
  const closure = closureFor(gauge, number, row);
  const { value: radius, ...closureCited } = closure;
  return {
    number,
    angle: frogAngle(number),
    intersectionToFrog: number * gauge,
    lead: row.lead * size,
    switchLength: row.switchLength * size,
    frogToe: toe,
    frogHeel: row.heel * size,
    closureRadius: radius,
    leadRadius: largestLeadRadius(gauge, number, toe),
    pointsJoint: POINTS_JOINT_OVER_GAUGE * gauge,
    heelJoint: HEEL_JOINT_SHARE * number * gauge,
    closure: closureCited,
    joints: JOINTS,
    ...sourceOf(gauge, number, printed !== undefined),
  };
}

function sourceOf(gauge: Millimetres, number: number, printed: boolean): Cited {
  const scaledBy = gauge === RP_12_7_GAUGE ? "" : `scaled from 9 mm to ${gauge} mm gauge`;
  if (printed) return scaledBy === "" ? RP_12_7 : { ...RP_12_7, known: "derived", how: `No. ${number}, ${scaledBy}` };
  const between = number > 4 && number < 7;
  const parts = between
    ? "between its neighbours"
    : `the parts of No. ${number < 4 ? 4 : 7} in proportion to the number`;
  return {
    ...RP_12_7,
    known: "derived",
    how: `not in its table: ${parts}, lead by formula${scaledBy === "" ? "" : `, ${scaledBy}`}`,
  };
}

/** A row for a number the table lacks, in 9 mm gauge. */
function rowFor(number: number): Row {
  const parts = partsFor(number);
  const whole: SwitchParts = { ...parts, gauge: RP_12_7_GAUGE, ...anglesOf(number, parts.heelAngle) };
  return { ...parts, lead: leadOf(whole), closureRadius: closureRadius(whole) };
}

const anglesOf = (number: number, heelDegrees: number) => ({
  frogAngle: frogAngle(number),
  heelAngle: toRadians(heelDegrees),
});

function partsFor(number: number): Row {
  const [first, , , last] = RP_12_7_ROWS;
  if (number < first.number) return drawnOut(first, number);
  if (number > last.number) return drawnOut(last, number);
  const index = RP_12_7_ROWS.findIndex((row) => row.number >= number);
  const high: Row = RP_12_7_ROWS[index] ?? last;
  const low: Row = RP_12_7_ROWS[index - 1] ?? first;
  const share = high.number === low.number ? 0 : (number - low.number) / (high.number - low.number);
  const mix = (key: keyof Row): number => low[key] + share * (high[key] - low[key]);
  return {
    number,
    lead: mix("lead"),
    toe: mix("toe"),
    heel: mix("heel"),
    closureRadius: mix("closureRadius"),
    switchLength: mix("switchLength"),
    heelSpread: mix("heelSpread"),
    heelAngle: mix("heelAngle"),
  };
}

/** The same spreads over a length in proportion to the number: lengths grow with it, angles shrink. */
function drawnOut(row: Row, number: number): Row {
  const factor = number / row.number;
  return {
    ...row,
    number,
    toe: row.toe * factor,
    heel: row.heel * factor,
    switchLength: row.switchLength * factor,
    heelAngle: row.heelAngle / factor,
  };
}

function closureFor(gauge: Millimetres, number: number, row: Row): Figure {
  const ho = RP_12_3_CLOSURE[number];
  if (ho !== undefined && Math.abs(gauge - HO_GAUGE) < HO_GAUGE_TOLERANCE)
    return { value: inches(ho), source: "NMRA RP-12.3", known: "read second hand" };
  const value = (row.closureRadius * gauge) / RP_12_7_GAUGE;
  return {
    value,
    ...sourceOf(
      gauge,
      number,
      RP_12_7_ROWS.some((printed) => printed.number === number),
    ),
  };
}
