/** Heights: pins set, typed and dragged; climbs to a deck and stretches held level. */
import { describe, expect, it } from "vitest";
import { heightOn } from "../../src/layout/place-names.js";
import type { Plan } from "../../src/plan/schema.js";
import { layPlan } from "./lay-plan.js";
import { openSheet, type SheetDriver } from "./sheet-driver.js";

const newPins = (sheet: SheetDriver) =>
  Object.entries(sheet.plan.pins)
    .filter(([id]) => !(id in layPlan.pins))
    .map(([, pin]) => pin);

describe("pins", () => {
  it("are put by a click at the height there is, and given a typed height or a deck's", () => {
    const sheet = openSheet(layPlan).stage("grade").take("pin").click(2500, 300);
    expect(newPins(sheet)).toEqual([{ track: "main", at: 2000, height: 1000 }]);
    expect(sheet.type("1025").key("Enter").plan.pins).toMatchObject({ "main-height": { height: 1025 } });
    expect(sheet.type("upper").key("Enter").plan.pins).toMatchObject({ "main-height": { deck: "upper" } });
    sheet.type("attic").key("Enter");
    expect(sheet.state.show.entry?.error).toMatch(/no deck is called that/);
    expect(sheet.undoAll().plan).toBe(layPlan);
  });

  it("are dragged along the track as one step, and taken up", () => {
    const sheet = openSheet(layPlan).take("pin").drag([600, 300], [900, 320], 5);
    expect(sheet.plan.pins["low"]?.at).toBe(400);
    expect(sheet.undo().plan).toBe(layPlan);
    sheet.take("pin").click(600, 300).key("Delete");
    expect(sheet.plan.pins).toEqual({});
  });

  it("are left where they were by Esc in the middle of a drag", () => {
    const sheet = openSheet(layPlan).take("pin").pointerDown(600, 300).pointerMove(900, 300).cancel();
    expect(sheet.plan).toBe(layPlan);
    expect(sheet.state.plan).toBe(layPlan);
  });
});

describe("climb", () => {
  it("pins the foot and where the grade has reached the deck above", () => {
    const sheet = openSheet(layPlan).take("climb").click(1300, 300).pointerMove(2500, 300).type("4").key("Enter");
    // 100 mm at 4 % take 2500 mm from 800 mm along the track.
    expect(newPins(sheet)).toEqual([
      { track: "main", at: 800, height: 1000 },
      { track: "main", at: 3300, deck: "upper" },
    ]);
    const { settled } = sheet.state;
    expect(heightOn(settled, "track:main", 2050)).toBeCloseTo(1050, 6);
    expect(sheet.undo().plan).toBe(layPlan);
  });

  it("says how much run is missing, and what grade would do", () => {
    const sheet = openSheet(layPlan).take("climb").click(1300, 300).pointerMove(600, 300).type("1").key("Enter");
    // 10 m are needed and 800 mm are there, the other way along the track.
    expect(sheet.state.said).toMatch(
      /needs 10000 mm of run, 9200 mm is missing; what there is would climb at 12\.5 %/i,
    );
    expect(sheet.plan).toBe(layPlan);
  });

  it("goes on over plainly joined track, and takes up pins between", () => {
    const start = { track: "main", end: "end" } as const;
    const longer: Plan = {
      ...layPlan,
      tracks: { ...layPlan.tracks, beyond: { class: "main", deck: "lower", start, legs: [{ straight: 3000 }] } },
      pins: { ...layPlan.pins, between: { track: "main", at: 3000, height: 1010 } },
    };
    const sheet = openSheet(longer).take("climb").click(1300, 300).pointerMove(2500, 300).type("2").key("Enter");
    expect(Object.keys(sheet.plan.pins)).not.toContain("between");
    expect(sheet.state.said).toMatch(/took up 1 pin/i);
    const length = sheet.state.settled.lines.get("track:main")?.path.length ?? 0;
    const rise = 1000 - heightOn(openSheet(longer).state.settled, "track:main", 800);
    const top = Object.values(sheet.plan.pins).find((pin) => pin.track === "beyond");
    expect(top).toMatchObject({ deck: "upper" });
    expect(top?.at).toBeCloseTo(800 + (100 + rise) / 0.02 - length, 6);
  });

  it("climbs to a typed height, or to the deck that is chosen", () => {
    const sheet = openSheet(layPlan)
      .take("climb")
      .click(1300, 300)
      .pointerMove(2500, 300)
      .key("Tab")
      .type("1040")
      .key("Tab")
      .type("1 in 25")
      .key("Enter");
    expect(newPins(sheet).at(-1)).toEqual({ track: "main", at: 1800, height: 1040 });
    sheet.undo().take("climb").click(1300, 300).pointerMove(2500, 300).choose("to", "upper").type("5").key("Enter");
    expect(newPins(sheet).at(-1)).toEqual({ track: "main", at: 2800, deck: "upper" });
  });
});

describe("hold level", () => {
  it("pins both ends of the stretch to one height", () => {
    const sheet = openSheet(layPlan).take("level").click(1300, 300).click(2300, 300);
    expect(newPins(sheet)).toEqual([
      { track: "main", at: 800, height: 1000 },
      { track: "main", at: 1800, height: 1000 },
    ]);
    expect(sheet.undo().plan).toBe(layPlan);
  });

  it("lies on one track only", () => {
    const sheet = openSheet(layPlan).take("level").click(1300, 300).click(1500, 2000);
    expect(sheet.state.said).toMatch(/one track/);
    expect(sheet.plan).toBe(layPlan);
  });
});
