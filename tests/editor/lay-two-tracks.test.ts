/** Beside, join, split, turn round: tools that start from track that is there. */
import { limitsOf } from "../../src/plan/class-limits.js";
import { describe, expect, it } from "vitest";
import { layPlan } from "./lay-plan.js";
import { openSheet, type SheetDriver } from "./sheet-driver.js";

const added = (sheet: SheetDriver) => Object.entries(sheet.plan.tracks).filter(([id]) => !(id in layPlan.tracks));
const centres = Math.max(limitsOf(layPlan, "main").centres.value, limitsOf(layPlan, "siding").centres.value);

describe("beside", () => {
  it("lays a siding at the class's track centres along a pull, on the pointer's side", () => {
    const sheet = openSheet(layPlan).take("beside").drag([1500, 260], [2600, 250], 6);
    const [[, track] = []] = added(sheet);
    expect(track).toEqual({
      class: "siding",
      deck: "lower",
      start: { beside: { track: "main", at: 1000, side: "right", spacing: centres } },
      legs: [{ beside: { track: "main", from: 1000, to: 2100, side: "right", spacing: centres } }],
    });
    expect(sheet.state.settled.findings).toEqual([]);
    expect(sheet.undo().plan).toBe(layPlan);
  });

  it("goes from click to click, backwards too, through a curve with wider centres, at a typed spacing", () => {
    const sheet = openSheet(layPlan)
      .take("beside")
      .click(4050, 1600)
      .type("80")
      .key("Enter")
      .pointerMove(2500, 240)
      .click(2000, 240);
    const [[, track] = []] = added(sheet);
    expect(track?.start).toMatchObject({ beside: { side: "right", spacing: 80, against: true } });
    expect(track?.legs[0]).toMatchObject({ beside: { to: 1500, spacing: 80, curveSpacing: expect.any(Number) } });
    expect(sheet.state.settled.findings).toEqual([]);
  });

  it("takes the whole length with Enter", () => {
    const sheet = openSheet(layPlan).take("beside").click(1500, 2060).key("Enter");
    const [[, track] = []] = added(sheet);
    expect(track?.legs).toMatchObject([{ beside: { track: "alone", from: 0, to: 1200, side: "left" } }]);
  });
});

describe("join", () => {
  it("joins two ends by the shortest way; the track that ends there grows", () => {
    const sheet = openSheet(layPlan).take("join").click(2200, 2000).click(4000, 1900).key("Enter");
    const from = layPlan.tracks["alone"]?.legs.length ?? 0;
    expect(sheet.plan.tracks["alone"]?.legs[from]).toEqual({
      join: { to: { track: "main", end: "end" }, radius: limitsOf(layPlan, "main").radius.value },
    });
    expect(sheet.state.settled.findings).toEqual([]);
    expect(sheet.undo().plan).toBe(layPlan);
  });

  it("keeps a typed radius, and goes to the next way with Tab", () => {
    const sheet = openSheet(layPlan).take("join").click(500, 300).click(1000, 2000);
    const first = sheet.state.layout.lines.get("track:main-2")?.path.length ?? 0;
    sheet.key("Tab");
    const second = sheet.state.layout.lines.get("track:main-2")?.path.length ?? 0;
    expect(second).toBeGreaterThan(first);
    sheet.type("600").key("Enter").key("Enter");
    const [[, track] = []] = added(sheet);
    expect(track).toMatchObject({
      start: { track: "main", end: "start" },
      legs: [{ join: { to: { track: "alone", end: "start" }, radius: 600, family: expect.any(String) } }],
    });
  });
});

describe("split and turn round", () => {
  it("parts a track at the click; nothing moves", () => {
    const sheet = openSheet(layPlan).take("split").click(2000, 303);
    const [[id, track] = []] = added(sheet);
    expect(track?.start).toEqual({ track: "main", end: "end" });
    expect(sheet.plan.tracks["main"]?.legs).toEqual([{ straight: 1500 }]);
    expect(sheet.plan.turnouts["points"]?.on).toBe("main");
    const whole = sheet.state.settled.lines.get(`track:${id}`)?.path.end;
    const before = openSheet(layPlan).state.settled.lines.get("track:main")?.path.end;
    expect(Math.hypot((whole?.x ?? 0) - (before?.x ?? 9), (whole?.y ?? 0) - (before?.y ?? 9))).toBeLessThan(1e-6);
    expect(sheet.undo().plan).toBe(layPlan);
  });

  it("says why a track is not parted on a turnout", () => {
    const sheet = openSheet(layPlan).take("split").click(1350, 300);
    expect(sheet.plan).toBe(layPlan);
    expect(sheet.state.said).toMatch(/turnout lies there/);
  });

  it("turns a track round, turnout, pin and branch with it", () => {
    const sheet = openSheet(layPlan).take("reverse").click(2000, 303);
    expect(sheet.plan.turnouts["points"]).toMatchObject({ facing: "against", hand: "left" });
    expect(sheet.state.settled.findings).toEqual([]);
    const spur = (s: SheetDriver) => s.state.settled.lines.get("track:spur")?.path.end;
    const before = spur(openSheet(layPlan));
    expect(Math.hypot((spur(sheet)?.x ?? 0) - (before?.x ?? 9), (spur(sheet)?.y ?? 0) - (before?.y ?? 9))).toBeLessThan(
      1e-6,
    );
    expect(sheet.undo().plan).toBe(layPlan);
  });
});
