import { describe, expect, test } from "vitest";
import { placeUnderlay, underlayPoint } from "../../src/drafting/underlay.js";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import { openSheet, type SheetDriver } from "./sheet-driver.js";

const plan = emptyPlan({ title: "Loft", width: 4000, depth: 3000, scale: "HO", units: "metric" });
/** A picture of 1000 by 500 px over the room: 4 mm to a px, from (0, 500) to (4000, 2500). */
const open = (): SheetDriver => {
  const sheet = openSheet(plan).stage("survey").take("picture");
  const placement = placeUnderlay(1000, 500, { minX: 0, minY: 0, maxX: 4000, maxY: 3000 });
  sheet.state.setUnderlay({ url: "blob:sketch", placement });
  return sheet;
};
const placed = (sheet: SheetDriver) => {
  const { underlay } = sheet.state;
  if (!underlay) throw new Error("the picture is gone");
  return underlay.placement;
};

describe("a picture under the sheet", () => {
  test("two points and their distance bring it to scale; the first stays where it is", () => {
    const sheet = open().click(1000, 1000).click(2000, 1000).type("2 m").key("Enter");
    const placement = placed(sheet);
    expect(placement.scale).toBeCloseTo(8, 9);
    expect(underlayPoint(placement, { x: 250, y: 125 })).toEqual({
      x: expect.closeTo(1000, 9),
      y: expect.closeTo(1000, 9),
    });
    expect(sheet.state.show.entry?.label).toContain("2000 mm");
    expect(sheet.plan).toBe(plan);
  });

  test("two points are laid level, or upright", () => {
    const level = placed(open().click(1000, 1000).click(2000, 1100).key("l"));
    expect(level.heading).toBeCloseTo(-Math.atan(0.1), 12);
    const upright = placed(open().click(1000, 1000).click(900, 2000).key("l"));
    expect(upright.heading).toBeCloseTo(-Math.atan(0.1), 12);
  });

  test("dragged and put back by Esc; dragged for good", () => {
    const sheet = open();
    const before = placed(sheet);
    sheet.pointerDown(1000, 1000).pointerMove(1500, 900);
    expect(placed(sheet).at).toEqual({ x: 500, y: 400 });
    expect(placed(sheet.cancel())).toBe(before);
    expect(placed(sheet.drag([1000, 1000], [900, 1000])).at).toEqual({ x: -100, y: 500 });
  });

  test("faded by steps within bounds, and taken away", () => {
    const sheet = open();
    for (let i = 0; i < 20; i++) sheet.key("[");
    expect(placed(sheet).strength).toBeCloseTo(0.1, 12);
    expect(placed(sheet.key("]")).strength).toBeCloseTo(0.2, 12);
    expect(sheet.key("Delete").state.underlay).toBeUndefined();
  });

  test.each(["0", "ten", "1e9"])("%s is no distance", (typed) => {
    const sheet = open().click(1000, 1000).click(2000, 1000);
    const before = placed(sheet);
    sheet.type(typed).key("Enter");
    expect(placed(sheet)).toBe(before);
  });

  test("one point clicked twice gives no scale; Backspace takes a point back; without a picture it asks for one", () => {
    const sheet = open().click(1000, 1000).click(1000, 1000).type("500").key("Enter");
    expect(sheet.state.show.entry?.error).toContain("too near");
    for (let i = 0; i < 4; i++) sheet.key("Backspace");
    expect(sheet.state.show.overlay.filter(({ kind }) => kind === "handle")).toHaveLength(1);
    sheet.state.setUnderlay(undefined);
    expect(sheet.click(0, 0).state.show.hint).toContain("Choose a picture");
  });
});
