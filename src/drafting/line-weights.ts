/** Weights of lines, dash patterns and levels of detail: px of the drafting rules, the same on paper and at every zoom. */
import type { TrackClass } from "../plan/schema.js";

export interface TrackWeights {
  /** One line, from afar. */
  readonly line: number;
  /** Each of two rails. */
  readonly rail: number;
  /** Each rail where ties are drawn too, and each tie. */
  readonly railOnTies: number;
  readonly tie: number;
}

const main: TrackWeights = { line: 1.7, rail: 1, railOnTies: 1.2, tie: 0.6 };
const branch: TrackWeights = { line: 1.2, rail: 0.8, railOnTies: 1, tie: 0.6 };
const yard: TrackWeights = { line: 0.9, rail: 0.7, railOnTies: 0.9, tie: 0.5 };

export const TRACK_WEIGHTS: Readonly<Record<TrackClass, TrackWeights>> = {
  main,
  branch,
  siding: branch,
  lead: branch,
  yard,
  spur: yard,
  staging: yard,
};

export const WEIGHT = {
  hidden: 1,
  ghost: 0.9,
  wall: 1.8,
  hatch: 0.7,
  fascia: 0.9,
  dimension: 0.6,
  picked: 2.6,
} as const;

export const DASH = {
  hidden: [6, 3.5],
  fasciaAbove: [9, 3, 1.5, 3],
  unreached: [2, 3],
  gate: [4, 2.5],
  centre: [14, 3, 3, 3],
} as const;

/** The hatched band that stands for a wall, px; a wall's true thickness is not in the plan. */
export const WALL_BAND = 10;
/** Between the 45 degree lines of a hatch, px. */
export const HATCH_STEP = 5;
/** Across the track at points and where it ends, px. */
export const TICK = 8;

/** How much of a track is drawn: one line, two rails, rails on their ties. */
export type Detail = "overview" | "rails" | "ties";

const INCH = 25.4;

/** The detail at a scale in px per mm: one line below 3 px to the inch, ties from 10. */
export const detailAt = (scale: number): Detail => {
  const perInch = scale * INCH;
  return perInch < 3 ? "overview" : perInch <= 10 ? "rails" : "ties";
};
