/** Grades by use, what a curve adds to a grade, and how gently grades meet. */
import type { Millimetres, Percent } from "../geometry/units.js";
import { longestCar } from "./cars.js";
import { type Figure, inches, PRACTICE, roundTo } from "./cited.js";
import type { Use } from "./radii.js";
import { lengthFor, type Scale, standardScale } from "./scales.js";

const practice = (value: number, how: string): Figure => ({ value, source: PRACTICE, known: "common practice", how });
const LEVEL: Percent = 0.3;
const level = practice(LEVEL, "level: beyond about 0.3 % cars roll away");

/** Steepest grade by use, percent; the same in every scale. */
export const STEEPEST: Readonly<Record<Use, Figure>> = {
  main: practice(2.5, "usual ceiling for a main; 2 % is the usual ruling grade of long trains"),
  branch: practice(3, "wants helpers or short trains"),
  siding: practice(2, "usual ruling grade; trains start here"),
  lead: level,
  yard: level,
  spur: level,
  staging: level,
};

/** The grade that may still be held on the least radius, percent. Steeper ones are for wider curves and straights. */
export const ON_LEAST_RADIUS: Readonly<Record<Use, Percent>> = {
  main: 2,
  branch: 2.5,
  siding: 2,
  lead: LEVEL,
  yard: LEVEL,
  spur: LEVEL,
  staging: LEVEL,
};

/** HO: percent of grade times inches of radius. */
export const HO_CURVE_DRAG = 32;

/** Drag of a curve, percent of grade times millimetres of radius. */
export function curveDrag(scale: Scale): Figure {
  const ho = standardScale("HO", "NMRA");
  const value = inches(HO_CURVE_DRAG);
  const figure = practice(roundTo(value, 0.1), "32/R percent in HO, R in inches; no measured basis known");
  if (scale.ratio === ho.ratio) return figure;
  return {
    value: roundTo((value * ho.ratio) / scale.ratio, 0.1),
    source: PRACTICE,
    known: "derived",
    how: `32/R percent in HO, R in inches, scaled by ${ho.ratio}/${scale.ratio}; no measured basis known`,
  };
}

/** Steepest grade with curve drag added: the usual grade of the use, held on its least radius. */
export function feltGrade(scale: Scale, use: Use, leastRadius: Millimetres): Figure {
  const grade = ON_LEAST_RADIUS[use];
  const drag = curveDrag(scale).value / leastRadius;
  return {
    value: roundTo(grade + drag, 0.1),
    source: PRACTICE,
    known: "derived",
    how: `${grade} % on the least radius and its drag of ${roundTo(drag, 0.01)} %, to the nearest 0.1 %`,
  };
}

/** Least length of vertical curve per percent of change of grade. */
export const verticalCurve = (scale: Scale): Figure =>
  practice(longestCar(scale).value.overCouplers, "one longest car per 1 % of change of grade; 12 in in HO");

/** Least straight between curves of opposite hand that are not eased: the longest car on lines, less in yards. */
export function reverseStraight(scale: Scale, use: Use): Figure {
  if (use === "main" || use === "branch") return practice(longestCar(scale).value.overCouplers, "the longest car");
  const crossover: Figure = {
    value: inches(4.25),
    source: "NMRA RP-12.3",
    known: "read second hand",
    how: "straight of a No. 6 crossover",
  };
  return lengthFor(scale, { HO: crossover }, "NMRA");
}
