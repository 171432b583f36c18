/**
 * The climb sheet against the hobby's figures and published formulas; each entry of the data file names its source and how
 * it is known.
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { climbSheet, climbSums } from "../../src/climb/climb-sheet.js";
import { heightAt } from "../../src/layout/profile.js";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import type { Plan } from "../../src/plan/schema.js";

const INCH = 25.4;

interface Entry {
  readonly id: string;
  readonly cite: string;
  readonly how: string;
  readonly topic: string;
  readonly tolerance?: number;
  readonly given?: Readonly<Record<string, number>>;
  readonly published?: unknown;
}

const { entries } = JSON.parse(readFileSync(new URL("./data/climbs.json", import.meta.url), "utf8")) as {
  readonly entries: readonly Entry[];
};

function entry<Published>(
  id: string,
): Entry & { readonly published: Published; readonly label: string; readonly tolerance: number } {
  const found = entries.find((one) => one.id === id);
  if (!found) throw new Error(`no entry ${id}`);
  // A percent sign in a test's title is doubled.
  const label = `${found.topic}: ${found.cite} (${found.how})`.replaceAll("%", "%%");
  return { tolerance: 0, ...found, published: found.published as Published, label };
}

/** American practice in HO, with a vertical curve of so many inches for 1 %. */
function ho(verticalCurve: number, drag?: number): Plan {
  const plan = emptyPlan({ title: "", width: 6000, depth: 5000, scale: "HO", body: "NMRA", units: "imperial" });
  const set = (value: number) => ({ value, source: "set by the test" });
  const standards = { ...plan.standards, verticalCurve: set(verticalCurve * INCH) };
  return { ...plan, standards: drag === undefined ? standards : { ...standards, curveDrag: set(drag) } };
}

const reckon = (plan: Plan, rise: number, grade: number, radius: number) =>
  climbSums(plan, { rise: rise * INCH, grade, radius: radius * INCH });

function sheetOf(plan: Plan, grade: number) {
  const result = climbSheet(plan, "main", { rise: 400, grade, radius: 762 });
  if (!result.ok) throw new Error(result.message);
  return result;
}

const off = (value: number, published: number): number => Math.abs(value - published);

describe("climbs as the hobby reckons them", () => {
  const c1 = entry<[number, number][]>("C1");
  it.each(c1.published)(`${c1.label}: %d in radius is %d %%`, (radius, grade) => {
    const perTurn = c1.given?.["perTurn"] ?? Number.NaN;
    // The grade that gains so much a turn, from what one percent gains.
    const one = reckon(ho(0), 12, 1, radius).perTurn / INCH;
    expect(off(perTurn / one, grade)).toBeLessThanOrEqual(c1.tolerance);
    const sums = reckon(ho(0), 3 * perTurn, perTurn / one, radius);
    expect(sums.turns).toBeCloseTo(3, 9);
    expect(sums.perTurn / INCH).toBeCloseTo(perTurn, 9);
  });

  const c2 = entry<{ climbing: number; feet: number }>("C2");
  it(`${c2.label}`, () => {
    const { rise = Number.NaN, grade = Number.NaN } = c2.given ?? {};
    const { climbing, run } = reckon(ho(0), rise, grade, 30);
    expect(off(climbing / INCH, c2.published.climbing)).toBeLessThanOrEqual(c2.tolerance * c2.published.climbing);
    expect(off(run / INCH / 12, c2.published.feet)).toBeLessThanOrEqual(c2.tolerance * c2.published.feet);
  });

  const c3 = entry<{ perPercent: number }>("C3");
  it.each([1, 2, 2.5, 3])(`${c3.label}: %d %%`, (grade) => {
    const { run, climbing, verticalCurve } = reckon(ho(c3.published.perPercent), 16, grade, 30);
    expect(verticalCurve / INCH).toBeCloseTo(c3.published.perPercent * grade, 9);
    expect(run).toBeCloseTo(climbing + verticalCurve, 9);
    expect(climbing / INCH).toBeCloseTo((100 * 16) / grade, 9);
  });

  const c4 = entry<[number, number][]>("C4");
  it.each(c4.published)(`${c4.label}: %d in radius, %d %%`, (radius, drag) => {
    const { felt } = reckon(ho(12), 16, 2, radius);
    expect(off(felt - 2, drag)).toBeLessThanOrEqual(c4.tolerance);
  });

  const c6 = entry<{ compensation: number; allowed: number }>("C6");
  it(`${c6.label}`, () => {
    const { ruling = Number.NaN, degrees = Number.NaN, rate = Number.NaN } = c6.given ?? {};
    // So much a degree, on a radius of that many degrees: a drag of rate x degrees x radius.
    const radius = 30;
    const plan = ho(12, rate * degrees * radius * INCH);
    const { felt } = reckon(plan, 16, c6.published.allowed, radius);
    expect(off(felt - c6.published.allowed, c6.published.compensation)).toBeLessThanOrEqual(c6.tolerance);
    expect(off(felt, ruling)).toBeLessThanOrEqual(c6.tolerance);
  });
});

describe("clear height in a helix", () => {
  const c5 = entry("C5");
  const c7 = entry("C7");
  it.each([
    [2, 30],
    [2.5, 36],
    [3, 48],
  ])(`${c7.label}, and the way in a part of a turn before it: %d %%, %d in radius`, (grade, radius) => {
    const plan = ho(0);
    const { gap, perTurn } = reckon(plan, 30, grade, radius);
    const { trackStructure, roadbedWidth, longestCar } = plan.standards;
    const { width, length, truckCentres } = longestCar.value;
    // The throws as railway courses give them, (L² - C²) / 8R.
    const r = radius * INCH;
    const reach = (roadbedWidth.value + width) / 2 + (length ** 2 - truckCentres ** 2) / (8 * r);
    const before = r * Math.acos(r / (r + reach));
    expect(gap).toBeCloseTo(perTurn - (grade / 100) * before - trackStructure.value, 1);
  });

  it.each([2, 3, 4])(`${c5.label}: what the vertical curve takes at the break, %d %%`, (grade) => {
    const { sheet } = sheetOf(ho(12), grade);
    const [, foot = 0] = sheet.profile.stations;
    // In stations of 100 mm e comes out in mm.
    const ordinate = ((sheet.sums.verticalCurve / 100) * grade) / 8;
    expect(heightAt(sheet.profile, foot)).toBeCloseTo(ordinate, 9);
  });
});
