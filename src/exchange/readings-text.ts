/** Readings in words and figures, the same on a terminal, on the page and in print: groups, verdicts, values, limits. */
import type { Plan } from "../plan/schema.js";
import type { Place, Reading, ReadingId, ReadingUnit, Verdict } from "../readings/reading.js";
import { lengthText, percentText, type Units } from "../drafting/figures.js";

export const READING_GROUPS: readonly { readonly name: string; readonly ids: readonly ReadingId[] }[] = [
  {
    name: "Track",
    ids: ["length", "radius", "easement", "reverse-curve", "track-spacing", "joint", "turnout-size", "turnout-room"],
  },
  { name: "Climb", ids: ["grade", "felt-grade", "vertical-curve", "climb", "over-track"] },
  { name: "Decks", ids: ["deck-separation", "sight", "hidden"] },
  { name: "Room", ids: ["edge", "aisle", "reach", "turnout-reach", "gate", "door"] },
  { name: "Trains", ids: ["siding", "yard", "staging", "spur", "runaround", "runs", "totals"] },
];

export { VERDICTS } from "../drafting/verdict-words.js";

export interface ReadingGroup {
  readonly name: string;
  readonly readings: readonly Reading[];
}

/** Readings by group in the order of the groups, empty ones left out; a reading of no group comes last. */
export function grouped(readings: readonly Reading[]): ReadingGroup[] {
  const known = new Set(READING_GROUPS.flatMap((group) => group.ids));
  return [
    ...READING_GROUPS.map(({ name, ids }) => ({ name, readings: readings.filter((r) => ids.includes(r.id)) })),
    { name: "Other", readings: readings.filter((r) => !known.has(r.id)) },
  ].filter((group) => group.readings.length > 0);
}

/** A quantity in the plan's units; a dash where there is nothing to measure. */
export function quantityText(value: number | undefined, unit: ReadingUnit, units: Units): string {
  if (value === undefined) return "–";
  if (unit === "mm") return lengthText(value, units);
  if (unit === "percent") return percentText(value);
  return unit === "degrees" ? `${value.toFixed(1)}°` : String(value);
}

export const valueText = (reading: Reading, units: Units): string => quantityText(reading.value, reading.unit, units);

/** `≥ 30″` or `≤ 2.5 %`; empty where nothing limits it. */
export function limitText(reading: Pick<Reading, "limit" | "bound" | "unit">, units: Units): string {
  if (reading.limit === undefined || reading.bound === undefined) return "";
  return `${reading.bound === "least" ? "≥" : "≤"} ${quantityText(reading.limit, reading.unit, units)}`;
}

/** `tracks.climb @ 12′ 6″, Upper`: the thing, how far along it, and its deck; what belongs to the room is on none. */
export function placeText(plan: Plan, place: Place, units: Units = plan.units): string {
  const along = place.s === undefined ? "" : ` @ ${quantityText(place.s, "mm", units)}`;
  const deck = place.deck === "" ? "" : `, ${plan.decks[place.deck]?.name ?? place.deck}`;
  return `${place.thing}${along}${deck}`;
}

export type Tally = Readonly<Record<Verdict, number>>;

export function tally(readings: readonly Reading[]): Tally {
  const count = (verdict: Verdict) => readings.filter((reading) => reading.verdict === verdict).length;
  return { fails: count("fails"), tight: count("tight"), clear: count("clear"), none: count("none") };
}

/** `1 beyond the limit · 2 tight · 8 clear`; a verdict nothing has is left out. */
export function tallyText(counts: Tally): string {
  const parts = [
    counts.fails > 0 ? `${counts.fails} beyond the limit` : "",
    counts.tight > 0 ? `${counts.tight} tight` : "",
    counts.clear > 0 ? `${counts.clear} clear` : "",
  ].filter((part) => part !== "");
  return parts.length > 0 ? parts.join(" · ") : "nothing to measure yet";
}
