/** The section's line on the sheet: drawn, dragged, moved by keys, and no part of the plan. */
import { beforeEach, describe, expect, test } from "vitest";
import { createSections, forgetWithPlan, type SectionStore } from "../../src/editor/section-store.js";
import { sectionTool } from "../../src/editor/tools/frame-section.js";
import { ARROW, anyTool } from "../../src/editor/tools/arrow.js";
import type { Cut } from "../../src/layout/section.js";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import { setTitle } from "../../src/plan/setting-edits.js";
import { openSheet, type SheetDriver } from "./sheet-driver.js";

const plan = emptyPlan({ title: "Loft", width: 4000, depth: 3000, scale: "HO", units: "metric" });
let store: SectionStore;
let sheet: SheetDriver;
const cut = (): Cut => {
  const { cut: now } = store.getState();
  if (!now) throw new Error("no cut");
  return now;
};
const ends = (): number[][] => [cut().from, cut().to].map(({ x, y }) => [x, y]);

beforeEach(() => {
  store = createSections();
  sheet = openSheet(plan, { tools: [ARROW, anyTool(sectionTool(store))] })
    .stage("frame")
    .take("section");
});

describe("the section's line", () => {
  test("lies across the middle of the room the short way, and is shown", () => {
    expect(ends()).toEqual([
      [2000, 0],
      [2000, 3000],
    ]);
    expect(store.getState().open).toBe(true);
    const handles = sheet.state.show.overlay.flatMap((one) => (one.kind === "handle" ? [one.name] : []));
    expect(handles).toEqual(["section A", "section B"]);
  });

  test("is given up with its plan, not with an undo", () => {
    const end = forgetWithPlan(store, sheet.store);
    sheet.store.getState().edit(setTitle(plan, "Attic"));
    sheet.store.getState().undo();
    expect(store.getState().open).toBe(true);
    sheet.store
      .getState()
      .open(emptyPlan({ title: "Barn", width: 900, depth: 900, scale: "N", units: "metric" }), "", true);
    // With the tool in hand, the new room is cut.
    expect(ends()).toEqual([
      [450, 0],
      [450, 900],
    ]);
    sheet.take("select");
    sheet.store.getState().open(plan, "", true);
    expect(store.getState()).toMatchObject({ cut: undefined, open: false });
    end();
  });

  test("is dragged by either end, caught upright and level, and free with Alt", () => {
    sheet.drag([2000, 3000], [3010, 15]);
    expect(ends()).toEqual([
      [2000, 0],
      [3010, 0],
    ]);
    sheet.drag([2000, 0], [500, 1200], 4, { alt: true });
    expect(ends()[0]).toEqual([500, 1200]);
  });

  test("is moved as a whole, and drawn anew from where nothing is", () => {
    sheet.drag([2000, 1500], [2300, 1450]);
    expect(ends()).toEqual([
      [2300, -50],
      [2300, 2950],
    ]);
    sheet.drag([500, 500], [3500, 2600], 4, { alt: true });
    expect(ends()).toEqual([
      [500, 500],
      [3500, 2600],
    ]);
  });

  test("is put back by Esc, and by a slip of the hand", () => {
    const before = cut();
    sheet.pointerDown(2000, 3000).pointerMove(100, 100).cancel();
    expect(cut()).toBe(before);
    expect(sheet.state.tool).toBe("section");
    sheet.pointerUp().drag([500, 500], [530, 500]);
    expect(cut()).toBe(before);
    expect(sheet.cancel().state.tool).toBe("select");
    expect(sheet.plan).toBe(plan);
    expect(sheet.state.history.past).toBeUndefined();
  });

  test("is moved by the arrows, whole or by an end", () => {
    sheet.key("ArrowRight").key("ArrowUp", { shift: true });
    expect(ends()).toEqual([
      [2020, 200],
      [2020, 3200],
    ]);
    sheet.key("Tab").key("ArrowLeft");
    expect(ends()[0]).toEqual([2000, 200]);
    sheet.key("Tab").key("ArrowDown");
    expect(ends()[1]).toEqual([2020, 3180]);
  });

  test("is there when the tool is taken again, but not in another room", () => {
    sheet.drag([2000, 1500], [2300, 1500]);
    const kept = cut();
    sheet.take("select").take("section");
    expect(cut()).toBe(kept);
    const { outline } = plan.room;
    const far = { ...plan, room: { ...plan.room, outline: outline.map(({ x, y }) => ({ x: x + 9000, y })) } };
    sheet.state.open(far, "", true);
    expect(ends()).toEqual([
      [11_000, 0],
      [11_000, 3000],
    ]);
  });
});
