/**
 * Plans side by side, or the options of one: every reading, what belongs to it, and what there is to build, a row each;
 * what differs from the first column is marked, and which way.
 *
 * Always holds: a row has a cell for every column; a plan beside itself differs in nothing.
 */
import { areaSize } from "../geometry/areas.js";
import { deriveLayout } from "../layout/derive.js";
import type { Layout } from "../layout/layout.js";
import { inOption } from "../layout/options.js";
import { type OptionCollection, recordsOfOption } from "../plan/option-records.js";
import type { Id, Plan } from "../plan/schema.js";
import { type Reading, readingKey, type ReadingUnit, type Verdict } from "../readings/reading.js";
import { takeReadings } from "../readings/take.js";
import type { Units } from "../drafting/figures.js";
import { grouped, limitText, quantityText, tally } from "./readings-text.js";

/** A plan with an option in hand, and what was made of it. */
export interface Candidate {
  readonly name: string;
  /** Undefined for a plan as it stands. */
  readonly option: Id | undefined;
  readonly plan: Plan;
  readonly layout: Layout;
  readonly readings: readonly Reading[];
}

/** Beside the first column. other: it differs, and neither is better. */
export type Change = "same" | "better" | "worse" | "other";

export const CHANGES: Readonly<Record<Change, { readonly sign: string; readonly word: string }>> = {
  same: { sign: "", word: "same" },
  better: { sign: "+", word: "better" },
  worse: { sign: "−", word: "worse" },
  other: { sign: "≠", word: "differs" },
};

export interface ComparedCell {
  readonly value: number | undefined;
  readonly text: string;
  readonly verdict: Verdict | undefined;
  /** `≤ 2.5 %`; empty where nothing limits it. */
  readonly limit: string;
  readonly change: Change;
}

export interface ComparedRow {
  readonly key: string;
  readonly label: string;
  /** A further figure of the reading above it. */
  readonly figure: boolean;
  readonly cells: readonly ComparedCell[];
  readonly differs: boolean;
}

export interface Comparison {
  readonly names: readonly string[];
  readonly groups: readonly { readonly name: string; readonly rows: readonly ComparedRow[] }[];
}

/** The plan with each of its options in hand, in the plan's order; as it stands where it has none. */
export function optionsOf(
  plan: Plan,
): { readonly option: Id | undefined; readonly name: string; readonly plan: Plan }[] {
  const options = Object.entries(plan.options);
  if (options.length === 0) return [{ option: undefined, name: plan.title, plan }];
  return options.map(([option, { name }]) => ({ option, name, plan: withOptionInHand(plan, option) }));
}

/** The plan itself where the option is in hand already, so that what was made of it is found again. */
export function withOptionInHand(plan: Plan, option: Id | undefined): Plan {
  if (plan.option === option) return plan;
  const { option: _before, ...rest } = plan;
  return option === undefined ? rest : { ...rest, option };
}

/** All of it at once; what is alike is laid out once. */
export function candidatesOf(plan: Plan): Candidate[] {
  let layout: Layout | undefined;
  return optionsOf(plan).map(({ option, name, plan: own }) => {
    layout = deriveLayout(own, layout);
    return { name, option, plan: own, layout, readings: takeReadings(own, layout) };
  });
}

/** In the units given; readings are matched by what they are about, else by what they are called. */
export function compare(candidates: readonly Candidate[], units: Units): Comparison {
  const all = candidates.map(({ readings }) => readings);
  const rows = matched(all);
  const order = rows
    .map(({ readings }) => readings.find((reading) => reading !== undefined))
    .filter((r) => r !== undefined);
  const byFirst = new Map(rows.map((row, i) => [order[i], row]));
  const groups = grouped(order).map(({ name, readings }) => ({
    name,
    rows: readings.flatMap((first) => {
      const row = byFirst.get(first);
      return row ? [readingRow(row, units), ...figureRows(row, units)] : [];
    }),
  }));
  return {
    names: candidates.map(({ name }) => name),
    groups: [
      { name: "In all", rows: verdictRows(all) },
      { name: "To build", rows: buildRows(candidates, units) },
      ...groups,
    ].filter((group) => group.rows.length > 0),
  };
}

interface Matched {
  readonly key: string;
  readonly readings: (Reading | undefined)[];
}

/** Rows of readings; a column without one has undefined there. New ones stand behind the last of their kind. */
function matched(columns: readonly (readonly Reading[])[]): Matched[] {
  const rows: Matched[] = [];
  columns.forEach((readings, column) => {
    for (const reading of readings) {
      const free = rows.filter(({ readings: row }) => row[column] === undefined);
      const row =
        free.find(({ key }) => key === readingKey(reading)) ??
        free.find(({ readings: row }) => row.some((r) => r?.id === reading.id && r.label === reading.label));
      if (row) row.readings[column] = reading;
      else {
        const added: Matched = { key: readingKey(reading), readings: columns.map(() => undefined) };
        added.readings[column] = reading;
        const last = rows.findLastIndex(({ readings: r }) => r.some((one) => one?.id === reading.id));
        rows.splice(last < 0 ? rows.length : last + 1, 0, added);
      }
    }
  });
  return rows;
}

type Plain = Omit<ComparedCell, "change">;

/** Which way more is better; undefined where neither is. */
type Bound = "least" | "most" | undefined;

function row(key: string, label: string, plain: readonly Plain[], bound: Bound, figure = false): ComparedRow {
  const [first] = plain;
  const cells = plain.map((cell): ComparedCell => ({ ...cell, change: first ? changeOf(first, cell, bound) : "same" }));
  return { key, label, figure, cells, differs: cells.some(({ change }) => change !== "same") };
}

const RANK: Readonly<Record<Verdict, number>> = { none: 0, clear: 0, tight: 1, fails: 2 };

/** What is told alike is alike: nobody builds to a hundredth of a millimetre. */
function changeOf(first: Plain, cell: Plain, bound: Bound): Change {
  if (first.text === cell.text && first.verdict === cell.verdict && first.limit === cell.limit) return "same";
  if (first.value === undefined || cell.value === undefined) return "other";
  if (first.verdict && cell.verdict && RANK[first.verdict] !== RANK[cell.verdict])
    return RANK[cell.verdict] < RANK[first.verdict] ? "better" : "worse";
  if (bound === undefined || first.text === cell.text) return "other";
  return (bound === "least") === cell.value > first.value ? "better" : "worse";
}

function readingRow({ key, readings }: Matched, units: Units): ComparedRow {
  const some = readings.find((reading) => reading !== undefined);
  const cells = readings.map((reading): Plain => {
    if (!reading) return NOTHING;
    const text = quantityText(reading.value, reading.unit, units);
    return { value: reading.value, text, verdict: reading.verdict, limit: limitText(reading, units) };
  });
  return row(key, some?.label ?? key, cells, some?.bound);
}

const NOTHING: Plain = { value: undefined, text: "–", verdict: undefined, limit: "" };

function figureRows({ key, readings }: Matched, units: Units): ComparedRow[] {
  const names = [...new Set(readings.flatMap((reading) => Object.keys(reading?.figures ?? {})))];
  return names.map((name) => {
    const cells = readings.map((reading) => {
      const figure = reading?.figures?.[name];
      return figure ? plain(figure.value, figure.unit, units) : NOTHING;
    });
    return row(`${key}/${name}`, name, cells, undefined, true);
  });
}

const plain = (value: number, unit: ReadingUnit, units: Units): Plain => ({
  value,
  text: quantityText(value, unit, units),
  verdict: undefined,
  limit: "",
});

function verdictRows(columns: readonly (readonly Reading[])[]): ComparedRow[] {
  const counts = columns.map(tally);
  const cells = (verdict: "fails" | "tight"): Plain[] =>
    counts.map((count) => plain(count[verdict], "count", "metric"));
  return [row("fails", "Beyond the limit", cells("fails"), "most"), row("tight", "Tight", cells("tight"), "most")];
}

/** What there is to build and to lay, and how much of it is the option's own. */
function buildRows(candidates: readonly Candidate[], units: Units): ComparedRow[] {
  const counted = (key: string, label: string, count: (candidate: Candidate) => number): ComparedRow =>
    row(
      key,
      label,
      candidates.map((candidate) => plain(count(candidate), "count", units)),
      undefined,
    );
  const inHand = ({ plan }: Candidate, collection: OptionCollection): number =>
    Object.values(plan[collection]).filter((record) => inOption(plan, record)).length;
  const benches = candidates.map(({ layout }): Plain => {
    const area = [...layout.space.decks.values()].reduce((sum, { bench }) => sum + areaSize(bench), 0);
    return { value: area, text: areaText(area, units), verdict: undefined, limit: "" };
  });
  const own = candidates.some(({ option }) => option !== undefined);
  return [
    counted("tracks", "Tracks", (candidate) => inHand(candidate, "tracks")),
    counted("turnouts", "Turnouts", (candidate) => inHand(candidate, "turnouts") + inHand(candidate, "slips")),
    row("benches", "Benches, decks added up", benches, undefined),
    ...(own
      ? [
          counted("own", "Objects of its own", ({ plan, option }) =>
            option === undefined ? 0 : recordsOfOption(plan, option).length,
          ),
        ]
      : []),
  ];
}

const SQUARE_FOOT = 304.8 ** 2;
const SQUARE_METRE = 1e6;

const areaText = (area: number, units: Units): string =>
  units === "imperial" ? `${(area / SQUARE_FOOT).toFixed(1)} sq ft` : `${(area / SQUARE_METRE).toFixed(2)} m²`;
