import { describe, expect, test } from "vitest";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import { putOpening } from "../../src/plan/room-edits.js";
import type { Plan } from "../../src/plan/schema.js";
import { openSheet, type SheetDriver } from "./sheet-driver.js";

const FOOT = 304.8;
const plan = (units: Plan["units"] = "metric"): Plan =>
  emptyPlan({ title: "Loft", width: 4000, depth: 3000, scale: "HO", units });
const survey = (of: Plan, tool: string): SheetDriver => openSheet(of).stage("survey").take(tool);
const walk = (sheet: SheetDriver, ...walls: readonly string[]): SheetDriver => {
  for (const wall of walls) {
    const turn = /^[←→↑]/.exec(wall)?.[0];
    if (turn) sheet.key({ "←": "ArrowLeft", "→": "ArrowRight", "↑": "ArrowUp" }[turn] ?? "");
    sheet.type(turn ? wall.slice(1) : wall).key("Enter");
  }
  return sheet;
};
const corners = (of: Plan): number[][] =>
  of.room.outline.map(({ x, y }) => [Math.round(x * 1000) / 1000, Math.round(y * 1000) / 1000]);
const hint = (sheet: SheetDriver): string => sheet.state.show.hint;

describe("walking the walls", () => {
  test("a room of 21 ft 6 in by 17 ft with a chimney breast, by typing alone", () => {
    const before = plan("imperial");
    const sheet = survey(before, "walls");
    walk(sheet, `21' 6"`, "17'", "8'", "←1' 4\"", "→5'", "→16", `←8' 6"`, "17 ft");
    expect(hint(sheet)).toContain("The walls close.");
    expect(sheet.plan).toBe(before);
    sheet.key("Enter");
    const [w, d] = [21.5 * FOOT, 17 * FOOT];
    const breast = d - 16 * 25.4;
    expect(corners(sheet.plan)).toEqual(
      [
        [0, 0],
        [w, 0],
        [w, d],
        [w - 8 * FOOT, d],
        [w - 8 * FOOT, breast],
        [w - 13 * FOOT, breast],
        [w - 13 * FOOT, d],
        [0, d],
      ].map((p) => p.map((x) => Math.round(x * 1000) / 1000)),
    );
    expect(sheet.undo().plan).toBe(before);
  });

  test("turned to the right, a room comes out anticlockwise all the same", () => {
    const sheet = walk(survey(plan(), "walls"), "5000", "→3000", "5000", "3000").key("Enter");
    expect(corners(sheet.plan)).toEqual([
      [0, -3000],
      [5000, -3000],
      [5000, 0],
      [0, 0],
    ]);
  });

  test("a turn of another angle is typed after Tab", () => {
    const sheet = walk(survey(plan(), "walls"), "4000");
    sheet.key("Tab").type("60").key("ArrowLeft");
    walk(sheet, "2000", "←3000");
    sheet.key("Tab").type("-30").key("Enter");
    expect(sheet.state.show.entry?.label).toContain("right 30°");
    expect(sheet.state.show.overlay.filter((o) => o.kind === "handle")).toHaveLength(4);
  });

  /** After each wall: how far back to the first corner, and in which direction. */
  test.each([
    ["4000", undefined],
    ["3000", "5000 mm at 216.87°"],
    ["4010", "3000 mm at 270.19°"],
    ["2990", "14.1 mm at 315°"],
  ])("the closing error after a wall of %s", (last, shown) => {
    const walls = ["4000", "3000", "4010", "2990"];
    const sheet = walk(survey(plan(), "walls"), ...walls.slice(0, walls.indexOf(last) + 1));
    if (shown === undefined) expect(hint(sheet)).not.toContain("first corner:");
    else expect(hint(sheet)).toContain(`Back to the first corner: ${shown}`);
  });

  test("a mis-measured room: the error is spread, and every corner stays square", () => {
    const sheet = walk(survey(plan(), "walls"), "4000", "3000", "4010", "2990").key("s");
    const [a, b, c, d] = sheet.plan.room.outline;
    expect(sheet.plan.room.outline).toHaveLength(4);
    // Errors in proportion to length: 10 mm over 4000 and 4010, and over 3000 and 2990.
    expect(b?.x).toBeCloseTo(4000 + (10 * 4000) / 8010, 9);
    expect(c?.y).toBeCloseTo(3000 - (10 * 3000) / 5990, 9);
    expect([a?.y, b?.y, d?.x]).toEqual([0, 0, expect.closeTo(0, 9)]);
    expect([c?.x, d?.y]).toEqual([expect.closeTo(b?.x ?? 0, 9), expect.closeTo(c?.y ?? 0, 9)]);
  });

  test("or it is closed by a last wall", () => {
    const sheet = walk(survey(plan(), "walls"), "4000", "3000", "3000").key("Enter");
    expect(corners(sheet.plan)).toEqual([
      [0, 0],
      [4000, 0],
      [4000, 3000],
      [1000, 3000],
    ]);
  });

  test("a wall that would cross another is not taken, and says which", () => {
    const sheet = walk(survey(plan(), "walls"), "4000", "2000", "2000", "3000");
    expect(hint(sheet)).toContain("would cross wall 1");
    expect(sheet.state.show.overlay.filter((o) => o.kind === "handle")).toHaveLength(4);
  });

  test.each([
    ["abc", "unchanged"],
    ["4 foo", "not a unit"],
    ["0", "more than nothing"],
    ["-3", "more than nothing"],
  ])("%s is no length", (typed, why) => {
    const sheet = survey(plan(), "walls").type(typed).key("Enter");
    if (why === "unchanged") expect(sheet.state.show.entry).toBeUndefined();
    else expect(sheet.state.show.entry?.error).toContain(why);
    expect(sheet.state.show.overlay).toEqual([]);
  });
});

describe("clicking corners", () => {
  test("caught square and level with the first corner; the first corner closes", () => {
    const before = plan();
    const sheet = survey(before, "walls");
    sheet.click(0, 0).click(5000, 30).click(5010, 4000).click(20, 3985);
    expect(sheet.state.show.overlay).toContainEqual(expect.objectContaining({ kind: "handle", name: "corner 4" }));
    sheet.click(10, 10);
    expect(corners(sheet.plan)).toEqual([
      [0, 0],
      [5000, 0],
      [5000, 4000],
      [0, 4000],
    ]);
    expect(sheet.undo().plan).toBe(before);
  });

  test("Backspace takes back the last corner, Esc all of them, and the plan never knew", () => {
    const before = plan();
    const sheet = survey(before, "walls").click(0, 0).click(5000, 0).click(5000, 4000).key("Backspace");
    expect(sheet.state.show.overlay.filter((o) => o.kind === "handle")).toHaveLength(2);
    sheet.cancel();
    expect(sheet.state.show.overlay).toEqual([]);
    expect(sheet.plan).toBe(before);
    expect(sheet.cancel().state.tool).toBe("select");
  });

  test("what stood on the walls goes to the nearest that is long enough", () => {
    const door = putOpening(plan(), "door", { kind: "door", wall: 2, at: 500, width: 800 });
    if (!door.ok) throw new Error(door.message);
    const sheet = walk(survey(door.plan, "walls"), "4000", "3500", "4000", "3500").key("Enter");
    expect(sheet.plan.room.openings.door).toMatchObject({ wall: 2, at: expect.closeTo(500, 6), width: 800 });
    expect(sheet.state.said).toContain("1 opening moved");
    walk(sheet, "600", "700", "600", "700").key("Enter");
    expect(sheet.plan.room.openings).toEqual({});
    expect(sheet.state.said).toContain("found no wall");
  });
});
