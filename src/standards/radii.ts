/**
 * The least radius by use: NEM 111's multiples of the gauge, NMRA's recommended practices, and the rule of the
 * layout-design interest group that holds a radius against the longest car.
 *
 * Always holds: a main line's least radius is above a branch's, a branch's is not below a yard's.
 */
import type { Millimetres } from "../geometry/units.js";
import { HO_CARS, type NemGroup, overCouplers } from "./cars.js";
import { type Cited, type Figure, inches, PRACTICE, roundDown, roundTo } from "./cited.js";
import { lengthFor, type Scale, type ScaleName, scaled, standardScale } from "./scales.js";

/** What a track is used for. */
export const USES = ["main", "branch", "siding", "lead", "yard", "spur", "staging"] as const;
export type Use = (typeof USES)[number];

/** NEM 111: least radius in gauges, by vehicle group. */
export const NEM_111 = {
  least: { A: 22, B: 25, C: 30, words: "permitted minimum" },
  station: { A: 25, B: 30, C: 35, words: "station and secondary tracks" },
  branchLine: { A: 30, B: 35, C: 40, words: "main tracks of branch lines" },
  mainLine: { A: 35, B: 40, C: 45, words: "main tracks of main lines" },
} as const;
const NEM_111_USE: Readonly<Record<Use, keyof typeof NEM_111>> = {
  main: "mainLine",
  branch: "branchLine",
  siding: "station",
  lead: "station",
  yard: "least",
  spur: "least",
  staging: "station",
};

/** NMRA RP-11 by equipment: radius in inches and frog number. Empty places were not to be had. */
export const RP_11: readonly {
  readonly equipment: string;
  readonly frog: number;
  readonly inches: Readonly<Partial<Record<ScaleName, number>>>;
}[] = [
  { equipment: "small steam, four-axle diesels, cars to 50 ft", frog: 5, inches: { HO: 16.5, N: 8.875 } },
  {
    equipment: "steam to 24 ft rigid wheelbase, all diesels, cars to 80 ft",
    frog: 6,
    inches: { HO: 32, S: 43.5, O: 58 },
  },
  { equipment: "everything", frog: 7, inches: { HO: 40, N: 21.5 } },
];
export const RP_11_SOURCE: Cited = { source: "NMRA RP-11", known: "read second hand" };

/** NMRA MRP-1.0, modules: least radius of the main and of industrial track, mm. Its OO is American, of 19 mm gauge. */
export const MRP_1: Readonly<
  Partial<Record<ScaleName, { readonly main: Millimetres; readonly industrial: Millimetres }>>
> = {
  Z: { main: 195, industrial: 152.4 },
  N: { main: 609.6, industrial: 431.8 },
  TT: { main: 730.2, industrial: 508 },
  HO: { main: 812.8, industrial: 609.6 },
  S: { main: 1092.2, industrial: 863.6 },
  O: { main: 1524, industrial: 914.4 },
};
export const MRP_1_SOURCE: Cited = { source: "NMRA MRP-1.0", known: "read" };

/** Radius over the length of the longest car. */
export const RADIUS_OVER_CAR = {
  risky: 2,
  mostOfTheTime: 2.5,
  reliable: 3,
  acceptableFromInside: 3.5,
  acceptableFromOutside: 4,
  couples: 5,
} as const;
export const RADIUS_OVER_CAR_SOURCE: Cited = {
  source: "radius over longest car, layout-design interest group",
  known: "read second hand",
};

/** The least radius of a use of track. NEM's figures are for a vehicle group, C the longest. */
export function leastRadius(scale: Scale, use: Use, group: NemGroup = "C"): Figure {
  return scale.body === "NEM" ? nemRadius(scale, use, group) : americanRadius(scale, use);
}

function nemRadius(scale: Scale, use: Use, group: NemGroup): Figure {
  const row = NEM_111[NEM_111_USE[use]];
  const standard = standardScale(scale.base === "OO" ? "HO" : scale.base, "NEM");
  const figure: Figure = {
    value: row[group] * standard.gauge,
    source: "NEM 111 (2016)",
    known: "derived",
    how: `${row.words}, group ${group}: ${row[group]} x ${standard.gauge} mm; the multiple read second hand`,
  };
  // OO's gauge is too narrow for its ratio, so H0's radius is enlarged rather than OO's gauge multiplied.
  return standard.ratio === scale.ratio ? figure : scaled(figure, standard, scale);
}

/** Which car and multiple the rule of thumb takes for a use; the others follow one of these. */
const RULE = {
  main: { feet: 85, times: RADIUS_OVER_CAR.mostOfTheTime },
  branch: { feet: 50, times: RADIUS_OVER_CAR.acceptableFromInside },
  spur: { feet: 50, times: RADIUS_OVER_CAR.reliable },
} as const;
const RULE_USE: Readonly<Record<Exclude<Use, "yard">, keyof typeof RULE>> = {
  main: "main",
  siding: "main",
  branch: "branch",
  lead: "branch",
  staging: "branch",
  spur: "spur",
};

/** Radii are bent by the half inch, in the small scales by the quarter. */
const step = (scale: Scale): Millimetres => inches(scale.ratio < 100 ? 0.5 : 0.25);

/** As people write it; the division alone leaves a tail of rounding. */
const inchesOf = (length: Millimetres): number => roundTo(length / 25.4, 0.001);

function americanRadius(scale: Scale, use: Use): Figure {
  if (use === "yard") return yardRadius(scale);
  const { feet, times } = RULE[RULE_USE[use]];
  return {
    value: roundDown(times * overCouplers(feet, scale).value, step(scale)),
    source: times === RADIUS_OVER_CAR.acceptableFromInside ? PRACTICE : RADIUS_OVER_CAR_SOURCE.source,
    known: "derived",
    how:
      `${times} x the length over couplers of cars of ${feet} ft, ${inchesOf(HO_CARS[feet].value)} in in HO (common ` +
      `practice), rounded down to ${inchesOf(step(scale))} in`,
  };
}

/**
 * Yards: the modules' radius of industrial track in HO, scaled. The row of every scale's own is not taken, because
 * some (N) exceed what the rule of thumb asks of that scale's main.
 */
function yardRadius(scale: Scale): Figure {
  const row = MRP_1.HO?.industrial ?? Number.NaN;
  return lengthFor(scale, { HO: { ...MRP_1_SOURCE, value: row, how: "industrial track in HO" } }, "NMRA");
}
