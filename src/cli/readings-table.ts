/** Readings as a table of text: sign and word, what, value, limit; under what is tight or fails, where. */
import {
  grouped,
  limitText,
  type Place,
  placeText,
  type Plan,
  quantityText,
  type Reading,
  tally,
  tallyText,
  VERDICTS,
  valueText,
} from "../core/index.js";
import { pad } from "./text-columns.js";

/** Places told under a reading that is not clear. */
const PLACES_SHOWN = 3;

export function readingsTable(plan: Plan, readings: readonly Reading[], file: string): string {
  const rows = readings.map((reading) => [
    reading.label,
    valueText(reading, plan.units),
    limitText(reading, plan.units),
  ]);
  const width = (column: number) => Math.max(0, ...rows.map((row) => [...(row[column] ?? "")].length));
  const widths = [width(0), width(1), width(2)] as const;
  const lines = [`${plan.title} (${file})`];
  for (const group of grouped(readings)) {
    lines.push("", group.name);
    for (const reading of group.readings) {
      const { sign, word } = VERDICTS[reading.verdict];
      const value = valueText(reading, plan.units);
      const limit = limitText(reading, plan.units);
      lines.push(
        `  ${sign} ${word.padEnd(8)}  ${pad(reading.label, widths[0])}  ${pad(value, -widths[1])}  ${limit}`.trimEnd(),
      );
      if (reading.verdict === "tight" || reading.verdict === "fails") lines.push(...whereabouts(plan, reading));
    }
  }
  lines.push("", tallyText(tally(readings)));
  return `${lines.join("\n")}\n`;
}

function whereabouts(plan: Plan, reading: Reading): string[] {
  const indent = " ".repeat(14);
  const lines = reading.places.slice(0, PLACES_SHOWN).map((place) => `${indent}${worstText(plan, reading, place)}`);
  const more = reading.places.length - PLACES_SHOWN;
  if (more > 0) lines.push(`${indent}and ${more} more`);
  if (reading.reason) lines.push(`${indent}lived with: ${reading.reason}`);
  return lines;
}

function worstText(plan: Plan, reading: Reading, place: Place): string {
  const value = place.value === undefined ? "" : `${quantityText(place.value, reading.unit, plan.units)} `;
  return `${value}at ${placeText(plan, place)}${place.note ? `: ${place.note}` : ""}`;
}
