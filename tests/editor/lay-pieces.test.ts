/** Pieces by number, turnouts dropped and slid, a helix: the stories of the tools that place one thing at a time. */
import { limitsOf } from "../../src/plan/class-limits.js";
import { describe, expect, it } from "vitest";
import { emptyRoom, layPlan } from "./lay-plan.js";
import { openSheet, type SheetDriver } from "./sheet-driver.js";

const newTurnout = (sheet: SheetDriver) => Object.entries(sheet.plan.turnouts).find(([id]) => id !== "points");

describe("straights and curves by number", () => {
  it("puts piece after piece on the end of the last", () => {
    const sheet = openSheet(emptyRoom).take("straight").click(1000, 1000).pointerMove(2000, 1010);
    sheet.type('34 1/2"').key("Enter").type("250").key("Enter");
    expect(sheet.plan.tracks["main"]?.legs).toEqual([{ straight: 34.5 * 25.4 }, { straight: 250 }]);
    sheet.take("curve").type("800").key("Tab").type("60").key("Enter").key("f").key("Enter");
    expect(sheet.plan.tracks["main"]?.legs.slice(2)).toEqual([
      { curve: { radius: 800, angle: 60, hand: "left" } },
      { curve: { radius: 800, angle: 60, hand: "right" } },
    ]);
    expect(sheet.undoAll().plan).toBe(emptyRoom);
  });

  it("goes on from the end that is clicked", () => {
    const sheet = openSheet(layPlan).take("straight").click(2200, 2000).type("100").key("Enter");
    expect(sheet.plan.tracks["alone"]?.legs).toEqual([{ straight: 1200 }, { straight: 100 }]);
  });

  it("refuses what is no length, and says so", () => {
    const sheet = openSheet(layPlan).take("straight").click(2200, 2000).type("0").key("Enter");
    expect(sheet.state.show.entry?.error).toBeDefined();
    expect(sheet.plan).toBe(layPlan);
  });

  it("curves at the class's least radius where none is typed", () => {
    const sheet = openSheet(layPlan).take("curve").click(2200, 2000).key("Enter");
    const { value } = limitsOf(layPlan, "yard").radius;
    expect(sheet.plan.tracks["alone"]?.legs.at(-1)).toMatchObject({ curve: { radius: value } });
  });
});

describe("turnouts", () => {
  it("drops one on a track at the pointer's side and chooses it", () => {
    const sheet = openSheet(layPlan).take("turnout").click(2000, 330);
    const [id, turnout] = newTurnout(sheet) ?? [];
    expect(turnout).toEqual({ on: "main", at: 1500, facing: "with", hand: "left", number: 6 });
    expect(sheet.state.selection).toEqual([{ kind: "record", collection: "turnouts", id }]);
    expect(sheet.undo().take("turnout").click(2000, 270).plan.turnouts).toMatchObject({ turnout: { hand: "right" } });
  });

  it("flips hand and facing, and takes a typed number, of the one just dropped", () => {
    const sheet = openSheet(layPlan).take("turnout").click(2000, 330).key("f");
    expect(newTurnout(sheet)?.[1]).toMatchObject({ hand: "right", facing: "with" });
    sheet.key("F", { shift: true });
    expect(newTurnout(sheet)?.[1]).toMatchObject({ hand: "right", facing: "against" });
    sheet.type("8").key("Enter");
    expect(newTurnout(sheet)?.[1]).toMatchObject({ number: 8 });
    expect(sheet.state.settled.findings).toEqual([]);
  });

  it("slides one along its track as one step, its branch with it", () => {
    const sheet = openSheet(layPlan).take("turnout").drag([1350, 300], [1950, 330], 8);
    expect(sheet.plan.turnouts["points"]?.at).toBe(1450);
    expect(sheet.state.settled.lines.get("track:spur")?.path.start.x).toBeGreaterThan(1900);
    expect(sheet.undo().plan).toBe(layPlan);
  });

  it("keeps one on its track at both ends, and off its neighbours", () => {
    const sheet = openSheet(layPlan).take("turnout").drag([1350, 300], [-100, 300], 8);
    expect(sheet.state.settled.findings).toEqual([]);
    expect(sheet.plan.turnouts["points"]?.at).toBeLessThan(100);
    sheet.undo().take("turnout").click(1400, 310);
    expect(sheet.plan).toBe(layPlan);
    sheet.click(1200, 310);
    expect(Object.keys(sheet.plan.turnouts)).toEqual(["points"]);
  });

  it("says why one does not fit", () => {
    const sheet = openSheet(layPlan).take("turnout").type("40").key("Enter").pointerMove(1500, 2010);
    const refused = sheet.state.show.overlay.flatMap((o) =>
      o.kind === "label" && o.style === "refused" ? [o.text] : [],
    );
    expect(refused.join()).toMatch(/takes \d+ mm of track/);
    sheet.click(1500, 2010);
    expect(sheet.state.said).toMatch(/takes \d+ mm of track/);
    expect(sheet.plan).toBe(layPlan);
  });

  it("brings its own track at an end", () => {
    const sheet = openSheet(layPlan).take("turnout").click(2200, 2000);
    expect(newTurnout(sheet)?.[1]).toMatchObject({ on: "alone", facing: "with" });
    expect(sheet.plan.tracks["alone"]?.legs).toHaveLength(2);
    expect(sheet.state.settled.findings).toEqual([]);
    expect(sheet.state.settled.turnouts.size).toBe(2);
  });

  it("goes on with its branch", () => {
    const sheet = openSheet(layPlan).take("turnout").click(2300, 330).key("Enter");
    expect(sheet.state.tool).toBe("line");
    sheet.click(3300, 700).key("Enter");
    const id = newTurnout(sheet)?.[0];
    expect(Object.values(sheet.plan.tracks).some((t) => "turnout" in t.start && t.start.turnout === id)).toBe(true);
  });
});

describe("helix", () => {
  it("lays turns at a radius and pins foot and head, grade and clear height shown", () => {
    const sheet = openSheet(layPlan)
      .take("helix")
      .click(2200, 2000)
      .type("2 1/2")
      .key("Tab")
      .type("700")
      .key("Tab")
      .type("250")
      .key("Tab");
    const text = sheet.state.show.overlay.flatMap((o) => (o.kind === "label" ? [o.text] : [])).join();
    // Run of a plain circle: 2 pi 700 x 2.5 = 10 996 mm; 250 in that is 2.27 %, 100 mm a turn.
    expect(text).toMatch(/2\.27 %/);
    expect(text).toMatch(/100 mm a turn/);
    sheet.key("Enter");
    expect(sheet.plan.tracks["alone"]?.legs.at(-1)).toEqual({ curve: { radius: 700, angle: 900, hand: "left" } });
    const pins = Object.values(sheet.plan.pins).filter((pin) => pin.track === "alone");
    expect(pins.map((pin) => pin.height)).toEqual([1000, 1250]);
    expect(sheet.undo().plan).toBe(layPlan);
  });
});
