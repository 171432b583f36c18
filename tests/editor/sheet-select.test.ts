/** The arrow: chooses by a click, more with Shift, many by a box, what lies beneath with Alt. */
import { describe, expect, it } from "vitest";
import { thingKey } from "../../src/drafting/thing.js";
import { hillPlan } from "../exchange/hill-plan.js";
import { openSheet, type SheetDriver } from "./sheet-driver.js";

const chosen = (sheet: SheetDriver) => sheet.state.selection.map(thingKey);
const click = (sheet: SheetDriver, x: number, y: number, held = {}) => sheet.pointerDown(x, y, held).pointerUp();

describe("the arrow", () => {
  it("chooses what is clicked, and nothing on the bare floor", () => {
    const sheet = openSheet(hillPlan);
    expect(chosen(click(sheet, 400, 300))).toEqual(["tracks.main.0"]);
    expect(chosen(click(sheet, 3000, 1200))).toEqual([]);
  });

  it("adds and takes away with Shift, whole", () => {
    const sheet = openSheet(hillPlan);
    click(sheet, 400, 300);
    click(sheet, 2000, 100, { shift: true });
    expect(chosen(sheet)).toEqual(["tracks.main", "benches.south"]);
    click(sheet, 400, 300, { shift: true });
    expect(chosen(sheet)).toEqual(["benches.south"]);
  });

  it("goes on to what lies beneath with Alt", () => {
    const sheet = openSheet(hillPlan);
    click(sheet, 400, 300);
    click(sheet, 400, 300, { alt: true });
    expect(chosen(sheet)).toEqual(["benches.south"]);
  });

  it("takes what lies wholly in a box, and changes nothing of the plan", () => {
    const sheet = openSheet(hillPlan);
    sheet.pointerDown(3300, 1250).pointerMove(1400, 1800).pointerUp();
    expect(chosen(sheet)).toEqual(["obstacle.bench"]);
    expect(sheet.plan).toBe(hillPlan);
    expect(sheet.state.history.past).toBeUndefined();
  });

  it("lets go of a box with Esc before it lets go of what is chosen", () => {
    const sheet = openSheet(hillPlan);
    click(sheet, 2000, 100);
    sheet.pointerDown(3300, 1250).pointerMove(1400, 1800).cancel();
    expect(chosen(sheet)).toEqual(["benches.south"]);
    sheet.cancel();
    expect(chosen(sheet)).toEqual([]);
  });
});
