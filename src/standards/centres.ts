/**
 * How far apart parallel tracks lie, on the straight and on curves.
 *
 * Always holds: a tighter curve never asks for less; a curve never asks for less than the straight.
 */
import type { Millimetres } from "../geometry/units.js";
import { carThrow, citedRows, longestCar } from "./cars.js";
import { type Cited, type Figure, inches, roundTo } from "./cited.js";
import { lengthFor, type Scale, type ScaleTable, scaled, standardScale } from "./scales.js";

/** On the open line, or in a station, where people and platforms stand between. */
export type Where = "line" | "station";

export const S_8: Cited = { source: "NMRA S-8", known: "read" };
/** Columns of S-8: prototype radius in feet of 5, 10, ... 45 degrees of curve. */
export const S_8_RADIUS_FT = [1146, 574, 383, 288, 231, 193, 166, 146, 131] as const;
/** S-8 classes: II small engines and old cars, I larger ones, Ia the largest steam and full-length passenger cars. */
export type S8Class = "II" | "I" | "Ia";

interface S8Row {
  /** Inches. */
  readonly tangent: number;
  readonly radius: readonly number[];
  readonly centres: Readonly<Record<S8Class, readonly number[]>>;
}
/** Inches; where a class ends early the standard gives no tighter curve. */
export const S_8_ROWS: Readonly<Record<"O" | "S" | "HO", S8Row & Cited>> = {
  O: {
    ...S_8,
    tangent: 3.25,
    radius: [287, 144, 96, 72, 58, 48, 41.5, 36.5, 33],
    centres: {
      II: [3.25, 3.3125, 3.375, 3.5, 3.625, 3.75, 3.8125, 3.875, 4],
      I: [3.375, 3.5, 3.625, 3.75, 3.875, 4, 4.1875],
      Ia: [3.5, 3.8125, 4.0625, 4.3125, 4.5625],
    },
  },
  S: {
    ...S_8,
    tangent: 2.4375,
    radius: [215, 108, 72, 54, 43, 36, 31, 27, 25],
    centres: {
      II: [2.4375, 2.5, 2.5625, 2.625, 2.6875, 2.75, 2.8125, 2.875, 3],
      I: [2.5625, 2.625, 2.75, 2.8125, 2.875, 3, 3.125],
      Ia: [2.6875, 2.875, 3.0625, 3.25, 3.375],
    },
  },
  HO: {
    source: "NMRA S-8",
    known: "derived",
    how: "O row x 48/87.1 and S row x 64/87.1, mean to the nearest 1/16 in",
    tangent: 1.8125,
    radius: [157.9, 79.1, 52.8, 39.7, 31.8, 26.6, 22.9, 20.1, 18],
    centres: {
      II: [1.8125, 1.8125, 1.875, 1.9375, 2, 2.0625, 2.0625, 2.125, 2.1875],
      I: [1.875, 1.9375, 2, 2.0625, 2.125, 2.1875, 2.3125],
      Ia: [1.9375, 2.125, 2.25, 2.375, 2.5],
    },
  },
};

const s8Tangent = (name: "O" | "S" | "HO"): Figure => {
  const { tangent, radius: _radius, centres: _centres, ...cited } = S_8_ROWS[name];
  return { ...cited, value: inches(tangent) };
};
const NMRA_STRAIGHT: ScaleTable = {
  N: { source: "NMRA S-8, tangent", known: "read second hand", value: inches(1 + 1 / 32) },
  HO: s8Tangent("HO"),
  S: s8Tangent("S"),
  O: s8Tangent("O"),
};

export const NEM_112: Cited = { source: "NEM 112 (1975)", known: "read second hand" };
const NEM_112_Z: Cited = { source: "NEM 112", known: "memory" };
export const NEM_112_STRAIGHT: Readonly<Record<Where, ScaleTable>> = {
  line: { Z: { ...NEM_112_Z, value: 19 }, ...citedRows({ N: 25, TT: 34, HO: 46, S: 63, O: 89 }, NEM_112) },
  station: { Z: { ...NEM_112_Z, value: 21 }, ...citedRows({ N: 28, TT: 38, HO: 52, S: 71, O: 103 }, NEM_112) },
};
/** H0, group C: radius of the inner track and distance of the tracks, mm. */
export const NEM_112_CURVES: readonly (readonly [radius: Millimetres, centres: Millimetres])[] = [
  [400, 64],
  [450, 61],
  [500, 59],
  [600, 55],
  [700, 52],
  [800, 50],
  [900, 48],
  [1000, 47],
  [1100, 46],
  [1200, 46],
  [2000, 46],
];

/** Distance of parallel straight tracks. NMRA makes no difference between line and station. */
export const straightCentres = (scale: Scale, where: Where = "line"): Figure =>
  scale.body === "NMRA" ? lengthFor(scale, NMRA_STRAIGHT, "NMRA") : lengthFor(scale, NEM_112_STRAIGHT[where], "NEM");

/**
 * How much of the straight centres NEM 112 lets the throws of cars use up: its H0 curves, group C, follow 34.4 mm plus
 * the throws of both tracks' cars within 0.5 mm, and never less than the 46 mm of straight track.
 */
export const curveSlack = (scale: Scale): Figure => {
  const slack = {
    ...NEM_112,
    value: 46 - 34.4,
    known: "derived",
    how: "46 mm less the 34.4 mm left between throws",
  } as const;
  const from = standardScale("HO", "NEM");
  return scale.ratio === from.ratio ? { ...slack, value: roundTo(slack.value, 0.1) } : scaled(slack, from, scale);
};

type Column = readonly [radius: Millimetres, centres: Millimetres];
interface CurveTable {
  readonly from: Scale;
  readonly straight: Millimetres;
  readonly columns: readonly Column[];
  readonly cited: Cited;
}

/**
 * Distance of parallel tracks on a curve of the inner track's radius: the standard's columns, straight lines between
 * them over curvature; tighter than they reach, as much more as the throws of the longest car grow from the last column.
 * Scales without columns of their own take HO's, scaled. Undefined where the longest car cannot stand on the curve.
 */
export function curveCentres(scale: Scale, radius: Millimetres, s8Class: S8Class = "Ia"): Figure | undefined {
  const { from, straight, columns, cited } = scale.body === "NMRA" ? s8Table(scale, s8Class) : NEM_112_TABLE;
  const wanted = (radius * scale.ratio) / from.ratio;
  const printed = columns.find(([column]) => Math.abs(column - wanted) < SAME_RADIUS);
  if (printed !== undefined && from === standardScale(scale.base, scale.body) && from.ratio === scale.ratio)
    return { ...cited, value: printed[1] };
  const tabled = overCurvature(straight, columns, wanted);
  const value = tabled ?? beyondColumns(from, columns, wanted);
  if (value === undefined) return undefined;
  const where =
    tabled === undefined
      ? "tighter than its columns: its last and the growth of the longest car's throws"
      : "between its columns by curvature";
  const how = cited.how === undefined ? where : `${cited.how}; ${where}`;
  const figure: Figure = { value: roundTo(value, 0.1), source: cited.source, known: "derived", how };
  const own = from.ratio === scale.ratio ? figure : scaled(figure, from, scale);
  // Scaling and rounding must not undercut the scale's own straight.
  const least = straightCentres(scale);
  return own.value < least.value ? least : own;
}

/** A column's own radius: far below what a bend can be measured to. */
const SAME_RADIUS: Millimetres = 1e-3;

function s8Table(scale: Scale, s8Class: S8Class): CurveTable {
  const name = scale.base === "O" || scale.base === "S" ? scale.base : "HO";
  const row = S_8_ROWS[name];
  const columns = row.centres[s8Class].map((value, i): Column => [inches(row.radius[i] ?? 0), inches(value)]);
  const { tangent, radius: _radius, centres: _centres, ...cited } = row;
  const how = cited.how === undefined ? `class ${s8Class}` : `class ${s8Class}; ${cited.how}`;
  return { from: standardScale(name, "NMRA"), straight: inches(tangent), columns, cited: { ...cited, how } };
}

const NEM_112_TABLE: CurveTable = {
  from: standardScale("HO", "NEM"),
  straight: 46,
  columns: NEM_112_CURVES,
  cited: { ...NEM_112, how: "H0, group C" },
};

function beyondColumns(from: Scale, columns: readonly Column[], radius: Millimetres): Millimetres | undefined {
  const [last] = [...columns].sort((a, b) => a[0] - b[0]);
  if (last === undefined) return undefined;
  const car = longestCar(from).value;
  const there = carThrow(car, last[0]);
  const here = carThrow(car, radius);
  if (there === undefined || here === undefined) return undefined;
  return last[1] + here.inside + here.outside - there.inside - there.outside;
}

/** Between columns of (radius, value) in proportion to 1/radius; the straight is column 1/radius = 0. */
function overCurvature(
  straight: number,
  columns: readonly (readonly [radius: number, value: number])[],
  radius: number,
): number | undefined {
  const k = 1 / radius;
  let below: readonly [number, number] = [0, straight];
  for (const [r, value] of [...columns].sort((a, b) => b[0] - a[0])) {
    const here: readonly [number, number] = [1 / r, value];
    if (k <= here[0] * (1 + 1e-9)) return below[1] + ((here[1] - below[1]) * (k - below[0])) / (here[0] - below[0]);
    below = here;
  }
  return undefined;
}
