import { describe, expect, test } from "vitest";
import { type Candidate, candidatesOf, compare, type ComparedRow, optionsOf } from "../../src/exchange/compare.js";
import type { Reading } from "../../src/readings/reading.js";
import { LONG, planWithTwoClimbs, SHORT } from "../support/option-plan.js";
import { hillPlan } from "./hill-plan.js";

const plan = planWithTwoClimbs();
const candidates = candidatesOf(plan);
const rowsOf = (all: readonly Candidate[]): ComparedRow[] =>
  compare(all, "metric").groups.flatMap(({ rows }) => [...rows]);
const rows = rowsOf(candidates);
const row = (label: string, among: readonly ComparedRow[] = rows): ComparedRow => {
  const found = among.find((one) => one.label === label);
  if (!found) throw new Error(`no row ${label}`);
  return found;
};

describe("the options of a plan", () => {
  test("are each in hand in turn, what is in hand being the plan itself", () => {
    expect(optionsOf(plan).map(({ option, name }) => [option, name])).toEqual([
      [LONG, "Long way"],
      [SHORT, "Late start"],
    ]);
    expect(optionsOf(plan)[0]?.plan).toBe(plan);
    expect(optionsOf(hillPlan)).toEqual([{ option: undefined, name: hillPlan.title, plan: hillPlan }]);
  });

  test("differ where the climb does: steeper is worse, and its figures stand under it", () => {
    const climb = row("Climb, Lower to Upper");
    expect(climb.differs).toBe(true);
    expect(climb.cells.map(({ change }) => change)).toEqual(["same", "worse"]);
    expect(climb.cells.map(({ value }) => value?.toFixed(2))).toEqual(["2.34", "2.81"]);
    expect(row("run").figure).toBe(true);
    expect(row("run").cells.map(({ text, change }) => [text, change])).toEqual([
      ["15.21 m", "same"],
      ["12.66 m", "other"],
    ]);
    expect(row("Clear under track").cells[1]?.change).toBe("better");
    expect(row("Beyond the limit").cells.map(({ text }) => text)).toEqual(["0", "1"]);
    expect(row("Objects of its own").cells.map(({ value }) => value)).toEqual([9, 9]);
  });

  test("are alike in all else, sidings of a copy by their names too", () => {
    expect(row("Track, main").differs).toBe(false);
    expect(row("Siding, Summit siding")).toMatchObject({ differs: false });
    expect(row("Siding, Summit siding").cells.every(({ value }) => value !== undefined)).toBe(true);
    for (const { cells } of rows) expect(cells).toHaveLength(2);
  });
});

describe("rows", () => {
  const [first] = candidates;
  if (!first) throw new Error("no option");
  const beside = (...changes: Partial<Reading>[]): ComparedRow => {
    const reading: Reading = {
      id: "aisle",
      label: "Aisle",
      value: 600,
      unit: "mm",
      limit: 500,
      bound: "least",
      verdict: "clear",
      places: [],
      source: "",
    };
    const all = [{}, ...changes].map((change): Candidate => ({ ...first, readings: [{ ...reading, ...change }] }));
    return row("Aisle", rowsOf(all));
  };

  test.each<[string, Partial<Reading>, string]>([
    ["the same", {}, "same"],
    ["less than is told", { value: 600.001 }, "same"],
    ["more, of at least so much", { value: 700 }, "better"],
    ["less, of at least so much", { value: 550 }, "worse"],
    ["less, of at most so much", { value: 550, bound: "most" }, "worse"],
    ["a better figure with a worse verdict", { value: 700, verdict: "tight" }, "worse"],
    ["another limit", { limit: 400 }, "other"],
    ["nothing to measure", { value: undefined, verdict: "none" }, "other"],
    ["without a bound", { value: 700, bound: undefined }, "better"],
  ])("%s", (_, change, expected) => {
    expect(beside(change).cells[1]?.change).toBe(expected);
  });

  test("a plan beside itself differs in nothing", () => {
    expect(rowsOf([first, first]).filter(({ differs }) => differs)).toEqual([]);
  });

  test("what only one has stands behind others of its kind, with a dash for the other", () => {
    const [aisle, gate] = [
      first.readings.find(({ id }) => id === "aisle"),
      first.readings.find(({ id }) => id === "gate"),
    ];
    if (!aisle || !gate) throw new Error("no reading");
    const second = { ...aisle, scope: "new", label: "Another aisle" };
    const own = rowsOf([
      { ...first, readings: [aisle, gate] },
      { ...first, readings: [aisle, gate, second] },
    ]);
    const labels = own.map(({ label }) => label);
    expect(labels.indexOf("Another aisle")).toBe(labels.indexOf(aisle.label) + 1);
    expect(row("Another aisle", own).cells.map(({ text, change }) => [text === "–", change])).toEqual([
      [true, "same"],
      [false, "other"],
    ]);
  });
});
