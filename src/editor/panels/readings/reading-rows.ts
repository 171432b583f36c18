/**
 * The rows of the readings table.
 *
 * Always holds: groups and rows stand in one order whatever their verdicts; every reading has a row.
 */
import { grouped, limitText, valueText, VERDICTS } from "../../../exchange/readings-text.js";
import type { Plan } from "../../../plan/schema.js";
import type { Reading } from "../../../readings/reading.js";

export interface RowGroup {
  readonly name: string;
  readonly readings: readonly Reading[];
  /** Nothing in it asks to be looked at. */
  readonly quiet: boolean;
}

/**
 * Lengths of track have no limit: they stand last, where they keep nobody from what has one. Nothing at all while
 * nothing can be measured.
 */
export function readingGroups(readings: readonly Reading[]): RowGroup[] {
  if (readings.every(({ verdict, value }) => verdict === "none" && !value)) return [];
  const lengths = readings.filter(({ id }) => id === "length");
  return [
    ...grouped(readings.filter(({ id }) => id !== "length")),
    ...(lengths.length > 0 ? [{ name: "Lengths", readings: lengths }] : []),
  ].map((group) => ({
    ...group,
    quiet: group.readings.every(({ verdict }) => verdict === "clear" || verdict === "none"),
  }));
}

export interface RowText {
  readonly word: string;
  readonly value: string;
  /** `≥ 30″`; "No limit" where nothing limits it and something is measured. */
  readonly limit: string;
}

export function rowText(reading: Reading, units: Plan["units"]): RowText {
  return {
    // A verdict of none is said once, in the limit's column.
    word: reading.verdict === "none" ? "" : VERDICTS[reading.verdict].word,
    value: valueText(reading, units),
    limit: limitText(reading, units) || "No limit",
  };
}

/** The place to fly to next: the one after `before`, round again after the last. */
export const nextPlace = (reading: Reading, before: number | undefined): number =>
  reading.places.length === 0 ? 0 : before === undefined ? 0 : (before + 1) % reading.places.length;
