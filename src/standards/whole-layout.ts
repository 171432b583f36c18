/**
 * The whole-layout figures of Model Railroader, June 1968, after R. Dohn: how many cars a layout runs with, their share of
 * what its main holds, and how many are moved in a cycle of running.
 */
import type { Cited } from "./cited.js";

export const WHOLE_LAYOUT: Cited = {
  source: "Model Railroader, June 1968, after R. Dohn",
  known: "read second hand",
};

/** What each kind of track holds, in cars. */
export interface TrackInCars {
  readonly storage: number;
  readonly staging: number;
  readonly passing: number;
  readonly connecting: number;
  readonly main: number;
}

export interface WholeLayout {
  /** 80 % of storage, staging and half the passing tracks. */
  readonly cars: number;
  /** Those cars as percent of what the main holds; undefined without a main. */
  readonly share: number | undefined;
  /** 40 % of twice the staging, the passing and the connecting tracks. */
  readonly moved: number;
}

export function wholeLayout({ storage, staging, passing, connecting, main }: TrackInCars): WholeLayout {
  const cars = 0.8 * (storage + staging + passing / 2);
  return { cars, share: main > 0 ? (100 * cars) / main : undefined, moved: 0.4 * (2 * staging + passing + connecting) };
}
