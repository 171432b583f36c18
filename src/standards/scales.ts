/**
 * The scales, Z to O, with ratio and gauge as the two bodies of standards have them.
 *
 * Always holds: `findScale(scale.name, scale.body)` is the scale; a smaller ratio never has the narrower gauge.
 */
import type { Millimetres } from "../geometry/units.js";
import { type Cited, type Figure, roundTo } from "./cited.js";

export const BODIES = ["NMRA", "NEM"] as const;
export type Body = (typeof BODIES)[number];

export const SCALE_NAMES = ["Z", "N", "TT", "HO", "OO", "S", "O"] as const;
export type ScaleName = (typeof SCALE_NAMES)[number];

export interface Scale {
  /** As its body writes it; a variant carries its ratio: `N 1:148`. NEM writes 0 where others write O. */
  readonly name: string;
  readonly body: Body;
  /** The scale whose rows its figures are taken or scaled from. */
  readonly base: ScaleName;
  /** 87.1 for 1:87.1. */
  readonly ratio: number;
  readonly gauge: Millimetres;
  readonly sources: { readonly ratio: Cited; readonly gauge: Cited };
}

const NEM_010: Cited = { source: "NEM 010 (2011), table 1", known: "read" };
const NMRA_S32 = "NMRA S-3.2 (February 2010)";
const S32_RATIO: Cited = { source: NMRA_S32, known: "read" };
const RATIO_LIST: Cited = { source: "NMRA scale ratios, as lists of scales quote them", known: "read second hand" };
const targetGauge = (inch: string): Cited => ({
  source: NMRA_S32,
  known: "derived",
  how: `target gauge ${inch} in, to the nearest 0.1 mm`,
});
const NINE_MM: Cited = {
  source: "NMRA RP-12.7",
  known: "derived",
  how: "distance from frog point to intersection is frog number x 9 mm",
};
const OO_GAUGE: Cited = { source: "OO gauge, as encyclopedias give it", known: "read second hand" };

type Row = readonly [base: ScaleName, ratio: number, gauge: Millimetres, ratioSource: Cited, gaugeSource: Cited];

const NMRA_ROWS: readonly Row[] = [
  ["Z", 220, 6.5, RATIO_LIST, { source: "NMRA S-3.2, 0.256 in", known: "memory" }],
  ["N", 160, 9, RATIO_LIST, NINE_MM],
  ["TT", 120, 12, RATIO_LIST, NEM_010],
  ["HO", 87.1, 16.5, S32_RATIO, targetGauge("0.651")],
  ["OO", 76.2, 16.5, RATIO_LIST, OO_GAUGE],
  ["S", 64, 22.5, S32_RATIO, targetGauge("0.885")],
  ["O", 48, 31.8, S32_RATIO, targetGauge("1.252")],
];

const NEM_ROWS: readonly Row[] = [
  ["Z", 220, 6.5, NEM_010, NEM_010],
  ["N", 160, 9, NEM_010, NEM_010],
  ["TT", 120, 12, NEM_010, NEM_010],
  ["HO", 87, 16.5, NEM_010, NEM_010],
  ["OO", 76, 16.5, { source: "NEM 010 (2011), clause 3.4", known: "read" }, OO_GAUGE],
  ["S", 64, 22.5, NEM_010, NEM_010],
  ["O", 45, 32, NEM_010, NEM_010],
];

const N_VARIANT: Cited = {
  source: "ratios of N in Britain and Japan, as lists of scales quote them",
  known: "read second hand",
};
const NEM_O: Cited = { source: "NEM 010 (2011), clause 3.4, 7 mm to the foot", known: "read" };
/** Offered under either body beside the scale it calls by that name. */
const VARIANTS: readonly Row[] = [
  ["N", 148, 9, N_VARIANT, NEM_010],
  ["N", 150, 9, N_VARIANT, NEM_010],
  ["O", 43.5, 32, NEM_O, NEM_010],
  ["O", 45, 32, NEM_010, NEM_010],
];

const written = (base: ScaleName, body: Body): string => (body === "NEM" ? base.replaceAll("O", "0") : base);
const standardRows = (body: Body): readonly Row[] => (body === "NMRA" ? NMRA_ROWS : NEM_ROWS);

const toScale = ([base, ratio, gauge, ratioSource, gaugeSource]: Row, body: Body, name: string): Scale => ({
  name,
  body,
  base,
  ratio,
  gauge,
  sources: { ratio: ratioSource, gauge: gaugeSource },
});

const SCALES: Readonly<Record<Body, readonly Scale[]>> = {
  NMRA: scalesFor("NMRA"),
  NEM: scalesFor("NEM"),
};

function scalesFor(body: Body): readonly Scale[] {
  const own = standardRows(body).map((row) => toScale(row, body, written(row[0], body)));
  const others = VARIANTS.filter((row) => !own.some((scale) => scale.base === row[0] && scale.ratio === row[1]));
  return [...own, ...others.map((row) => toScale(row, body, `${written(row[0], body)} 1:${row[1]}`))];
}

/** Every scale of a body, smallest first, variants last. */
export const scalesOf = (body: Body): readonly Scale[] => SCALES[body];

/** The scale a body calls by this name; every body has all seven. */
export function standardScale(base: ScaleName, body: Body): Scale {
  const found = SCALES[body].find((scale) => scale.base === base);
  if (found === undefined) throw new Error(`no row for ${base}`);
  return found;
}

/**
 * A scale by the name people type: any case, H0 or HO, 0 or O, a ratio behind it for a variant (`N 1:148`).
 * Undefined where no such scale is known.
 */
export function findScale(name: string, body: Body): Scale | undefined {
  const match = /^([A-Z0]{1,2})(?:1:(\d+(?:\.\d+)?))?$/.exec(name.toUpperCase().replace(/\s+/g, ""));
  if (match === null) return undefined;
  const base = match[1]?.replaceAll("0", "O");
  const ratio = match[2] === undefined ? undefined : Number(match[2]);
  return SCALES[body].find((scale) => scale.base === base && (ratio === undefined || scale.ratio === ratio));
}

/** Ratios this near are one scale: 1:87 and 1:87.1 differ by a ninth of this, 1:160 and 1:150 by seven times. */
const SAME_RATIO = 0.01;

export type ScaleTable = Readonly<Partial<Record<ScaleName, Figure>>>;

/**
 * A length of the scale from a table of lengths: its own row where there is one, else the row of the scale nearest in
 * ratio, scaled to this one and rounded to 0.1 mm, and saying so. `rows` tells whose ratios the table was made for.
 * The table has at least one row.
 */
export function lengthFor(scale: Scale, table: ScaleTable, rows: Body): Figure {
  const own = table[scale.base];
  let base = scale.base;
  if (own === undefined) {
    const far = (name: ScaleName) => Math.abs(Math.log(standardScale(name, rows).ratio / scale.ratio));
    const [nearest] = SCALE_NAMES.filter((name) => table[name] !== undefined).sort((a, b) => far(a) - far(b));
    if (nearest === undefined) throw new Error("a table of lengths has at least one row");
    base = nearest;
  }
  const figure = table[base] as Figure;
  const from = standardScale(base, rows);
  if (Math.abs(from.ratio / scale.ratio - 1) < SAME_RATIO) return figure;
  return scaled(figure, from, scale);
}

/** A figure of one scale taken over by another, rounded to 0.1 mm. */
export function scaled(figure: Figure, from: Scale, to: Scale): Figure {
  const how = figure.how === undefined ? "" : ` (${figure.how})`;
  return {
    value: roundTo((figure.value * from.ratio) / to.ratio, 0.1),
    source: figure.source,
    known: "derived",
    how: `${from.name}'s ${roundTo(figure.value, 0.1)} mm, ${figure.known}${how}, scaled by ${from.ratio}/${to.ratio}`,
  };
}
