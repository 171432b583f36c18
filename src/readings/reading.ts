/** What a reading is: a value held against a limit, the verdict, where it is worst, and whose limit it is. */
import type { Point } from "../geometry/pose.js";
import type { Id } from "../plan/schema.js";

export const READING_IDS = [
  "length",
  "radius",
  "easement",
  "reverse-curve",
  "grade",
  "felt-grade",
  "vertical-curve",
  "climb",
  "deck-separation",
  "over-track",
  "track-spacing",
  "edge",
  "joint",
  "turnout-size",
  "turnout-room",
  "turnout-reach",
  "siding",
  "yard",
  "staging",
  "spur",
  "runaround",
  "runs",
  "hidden",
  "totals",
  "aisle",
  "reach",
  "sight",
  "door",
  "gate",
] as const;
export type ReadingId = (typeof READING_IDS)[number];

/** clear: within its limit. tight: within, by less than the plan's margin. fails: beyond. none: nothing limits it. */
export type Verdict = "clear" | "tight" | "fails" | "none";

/** The quantity's kind, for display in the plan's units: lengths in mm, angles in degrees, ratios in percent, bare counts. */
export type ReadingUnit = "mm" | "percent" | "degrees" | "count";

/** Somewhere to look: a deck, a point on the sheet, and the thing there. */
export interface Place {
  readonly deck: Id;
  readonly point: Point;
  /** Collection and id in the plan, as `tracks.larkmoor-main`. */
  readonly thing: string;
  /** Distance along the track or turnout route, mm, where it lies on one. */
  readonly s?: number;
  /** The value there. */
  readonly value?: number;
  /** What is the matter, in a few words. */
  readonly note?: string;
}

export interface Reading {
  readonly id: ReadingId;
  /** What it is about when a rule gives several: a track class, a pair of decks. Key of a reading: `id` or `id:scope`. */
  readonly scope?: string;
  readonly label: string;
  /** Undefined where there is nothing to measure. */
  readonly value: number | undefined;
  readonly unit: ReadingUnit;
  readonly limit: number | undefined;
  /** Whether the limit is a least or a most. */
  readonly bound: "least" | "most" | undefined;
  readonly verdict: Verdict;
  /** Worst first, at most 50. */
  readonly places: readonly Place[];
  /** Where the limit comes from. */
  readonly source: string;
  /** The owner's reason for the limit, or for living with the reading. */
  readonly reason?: string;
  /** Further figures of the rule, as of a climb: mm or percent by name. */
  readonly figures?: Readonly<Record<string, { readonly value: number; readonly unit: ReadingUnit }>>;
}

/** Key by which a reading is accepted in the plan: `id`, or `id:scope`. */
export const readingKey = (reading: Reading): string =>
  reading.scope === undefined ? reading.id : `${reading.id}:${reading.scope}`;
