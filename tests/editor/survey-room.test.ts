import { describe, expect, test } from "vitest";
import { SWINGS } from "../../src/editor/tools/survey-openings.js";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import type { Opening, Plan } from "../../src/plan/schema.js";
import { openSheet, type SheetDriver } from "./sheet-driver.js";

const room = (openings: Readonly<Record<string, Opening>> = {}): Plan => {
  const plan = emptyPlan({ title: "Loft", width: 4000, depth: 3000, scale: "HO", units: "metric" });
  return { ...plan, room: { ...plan.room, openings } };
};
const survey = (of: Plan, tool: string): SheetDriver => openSheet(of).stage("survey").take(tool);
const door: Opening = { kind: "door", wall: 0, at: 1000, width: 800, swing: { hinge: "near", into: "room" } };
const shown = (sheet: SheetDriver): string[] =>
  sheet.state.show.overlay.flatMap((o) => (o.kind === "label" && o.style === "refused" ? [o.text] : []));

describe("doors, windows and passages", () => {
  test("a door is set on a wall, slid, given a width, and set for good by Enter", () => {
    const before = room();
    const sheet = survey(before, "door").click(1500, 20).pointerMove(2600, 400).type("900");
    expect(sheet.plan).toBe(before);
    sheet.key("Enter");
    expect(Object.values(sheet.plan.room.openings)).toMatchObject([{ kind: "door", wall: 0, at: 2150, width: 900 }]);
    expect(sheet.undo().plan).toBe(before);
  });

  test.each([0, 1, 2, 3, 4])("S pressed %i times", (times) => {
    const sheet = survey(room(), "door").click(1500, 0);
    for (let i = 0; i < times; i++) sheet.key("s");
    sheet.key("Enter");
    expect(Object.values(sheet.plan.room.openings)[0]?.swing).toEqual(SWINGS[times % 4]);
  });

  test("the swing can be chosen from the list", () => {
    const sheet = survey({ ...room({ door }) }, "door")
      .click(1400, 0)
      .choose("swing", "2")
      .key("Enter");
    expect(sheet.plan.room.openings.door).toEqual({ ...door, swing: SWINGS[2], at: 1000 });
  });

  test("a window's sill and head are typed", () => {
    const sheet = survey(room(), "window").click(4000, 1500);
    sheet.type("1200").key("Tab").type("85 cm").key("Tab").type("2").key("Enter");
    expect(shown(sheet)).toEqual(["the head must be above the sill"]);
    sheet.type("2.1 m").key("Enter");
    expect(Object.values(sheet.plan.room.openings)).toEqual([
      { kind: "window", wall: 1, at: 900, width: 1200, sill: 850, head: 2100 },
    ]);
  });

  test.each([
    ["5 m", "the wall is shorter than that"],
    ["", "it would overlap the door"],
  ])("a passage of %s on the wall of a door", (width, why) => {
    const before = room({ door });
    const sheet = survey(before, "passage").click(1700, 0).type(width).key("Enter");
    expect(shown(sheet)).toEqual([why]);
    expect(sheet.plan).toBe(before);
  });

  test("its place is typed from the corner; Delete takes out one that was taken up", () => {
    const sheet = survey(room({ door }), "door").click(1400, 0).key("Tab").type("250").key("Enter");
    expect(sheet.plan.room.openings.door).toMatchObject({ wall: 0, at: 250, width: 800 });
    sheet.click(600, 0).key("Delete");
    expect(sheet.plan.room.openings).toEqual({});
  });
});

describe("corners", () => {
  test("a corner is dragged square to its neighbours, and the door keeps its place", () => {
    const sheet = survey(room({ door }), "corners").drag([0, 0], [-500, 20]);
    expect(sheet.plan.room.outline[0]).toEqual({ x: -500, y: 0 });
    expect(sheet.plan.room.openings.door?.at).toBeCloseTo(1500, 9);
  });

  test("a wall is dragged parallel, or moved by a typed length", () => {
    const sheet = survey(room(), "corners").drag([4000, 1500], [4300, 1700]);
    expect(sheet.plan.room.outline.map((p) => Math.round(p.x))).toEqual([0, 4300, 4300, 0]);
    sheet.pointerDown(4300, 1500).pointerMove(4400, 1500).type("250").key("Enter").pointerUp();
    expect(sheet.plan.room.outline.map((p) => Math.round(p.x))).toEqual([0, 4550, 4550, 0]);
  });

  test("a notch into the room from a click on the wall; the window beyond it keeps its place", () => {
    const window: Opening = { kind: "window", wall: 2, at: 3000, width: 600 };
    const sheet = survey(room({ window }), "corners").click(2000, 3000).key("b");
    sheet.type("400").key("Tab").type("1000").key("Enter");
    expect(sheet.plan.room.outline.slice(3, 7).map(({ x, y }) => [Math.round(x), Math.round(y)])).toEqual([
      [2500, 3000],
      [2500, 2600],
      [1500, 2600],
      [1500, 3000],
    ]);
    expect(sheet.plan.room.openings.window).toMatchObject({ wall: 6, at: expect.closeTo(500, 6) });
  });

  test("a notch in a corner, and an alcove", () => {
    const sheet = survey(room(), "corners").click(500, 0).key("b");
    sheet.type("300").key("Enter").type("700").key("Tab").type("0").key("Enter");
    expect(sheet.plan.room.outline.map(({ x, y }) => [Math.round(x), Math.round(y)])).toEqual([
      [0, 300],
      [700, 300],
      [700, 0],
      [4000, 0],
      [4000, 3000],
      [0, 3000],
    ]);
    sheet.click(4000, 1500).key("b").type("-200").key("Enter").type("1000").key("Enter");
    expect(Math.max(...sheet.plan.room.outline.map((p) => p.x))).toBeCloseTo(4200, 9);
  });

  test("a notch where a door is, is refused", () => {
    const before = room({ door });
    const sheet = survey(before, "corners").click(500, 0).key("b").type("300").key("Enter").type("1500").key("Enter");
    expect(sheet.plan).toBe(before);
    expect(sheet.state.said).toBe("The door is there.");
  });

  test("a corner is put in and taken out", () => {
    const sheet = survey(room({ door }), "corners").click(500, 0).key("a");
    expect(sheet.plan.room.openings.door).toMatchObject({ wall: 1, at: 500 });
    sheet.key("Delete");
    expect(sheet.plan.room.outline).toHaveLength(4);
    expect(sheet.plan.room.openings.door).toMatchObject({ wall: 0, at: 1000 });
  });

  test.each<[string, [number, number], [number, number]]>([
    ["walls that would cross", [0, 0], [5000, 4000]],
    ["a wall pulled past another", [2000, 0], [2000, 3500]],
    ["a wall shorter than its door", [4000, 1500], [600, 1500]],
  ])("%s: refused, and the plan is untouched", (_, from, to) => {
    const before = room({ door });
    const sheet = survey(before, "corners")
      .pointerDown(...from)
      .pointerMove(...to);
    expect(shown(sheet)).toHaveLength(1);
    expect(sheet.pointerUp().plan).toBe(before);
    expect(sheet.state.plan).toBe(before);
  });
});

describe("obstacles and ceiling", () => {
  test("a rectangle is dragged, named, and given heights", () => {
    const before = room();
    const sheet = survey(before, "obstacle").drag([1000, 1000], [1600, 1400]);
    sheet.type("Water heater").key("Tab").type("0").key("Tab").type("1.5 m").key("Enter");
    expect(Object.values(sheet.plan.room.obstacles)).toEqual([
      {
        name: "Water heater",
        outline: [
          { x: 1000, y: 1000 },
          { x: 1600, y: 1000 },
          { x: 1600, y: 1400 },
          { x: 1000, y: 1400 },
        ],
        from: 0,
        to: 1500,
      },
    ]);
    expect(sheet.undo().plan).toBe(before);
  });

  test("its sides are typed, toward the hand", () => {
    const sheet = survey(room(), "obstacle").click(2000, 2000).pointerMove(1500, 2500);
    sheet.type("600").key("Enter").type("400").key("Enter").key("Enter");
    const { outline } = Object.values(sheet.plan.room.obstacles)[0] ?? { outline: [] };
    expect([outline[0], outline[2]]).toEqual([
      { x: 1400, y: 2000 },
      { x: 2000, y: 2400 },
    ]);
  });

  test("an outline that crosses itself is refused; a top below the bottom too", () => {
    const before = room();
    const sheet = survey(before, "obstacle").key("a");
    for (const [x, y] of [
      [1000, 1000],
      [2000, 2000],
      [2000, 1000],
      [1000, 2200],
    ] as const)
      sheet.click(x, y);
    sheet.key("Enter");
    expect(sheet.state.said).toContain("would cross");
    sheet.cancel().click(1000, 1000).click(2000, 1000).click(1500, 2000).key("Enter");
    sheet.key("Tab").type("900").key("Tab").type("800").key("Enter");
    expect(sheet.state.said).toContain("above the bottom");
    expect(sheet.plan).toBe(before);
  });

  test("the ceiling is typed", () => {
    expect(survey(room(), "ceiling").type("2.3 m").key("Enter").plan.room.ceiling).toBe(2300);
  });
});

test.each(["walls", "corners", "door", "window", "passage", "obstacle", "ceiling"])(
  "Esc in the middle of %s leaves the plan's identity",
  (tool) => {
    const before = room({ door });
    const sheet = survey(before, tool)
      .click(2500, 10)
      .pointerMove(2700, 300)
      .type("12")
      .pointerMove(2900, 500)
      .cancel();
    expect(sheet.state.plan).toBe(before);
    expect(sheet.plan).toBe(before);
  },
);
