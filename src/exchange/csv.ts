/**
 * Tables for spreadsheets, as RFC 4180 writes them: the readings, and heights every so far along each track. Figures are
 * bare numbers with a decimal point, their unit in a column or in the heading.
 *
 * Always holds: every row has as many cells as the heading; a cell of text comes out of a reader as it went in, but that
 * one a spreadsheet would take for a formula stands behind an apostrophe; a cell of figures is a number or empty.
 */
import { decksInOrder } from "../drafting/decks.js";
import { curvatureAt, poseAt } from "../geometry/path.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import { heightAt, slopeAt } from "../layout/profile.js";
import type { Plan } from "../plan/schema.js";
import type { Reading, ReadingUnit } from "../readings/reading.js";
import { grouped, placeText, VERDICTS } from "./readings-text.js";

type Units = Plan["units"];
/** A number is written bare, a text quoted where it must be; nothing gives an empty cell. */
type Cell = string | number | undefined;

const MM_PER_INCH = 25.4;
/** Decimals of figures: thousandths of an inch are a builder's least, one more keeps them apart. */
const DECIMALS = 4;
/** Straighter than a kilometre of radius is straight. */
const STRAIGHT = 1e-6;

/**
 * What a spreadsheet computes rather than shows: =, +, -, @ before anything else, or behind a tab or the end of a line.
 * OWASP, "CSV Injection" (from memory). Spaces and full-width forms of the signs are taken for them too.
 */
const FORMULA = /^[\s\u00a0]*[=+\-@\uff1d\uff0b\uff0d\uff20\t\r]/u;

function cellText(cell: Cell): string {
  if (cell === undefined) return "";
  if (typeof cell === "number") return Number.isFinite(cell) ? String(Number(cell.toFixed(DECIMALS)) || 0) : "";
  // What no text should hold, and some readers end at.
  const plain = cell.replaceAll("\0", "");
  const safe = FORMULA.test(plain) ? `'${plain}` : plain;
  return /[",\r\n]|^\s|\s$/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** Rows end with CR LF, the last one too. */
const csvText = (rows: readonly (readonly Cell[])[]): string =>
  rows.map((row) => `${row.map(cellText).join(",")}\r\n`).join("");

const lengthIn = (units: Units, mm: Millimetres): number => (units === "imperial" ? mm / MM_PER_INCH : mm);
const lengthUnit = (units: Units): string => (units === "imperial" ? "in" : "mm");

const figureIn = (units: Units, unit: ReadingUnit, value: number | undefined): number | undefined =>
  value !== undefined && unit === "mm" ? lengthIn(units, value) : value;

const UNIT_NAMES: Readonly<Record<Exclude<ReadingUnit, "mm">, string>> = { percent: "%", degrees: "deg", count: "" };

/** One row a reading, with its verdict, and below it one for each of its places. */
export function readingsCsv(plan: Plan, readings: readonly Reading[], units: Units = plan.units): string {
  const rows: Cell[][] = [["group", "reading", "value", "unit", "limit", "verdict", "place", "note"]];
  for (const group of grouped(readings)) {
    for (const reading of group.readings) {
      const figure = (value: number | undefined) => figureIn(units, reading.unit, value);
      const unit = reading.unit === "mm" ? lengthUnit(units) : UNIT_NAMES[reading.unit];
      const limit = figure(reading.limit);
      const what = [group.name, reading.label] as const;
      const note = [reading.source, reading.reason].filter((part) => part !== undefined && part !== "").join("; ");
      rows.push([...what, figure(reading.value), unit, limit, VERDICTS[reading.verdict].word, "", note]);
      for (const place of reading.places) {
        rows.push([...what, figure(place.value), unit, limit, "", placeText(plan, place, units), place.note]);
      }
    }
  }
  return csvText(rows);
}

export type CsvResult = { readonly ok: true; readonly text: string } | { readonly ok: false; readonly message: string };

/** More rows than this no spreadsheet opens (1,048,576 is the most of the common ones; from memory). */
export const MOST_ROWS = 1_000_000;

export interface HeightsOptions {
  /** Between two rows of a track, mm; each end has a row whatever it is. */
  readonly every: Millimetres;
  readonly units?: Units;
  /** Tracks of one deck only. */
  readonly deck?: string;
}

/** Heights along every track, decks from the floor up. Refused where it would have more than `MOST_ROWS` rows. */
export function heightsCsv(layout: Layout, { every, units = layout.plan.units, deck }: HeightsOptions): CsvResult {
  if (!(every > 0))
    return { ok: false, message: "heights are told every so many millimetres or inches, more than none" };
  const lines = decksInOrder(layout.plan)
    .filter((id) => deck === undefined || id === deck)
    .flatMap((id) => [...layout.lines.values()].filter((line) => line.kind === "track" && line.deck === id));
  const count = lines.reduce((sum, line) => sum + Math.ceil(line.path.length / every) + 1, 1);
  if (count > MOST_ROWS) {
    return { ok: false, message: `that would be ${count} rows; no spreadsheet takes more than ${MOST_ROWS}` };
  }
  const names = trackNames(layout.plan);
  const unit = lengthUnit(units);
  const figure = (mm: Millimetres): number => lengthIn(units, mm);
  const lengths = ["distance", "x", "y", "height"].map((what) => `${what} (${unit})`);
  const rows: Cell[][] = [["track", "deck", ...lengths, "grade (%)", `radius (${unit})`]];
  for (const line of lines) {
    const profile = layout.profiles.get(line.key);
    const track = names.get(line.id) ?? line.id;
    for (const s of distances(line, every)) {
      const { x, y } = poseAt(line.path, s);
      const bend = Math.abs(curvatureAt(line.path, s));
      const grade = profile && slopeAt(profile, s) * 100;
      rows.push([
        track,
        layout.plan.decks[line.deck]?.name ?? line.deck,
        figure(s),
        figure(x),
        figure(y),
        profile && figure(heightAt(profile, s)),
        grade,
        bend > STRAIGHT ? figure(1 / bend) : undefined,
      ]);
    }
  }
  return { ok: true, text: csvText(rows) };
}

/** From the start every so far, and the end. */
function distances({ path }: Line, every: Millimetres): Millimetres[] {
  const whole = Math.ceil(path.length / every);
  return [...Array.from({ length: whole }, (_, i) => i * every), path.length];
}

/** A name that several tracks have is told with the id. */
function trackNames({ tracks }: Plan): ReadonlyMap<string, string> {
  const counts = new Map<string, number>();
  for (const { name } of Object.values(tracks)) if (name) counts.set(name, (counts.get(name) ?? 0) + 1);
  return new Map(
    Object.entries(tracks).map(([id, { name }]) => [
      id,
      !name ? id : (counts.get(name) ?? 0) > 1 ? `${name} (${id})` : name,
    ]),
  );
}
