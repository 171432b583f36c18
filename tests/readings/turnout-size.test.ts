/** Turnouts by frog number: clear, tight where hidden, failing, with the turnout told. */
import { describe, expect, test } from "vitest";
import { limitOfReading } from "../../src/editor/panels/limits.js";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Plan, Turnout } from "../../src/plan/schema.js";
import { readingKey } from "../../src/readings/reading.js";
import { takeReadings } from "../../src/readings/take.js";
import { at, type Draft, plan, straight } from "./fixture.js";

const PART: Turnout = { on: "main", at: 500, facing: "with", hand: "left", template: "part" };

/** A main with one turnout of a number on it. */
const withNumber = (number: number, wishes: Parameters<Draft["track"]>[3] = {}): Draft =>
  plan()
    .limits({ turnout: 5 }, "yard")
    .track("main", at(500, 1000), [straight(2000)], wishes)
    .turnout("t", { on: "main", at: 500, hand: "left", number });

const sizeOf = (of: Plan, scope = "main") =>
  takeReadings(of, deriveLayout(of)).find((reading) => readingKey(reading) === `turnout-size:${scope}`);

describe("turnout-size", () => {
  test.each([
    ["main", 8, "clear", 6],
    ["main", 6, "clear", 6],
    ["main", 5, "fails", 6],
    ["yard", 5, "clear", 5],
    ["yard", 4, "fails", 5],
    // Classes without limits of their own follow the main.
    ["spur", 5, "fails", 6],
  ] as const)("on %s number %d is %s", (trackClass, number, verdict, limit) => {
    const draft = withNumber(number, { class: trackClass });
    const found = draft.reading(`turnout-size:${trackClass}`);
    expect(found).toMatchObject({ value: number, verdict, limit, bound: "least", unit: "count" });
    expect(found?.places).toHaveLength(1);
    expect(found?.places[0]).toMatchObject({ thing: "turnouts.t", deck: "lower", s: 500, point: { x: 1000, y: 1000 } });
    expect(found && limitOfReading(draft.plan, found)).toBe(`classes.${trackClass}.turnout`);
  });

  test("the owner's own least number of a class is what counts", () => {
    const own = withNumber(5).limits({ turnout: 5 }).reading("turnout-size:main");
    expect(own).toMatchObject({ verdict: "clear", limit: 5, source: "set by the test" });
    expect(withNumber(6).limits({ turnout: 8 }).reading("turnout-size:main")?.verdict).toBe("fails");
  });

  test("a plan that says nothing of turnouts is held to common practice", () => {
    const { plan: said } = withNumber(5, { class: "spur" });
    const { turnout: _, ...main } = said.standards.classes.main;
    const found = sizeOf({ ...said, standards: { ...said.standards, classes: { main } } }, "spur");
    expect(found).toMatchObject({ verdict: "clear", limit: 5 });
    expect(found?.source).toMatch(/^common practice, no source/);
  });

  test("hidden, it is held to what is advised there, which is tight and no more", () => {
    const hidden = (number: number) =>
      withNumber(number, { class: "yard", hidden: true }).reading("turnout-size:hidden");
    expect(hidden(5)).toMatchObject({ verdict: "tight", value: 5, limit: 6 });
    expect(hidden(5)?.places[0]?.thing).toBe("turnouts.t");
    expect(hidden(6)?.verdict).toBe("clear");
    // Hidden beyond its points only.
    expect(withNumber(5, { hidden: [{ from: 600, to: 2000 }] }).reading("turnout-size:hidden")).toBeUndefined();
  });

  test("a wye, a slip and a measured part count by their own numbers", () => {
    const wye = plan()
      .track("main", at(500, 1000), [straight(2000)])
      .turnout("w", { on: "main", hand: "wye", number: 5 });
    expect(wye.reading("turnout-size:main")).toMatchObject({ value: 5, verdict: "fails" });

    // Tracks that cross at 9.53 degrees: F = 2 atan(1/12).
    const crossed = plan()
      .track("a", at(500, 1000), [straight(3000)])
      .track("b", at(2000 - 1500 * Math.cos(0.16629), 1000 - 1500 * Math.sin(0.16629), 9.5278), [straight(3000)]).plan;
    const slip = { on: "a", at: 1500, across: "b", kind: "double" } as const;
    const found = sizeOf({ ...crossed, slips: { s: slip } });
    expect(found).toMatchObject({ value: 6, verdict: "clear" });
    expect(found?.places[0]).toMatchObject({ thing: "slips.s", deck: "lower" });

    // Half a degree's worth of rounding: 9.6 degrees are number 5.95, which is a number 6.
    const draft = withNumber(6);
    const templates = { part: { name: "Part", length: 260, points: 30, angle: 9.6, radius: 900 } };
    expect(sizeOf({ ...draft.plan, templates, turnouts: { t: PART } })).toMatchObject({ value: 6, verdict: "clear" });
  });

  test("of a plan without turnouts there is none", () => {
    expect(
      plan()
        .track("main", at(0, 0), [straight(500)])
        .readings.filter(({ id }) => id === "turnout-size"),
    ).toEqual([]);
  });
});
