/** What is typed on the climb sheet: first figures, figures read, written and stepped. */
import { describe, expect, it } from "vitest";
import type { SheetWishes } from "../../src/editor/climb-sheet-store.js";
import {
  figureText,
  firstWishes,
  groundOf,
  nudged,
  sheetFor,
  type SheetField,
  withTyped,
} from "../../src/editor/panels/climb-sheet/sheet-wishes.js";
import { ALL_SCALES, scaleKey } from "../../src/editor/files/new-plan.js";
import type { Plan } from "../../src/plan/schema.js";
import { Draft } from "../readings/fixture.js";

const draft = Draft.plan().standards({ curveDrag: 800 }).limits({ radius: 600, grade: 2.5, feltGrade: 3.5 });
const { plan } = draft;
const first = firstWishes(plan);

describe("first figures", () => {
  it("are the plan's own: its class's radius, and as steep as that allows, to a tenth", () => {
    // Drag 800 / 600 = 1.33: 2.16 % may be climbed.
    expect(first).toMatchObject({ radius: 600, grade: 2.1, class: "main", scale: undefined });
    expect(first.rise).toBe(plan.standards.deckSeparation.value);
  });

  it("rise from the lower scenic deck to the next", () => {
    const staging = { kind: "staging" } as const;
    const decks = draft.deck("under", 700, staging).deck("same", 1000).deck("upper", 1410).deck("top", 1900);
    expect(firstWishes(decks.plan).rise).toBe(410);
  });

  it.each(ALL_SCALES.map(scaleKey))("can be reckoned with in %s", (scale) => {
    const wishes = firstWishes(plan, scale, "branch");
    expect(sheetFor(plan, wishes)).toMatchObject({ ok: true });
    expect(groundOf(plan, scale).units).toBe(plan.units);
  });

  it("can be reckoned with where a curve's drag alone is too much", () => {
    const { plan: sharp } = draft.limits({ radius: 150, feltGrade: 2 });
    expect(sheetFor(sharp, firstWishes(sharp))).toMatchObject({ ok: true });
  });
});

describe("figures typed", () => {
  it.each<[field: SheetField, text: string, units: Plan["units"], value: number]>([
    ["rise", "400", "metric", 400],
    ["rise", "16", "imperial", 406.4],
    ["rise", "1' 4\"", "metric", 406.4],
    ["rise", "42 cm", "imperial", 420],
    ["grade", "2,2", "metric", 2.2],
    ["grade", "1 in 50", "imperial", 2],
    ["radius", "30 in", "metric", 762],
  ])("%s %s, %s", (field, text, units, value) => {
    const read = withTyped(plan, first, field, text, units);
    expect(read).toEqual({ ok: true, wishes: { ...first, [field]: expect.closeTo(value, 6) as number } });
  });

  it.each<[field: SheetField, text: string, message: RegExp]>([
    ["rise", "", /missing/],
    ["rise", "high", /./],
    ["rise", "0", /goes up/],
    ["grade", "-2", /level/],
    ["grade", "0", /level/],
    ["radius", "10", /longest car/],
  ])("%s %s is refused", (field, text, message) => {
    const read = withTyped(plan, first, field, text, "metric");
    expect(read.ok ? "" : read.message).toMatch(message);
  });

  it.each<[units: Plan["units"]]>([["metric"], ["imperial"]])("are read as they are written, %s", (units) => {
    const wishes: SheetWishes = { ...first, rise: 413.7, grade: 2.347, radius: 777.7 };
    for (const field of ["rise", "grade", "radius"] as const) {
      const read = withTyped(plan, wishes, field, figureText(field, wishes, units), units);
      const shown = field === "grade" ? 0.005 : units === "metric" ? 0.05 : 25.4 / 32;
      expect(Math.abs((read.ok ? read.wishes[field] : Number.NaN) - wishes[field])).toBeLessThanOrEqual(shown + 1e-9);
    }
  });
});

describe("arrow keys", () => {
  it.each<[field: SheetField, from: number, way: 1 | -1, units: Plan["units"], to: number]>([
    ["rise", 400, 1, "metric", 410],
    ["rise", 403, 1, "metric", 410],
    ["rise", 403, -1, "metric", 400],
    ["rise", 406.4, -1, "imperial", 393.7],
    ["grade", 2.2, 1, "metric", 2.3],
    ["grade", 2.25, -1, "imperial", 2.2],
    ["radius", 610, -1, "metric", 600],
  ])("%s %d by %d, %s", (field, from, way, units, to) => {
    const read = nudged(plan, { ...first, [field]: from }, field, way, units);
    expect(read.ok && read.wishes[field]).toBeCloseTo(to, 6);
  });

  it("stop where nothing can be reckoned any more", () => {
    expect(nudged(plan, { ...first, rise: 10 }, "rise", -1, "metric").ok).toBe(false);
  });
});
