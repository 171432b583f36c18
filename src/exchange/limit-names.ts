/** What the plan's limits and settings are called, and how their figures are told. */
import { lengthText, percentText, type Units } from "../drafting/figures.js";
import type { SettingPath } from "../plan/setting-edits.js";

export type LimitQuantity = "length" | "grade" | "number";

export const CLASS_LIMITS = {
  radius: ["Least radius", "length"],
  easement: ["Easement", "length"],
  grade: ["Steepest grade", "grade"],
  feltGrade: ["Steepest grade felt", "grade"],
  reverseStraight: ["Straight between reverse curves", "length"],
  centres: ["Track centres", "length"],
  turnout: ["Least frog number", "number"],
} as const satisfies Record<string, readonly [string, LimitQuantity]>;

export const PLAIN_LIMITS = {
  deckSeparation: ["Deck separation", "length"],
  stagingSeparation: ["Staging separation", "length"],
  overTrack: ["Clear over track", "length"],
  trackStructure: ["Structure under climbing track", "length"],
  roadbedWidth: ["Roadbed width", "length"],
  verticalCurve: ["Vertical curve, per 1 %", "length"],
  benchEdge: ["Track to bench edge", "length"],
  wall: ["Track to wall", "length"],
  aisle: ["Aisle", "length"],
  aisleWork: ["Aisle to work in", "length"],
  aislePass: ["Aisle where two pass", "length"],
  aisleBackToBack: ["Aisle back to back", "length"],
  reachUnder: ["Reach lost under a deck", "length"],
  engine: ["Engine", "length"],
  trains: ["Trains in staging", "number"],
  yardWorks: ["A yard works up to", "grade"],
  spurWorks: ["A spur works up to", "grade"],
  gateDead: ["Dead rail at a gate", "length"],
  train: ["Longest train", "length"],
  averageCar: ["Average car", "length"],
  curveDrag: ["Curve drag, percent times mm of radius", "number"],
  curveSlack: ["Throw allowed for in the centres", "length"],
  tight: ["Tight within this share of a limit", "grade"],
} as const satisfies Record<string, readonly [string, LimitQuantity]>;

export type ClassLimit = keyof typeof CLASS_LIMITS;
export type PlainLimit = keyof typeof PLAIN_LIMITS;

const isKey = <T extends object>(table: T, key: string): key is Extract<keyof T, string> => Object.hasOwn(table, key);

/** What a limit is called, and what is typed for it. */
export function limitNamed(path: SettingPath): { readonly name: string; readonly quantity: LimitQuantity } {
  const last = path.split(".").at(-1) ?? "";
  const [name, quantity] = isKey(CLASS_LIMITS, last)
    ? CLASS_LIMITS[last]
    : isKey(PLAIN_LIMITS, last)
      ? PLAIN_LIMITS[last]
      : ([path, "number"] as const);
  return { name, quantity };
}

/** A setting's figure in words; a word or two for one that is no single figure. */
export function limitValueText(path: SettingPath, value: unknown, units: Units): string {
  if (value === undefined) return "–";
  if (typeof value !== "number") return typeof value === "string" ? value : "several figures";
  const { quantity } = limitNamed(path);
  if (quantity === "length") return lengthText(value, units);
  return quantity === "grade" ? percentText(value) : String(value);
}
