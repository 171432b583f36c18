import { describe, expect, test } from "vitest";
import { deriveLayout } from "../../src/layout/derive.js";
import type { Edit } from "../../src/plan/edit.js";
import * as options from "../../src/plan/option-edits.js";
import { recordsOfOption } from "../../src/plan/option-records.js";
import type { Plan } from "../../src/plan/schema.js";
import { chooseOption } from "../../src/plan/setting-edits.js";
import { hillPlan } from "../exchange/hill-plan.js";
import { openSheet } from "./sheet-driver.js";

const after = (edit: Edit): Plan => {
  if (!edit.ok) throw new Error(edit.message);
  return edit.plan;
};
const bothOptions = after(options.addOption(after(options.addAndChoose(hillPlan, "Climb A").edit), "Climb B").edit);

describe("with an option in hand", () => {
  test("what is drawn belongs to it, and is one step of undo", () => {
    const sheet = openSheet(bothOptions).stage("lay").deck("foot").take("line");
    sheet.click(700, 1800).click(1500, 1800).key("Enter");
    expect(recordsOfOption(sheet.plan, "climb-a")).toHaveLength(1);
    const [own] = recordsOfOption(sheet.plan, "climb-a");
    expect(sheet.state.layout.lines.has(`track:${own?.id ?? ""}`)).toBe(true);
    sheet.state.edit(chooseOption(sheet.plan, "climb-b"));
    expect(sheet.state.layout.lines.has(`track:${own?.id ?? ""}`)).toBe(false);
    expect(sheet.state.selection).toEqual([]);
    sheet.undoAll();
    expect(sheet.plan).toBe(bothOptions);
  });

  test("benches too; with none in hand they belong to all", () => {
    const bench = (plan: Plan): Plan => {
      const sheet = openSheet(plan).stage("frame").deck("foot").take("bench");
      return sheet.click(1000, 1800).click(2000, 1800).click(2000, 2400).click(1000, 1800).plan;
    };
    const own = Object.entries(bench(bothOptions).benches).filter(([id]) => !Object.hasOwn(hillPlan.benches, id));
    expect(own.map(([, { option }]) => option)).toEqual(["climb-a"]);
    const all = Object.entries(bench(hillPlan).benches).filter(([id]) => !Object.hasOwn(hillPlan.benches, id));
    expect(all.map(([, { option }]) => option)).toEqual([undefined]);
  });

  test("track of all options does not grow: a new one begins at its end", () => {
    const grow = (plan: Plan): Plan => {
      const sheet = openSheet(plan).stage("lay").deck("top").take("line");
      const end = sheet.state.layout.lines.get("track:upper")?.path.end ?? { x: 0, y: 0 };
      return sheet
        .click(end.x, end.y)
        .click(end.x - 500, end.y)
        .key("Enter").plan;
    };
    expect(grow(hillPlan).tracks["upper"]?.legs).toHaveLength(2);
    const own = grow(bothOptions);
    expect(own.tracks["upper"]).toBe(hillPlan.tracks["upper"]);
    const [ref] = recordsOfOption(own, "climb-a");
    expect(own.tracks[ref?.id ?? ""]?.start).toEqual({ track: "upper", end: "end" });
  });

  test("what is changed of all options is said to be changed in every one", () => {
    const sheet = openSheet(bothOptions).stage("lay").deck("foot").take("select").selectTrack("main");
    const { history, edit } = sheet.state;
    edit({
      ok: true,
      name: "x",
      plan: { ...history.plan, pins: { ...history.plan.pins, low: { track: "main", at: 2400, height: 1001 } } },
    });
    expect(sheet.state.said).toBe("In every option: height pin low.");
    const plain = openSheet(hillPlan);
    plain.state.edit({
      ok: true,
      name: "x",
      plan: { ...hillPlan, pins: { ...hillPlan.pins, low: { track: "main", at: 2400, height: 1001 } } },
    });
    expect(plain.state.said).toBe("");
  });

  test("track of all options is parted for all", () => {
    const sheet = openSheet(bothOptions).stage("lay").deck("foot").take("split").click(1500, 300);
    expect(Object.keys(sheet.plan.tracks)).toHaveLength(Object.keys(hillPlan.tracks).length + 1);
    expect(recordsOfOption(sheet.plan, "climb-a")).toEqual([]);
  });

  test("what is selected of an option is let go when another is chosen", () => {
    const moved = after(options.moveToOption(bothOptions, [{ collection: "benches", id: "south" }], "climb-a"));
    const sheet = openSheet(moved).stage("frame").deck("foot");
    sheet.select({ kind: "record", collection: "benches", id: "south" });
    expect(sheet.state.selection).toHaveLength(1);
    sheet.state.edit(chooseOption(sheet.plan, "climb-b"));
    expect(sheet.state.selection).toEqual([]);
    expect(deriveLayout(sheet.plan).space.decks.get("foot")?.byBench.size).toBe(0);
  });
});
