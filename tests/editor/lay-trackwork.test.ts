/** Trackwork by figures: crossovers, ladders, yards, slips, turntables and bumpers, each a story at the sheet. */
import { describe, expect, it } from "vitest";
import type { Plan } from "../../src/plan/schema.js";
import { TOOLS } from "../../src/editor/tools/index.js";
import { emptyRoom, layPlan } from "./lay-plan.js";
import { openSheet, type SheetDriver } from "./sheet-driver.js";

const straight = (y: number, length: number, x = 500, heading = 0): Plan["tracks"][string] => ({
  class: "main",
  deck: "lower",
  start: { pose: { x, y, heading } },
  legs: [{ straight: length }],
});
const pair: Plan = { ...emptyRoom, tracks: { south: straight(1000, 3000), north: straight(1050, 3000) } };
const single: Plan = { ...emptyRoom, tracks: { lead: { ...straight(1000, 800), class: "yard", bumpers: ["end"] } } };
/** A number 7 crossing of two straights at (2000, 1000). */
const SEVENTH = (2 * Math.atan(1 / 14) * 180) / Math.PI;
const crossed: Plan = {
  ...emptyRoom,
  tracks: {
    level: straight(1000, 3000),
    across: straight(
      1000 - 1000 * Math.sin((SEVENTH * Math.PI) / 180),
      2000,
      2000 - 1000 * Math.cos((SEVENTH * Math.PI) / 180),
      SEVENTH,
    ),
  },
};

const labels = (sheet: SheetDriver, style: "draft" | "refused"): string =>
  sheet.state.show.overlay.flatMap((o) => (o.kind === "label" && o.style === style ? [o.text] : [])).join("; ");
const made = (sheet: SheetDriver, before: Plan) =>
  Object.entries(sheet.plan.tracks).filter(([id]) => !(id in before.tracks));

describe("the tools of the stage", () => {
  it("have a key each that no other has", () => {
    const keys = TOOLS.filter(({ stage }) => stage === "lay" || stage === "any").map(({ key }) => key);
    expect(new Set(keys).size).toBe(keys.length);
    // Keys that tools take while they are in hand.
    for (const key of ["f", "k", "a"]) expect(keys).not.toContain(key);
  });
});

describe("crossover", () => {
  it("follows the pointer and is laid where it is clicked, both turnouts abreast of the pointer", () => {
    const sheet = openSheet(pair).take("crossover").pointerMove(1500, 1002);
    expect(Object.keys(sheet.state.plan.turnouts)).toHaveLength(2);
    expect(labels(sheet, "draft")).toMatch(/No\. 6, tracks 50 mm apart/);
    expect(sheet.plan).toBe(pair);
    sheet.click(1600, 1002);
    const turnouts = Object.values(sheet.plan.turnouts);
    expect(turnouts.map(({ on, hand, number }) => [on, hand, number])).toEqual([
      ["south", "right", 6],
      ["north", "right", 6],
    ]);
    expect(turnouts[0]?.at).toBe(1100);
    expect(sheet.state.selection).toHaveLength(3);
    expect(sheet.state.settled.findings).toEqual([]);
    expect(sheet.undo().plan).toBe(pair);
  });

  it("is double, of the other hand and of another number by keys", () => {
    const sheet = openSheet(pair).take("crossover").pointerMove(1600, 1002).key("k").key("f").type("8").key("Enter");
    expect(Object.keys(sheet.state.plan.turnouts)).toHaveLength(4);
    sheet.key("Enter");
    expect(Object.values(sheet.plan.turnouts).map(({ hand, number }) => [hand, number])).toEqual([
      ["left", 8],
      ["left", 8],
      ["right", 8],
      ["right", 8],
    ]);
    expect(sheet.state.settled.crossings).toHaveLength(1);
    expect(sheet.undoAll().plan).toBe(pair);
  });

  it("is laid by keys alone on the chosen track, at a typed place", () => {
    const sheet = openSheet(pair).selectTrack("north").take("crossover");
    expect(sheet.state.show.entry?.label).toMatch(/Frog number/);
    sheet.type("6").key("Tab").type("900").key("Enter").key("Enter");
    expect(Object.values(sheet.plan.turnouts)[0]).toMatchObject({ on: "north", at: 900 });
  });

  it("by the choices of the status line", () => {
    const sheet = openSheet(pair).take("crossover").choose("kind", "double").choose("frog", "7").choose("hand", "left");
    sheet.click(1600, 1002, { touch: true });
    expect(Object.values(sheet.plan.turnouts).map(({ number }) => number)).toEqual([7, 7, 7, 7]);
  });

  it("says why there is none", () => {
    const alone = openSheet(single).take("crossover").pointerMove(900, 1001);
    expect(labels(alone, "refused")).toMatch(/no track beside it/);
    const late = openSheet(pair).take("crossover").click(520, 1002);
    expect(late.state.said).toMatch(/too short/);
    expect(late.plan).toBe(pair);
  });
});

describe("yard", () => {
  it("is drawn from an end: side and length by the pointer, figures typed, one step", () => {
    const sheet = openSheet(single).take("yard").click(1300, 1000).pointerMove(4500, 1200);
    expect(Object.keys(sheet.state.plan.tracks).length).toBeGreaterThan(4);
    expect(labels(sheet, "draft")).toMatch(/^3 tracks .* apart/);
    sheet.type("5").key("Tab").type("60").key("Tab").type("6").key("Tab").type("700").key("Tab").type("400").key("Tab");
    expect(labels(sheet, "draft")).toBe("5 tracks 60 mm apart, 700 mm and more");
    sheet.key("Enter");
    const tracks = made(sheet, single).map(([, track]) => track);
    const roads = tracks.filter((track) => track.class === "yard" && track.bumpers);
    expect(roads).toHaveLength(5);
    expect(tracks.find((track) => track.class === "lead")?.start).toEqual({ track: "lead", end: "end" });
    // Track goes on from the end that had a bumper.
    expect(sheet.plan.tracks["lead"]?.bumpers).toBeUndefined();
    expect(sheet.state.settled.findings).toEqual([]);
    expect(sheet.state.selection.length).toBeGreaterThan(9);
    expect(sheet.undo().plan).toBe(single);
  });

  it("spreads to the pointer's side, or the other by F; its ends lie abreast of the pointer", () => {
    const sheet = openSheet(single).take("yard").click(1300, 1000).click(4500, 700);
    const last = made(sheet, single).findLast(([, track]) => track.bumpers)?.[0];
    const end = sheet.state.settled.lines.get(`track:${last}`)?.path.end;
    expect(end?.x).toBeCloseTo(4500, 0);
    expect(end?.y).toBeLessThan(1000);
    const other = openSheet(single).take("yard").click(1300, 1000).pointerMove(4500, 700).key("f").key("Enter");
    const far = made(other, single).findLast(([, track]) => track.bumpers)?.[0];
    expect(other.state.settled.lines.get(`track:${far}`)?.path.end.y).toBeGreaterThan(1000);
  });

  it("is double-ended and has a runaround by keys", () => {
    const sheet = openSheet(single).take("yard").click(1300, 1000).key("k").key("a").type("3").key("Tab");
    sheet.key("Tab").key("Tab").type("400").key("Enter");
    const tracks = made(sheet, single).map(([, track]) => track);
    expect(tracks.filter((track) => track.class === "lead")).toHaveLength(2);
    expect(tracks.some((track) => track.name === "Yard runaround")).toBe(true);
    expect(sheet.state.settled.findings).toEqual([]);
  });

  it("goes on from the chosen track, and by touch with one pull", () => {
    expect(openSheet(single).selectTrack("lead").take("yard").state.show.entry?.label).toBe("Tracks (3)");
    const sheet = openSheet(single)
      .take("yard")
      .choose("tracks", "4")
      .drag([1300, 1000], [4600, 1200], 4, { touch: true });
    expect(made(sheet, single).filter(([, track]) => track.bumpers)).toHaveLength(4);
  });

  it("says what does not fit, and lays nothing", () => {
    const sheet = openSheet(single).take("yard").click(1300, 1000).key("Tab").type("20").key("Tab");
    expect(labels(sheet, "refused")).toMatch(/would do\.$/);
    sheet.key("Enter");
    expect(sheet.state.said).toMatch(/would do\.$/);
    expect(sheet.plan).toBe(single);
    sheet.cancel();
    expect(sheet.state.show.entry).toBeUndefined();
    expect(sheet.cancel().state.tool).toBe("select");
  });
});

describe("ladder", () => {
  it.each([
    ["straight", 0],
    ["compound", 1],
    ["curved-lead", 2],
  ])("%s by K, so many bodies as typed", (_, presses) => {
    const sheet = openSheet(single).take("ladder").click(1300, 1000);
    for (let i = 0; i < presses; i++) sheet.key("k");
    sheet.type("4").key("Tab").type("70").key("Tab").key("Tab").type("500").key("Enter");
    expect(made(sheet, single).filter(([, track]) => track.bumpers)).toHaveLength(4);
    expect(sheet.state.settled.findings).toEqual([]);
    expect(sheet.undo().plan).toBe(single);
  });

  it("leads from a turnout's route", () => {
    const free: Plan = { ...layPlan, tracks: { ...layPlan.tracks } };
    const { spur: _spur, ...tracks } = free.tracks;
    const bare = { ...free, tracks };
    const route = openSheet(bare).state.settled.lines.get("turnout:points")?.path.end;
    const sheet = openSheet(bare)
      .take("ladder")
      .click(route?.x ?? 0, route?.y ?? 0)
      .key("Enter");
    expect(made(sheet, bare).some(([, { start }]) => "turnout" in start && start.turnout === "points")).toBe(true);
  });
});

describe("slip", () => {
  it("is laid on a crossing by a click, single or double, on either side", () => {
    const sheet = openSheet(crossed).take("slip").click(2003, 1001);
    const slip = () => Object.values(sheet.plan.slips)[0];
    expect(slip()).toMatchObject({ kind: "double" });
    expect(sheet.state.settled.slips.size).toBe(1);
    sheet.key("k");
    expect(slip()).toMatchObject({ kind: "single", side: "left" });
    sheet.key("f");
    expect(slip()).toMatchObject({ kind: "single", side: "right" });
    sheet.choose("kind", "double");
    expect(slip()).not.toHaveProperty("side");
    expect(sheet.undoAll().plan).toBe(crossed);
  });

  it("by keys: an arrow goes to a crossing, Enter lays the slip", () => {
    const sheet = openSheet(crossed).take("slip").key("k").key("f").key("ArrowRight");
    expect(labels(sheet, "draft")).toBe("single slip, No. 7.0");
    sheet.key("Enter");
    expect(Object.values(sheet.plan.slips)[0]).toMatchObject({ kind: "single", side: "right" });
    expect(sheet.key("ArrowLeft").key("Enter").state.selection).toMatchObject([{ collection: "slips" }]);
    expect(Object.keys(sheet.plan.slips)).toHaveLength(1);
  });

  it("says why a crossing is too blunt for one", () => {
    const { across } = crossed.tracks;
    const blunt: Plan = {
      ...crossed,
      tracks: { ...crossed.tracks, across: { ...straight(500, 1500, 2000, 60), ...(across && {}) } },
    };
    const sheet = openSheet(blunt).take("slip").key("ArrowRight");
    expect(labels(sheet, "refused")).toMatch(/a slip wants number 5 or more/);
    expect(sheet.key("Enter").plan).toBe(blunt);
  });
});

describe("turntable", () => {
  const approach: Plan = { ...emptyRoom, tracks: { lead: { ...straight(1000, 800), class: "lead" } } };
  it("lies at the end that is clicked; bridge, stalls and angle are typed", () => {
    const sheet = openSheet(approach).take("turntable").click(1300, 1000);
    const table = () => Object.values(sheet.plan.turntables)[0];
    expect(table()).toMatchObject({ on: "lead", end: "end", stalls: [-15, 0, 15] });
    sheet.type("350").key("Tab").type("4").key("Tab").type("20").key("Enter");
    expect(table()).toEqual({ on: "lead", end: "end", bridge: 350, stalls: [-30, -10, 10, 30] });
    expect(sheet.undoAll().plan).toBe(approach);
  });

  it("takes stalls by clicks round it, and gives them up again", () => {
    const sheet = openSheet(approach).take("turntable").choose("stalls", "0").click(1300, 1000);
    const [id, table] = Object.entries(sheet.plan.turntables)[0] ?? [];
    const centre = { x: 1300 + (table?.bridge ?? 0) / 2, y: 1000 };
    const round = (degrees: number) =>
      sheet.click(
        centre.x + 300 * Math.cos((degrees * Math.PI) / 180),
        centre.y + 300 * Math.sin((degrees * Math.PI) / 180),
      );
    const stalls = () => sheet.plan.turntables[id ?? ""]?.stalls;
    round(30);
    round(-45);
    round(90);
    expect(stalls()).toEqual([30, -45, 90]);
    round(-46);
    expect(stalls()).toEqual([30, 90]);
    // Far away and in the middle a click means nothing.
    sheet.click(centre.x + 2000, centre.y).click(centre.x, centre.y);
    expect(stalls()).toEqual([30, 90]);
  });

  it("keeps the stalls that track leads from, and tells the others by their new numbers", () => {
    const sheet = openSheet(approach).take("turntable").click(1300, 1000);
    const [id = "", table] = Object.entries(sheet.plan.turntables)[0] ?? [];
    const stall = sheet.state.settled.turntables.get(id)?.stalls[2];
    if (!stall || !table) throw new Error("there is no stall");
    sheet.take("straight").click(stall.x, stall.y).type("300").key("Enter");
    expect(made(sheet, approach)[0]?.[1].start).toEqual({ turntable: id, stall: 2 });
    sheet.select({ kind: "record", collection: "turntables", id }).take("turntable");
    const centre = { x: 1300 + table.bridge / 2, y: 1000 };
    sheet.click(centre.x + 250 * Math.cos(-Math.PI / 12), centre.y + 250 * Math.sin(-Math.PI / 12));
    expect(sheet.plan.turntables[id]?.stalls).toEqual([0, 15]);
    expect(made(sheet, approach)[0]?.[1].start).toEqual({ turntable: id, stall: 1 });
    expect(sheet.state.settled.findings).toEqual([]);
    sheet.key("Tab").type("1").key("Enter");
    expect(sheet.state.said).toMatch(/track leads from stall 2/);
  });

  it("goes on with track from a stall, and by keys from the chosen track", () => {
    const sheet = openSheet(approach).selectTrack("lead").take("turntable").key("Enter");
    expect(Object.keys(sheet.plan.turntables)).toHaveLength(1);
    expect(sheet.key("Enter").state.tool).toBe("line");
    sheet.pointerMove(2400, 900).click(2400, 900).key("Enter");
    expect(made(sheet, approach)[0]?.[1].start).toMatchObject({ stall: 0 });
  });

  it("says why stalls do not fit", () => {
    const sheet = openSheet(approach).take("turntable").click(1300, 1000).key("Tab").key("Tab").type("2").key("Enter");
    expect(sheet.state.said).toMatch(/less than the gauge/);
  });
});

describe("bumper", () => {
  it("goes on an end and off again", () => {
    const sheet = openSheet(single).take("bumper").click(500, 1000);
    expect(sheet.plan.tracks["lead"]?.bumpers).toEqual(["start", "end"]);
    sheet.click(1300, 1000);
    expect(sheet.plan.tracks["lead"]?.bumpers).toEqual(["start"]);
    sheet.click(500, 1000);
    expect(sheet.plan.tracks["lead"]).not.toHaveProperty("bumpers");
    expect(sheet.undoAll().plan).toBe(single);
  });
  it("by keys: from end to end, Enter", () => {
    const sheet = openSheet(pair).take("bumper").key("ArrowRight").key("Enter").key("ArrowRight").key("Enter");
    const count = Object.values(sheet.plan.tracks).flatMap(({ bumpers = [] }) => bumpers).length;
    expect(count).toBe(2);
  });
});
