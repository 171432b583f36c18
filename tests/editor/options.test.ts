import { describe, expect, test } from "vitest";
import { besides, onSecondSheet, sideBySide } from "../../src/editor/option-store.js";
import * as commands from "../../src/editor/options/option-commands.js";
import { keepCandidates } from "../../src/editor/options/use-candidates.js";
import type { Candidate } from "../../src/exchange/compare.js";
import { detailsOf } from "../../src/editor/panels/details/details-of.js";
import type { Field } from "../../src/editor/panels/details/field.js";
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

describe("commands", () => {
  const MAIN = { kind: "record", collection: "tracks", id: "main" } as const;
  const CLIMB = { kind: "record", collection: "tracks", id: "climb" } as const;

  test("each is one step of undo, and says what follows", () => {
    const sheet = openSheet(hillPlan);
    const says = (done: boolean, text: string): void => {
      expect(done).toBe(true);
      expect(sheet.state.said).toBe(text);
    };
    says(commands.addNew(sheet.store), "Option A is in hand: what you draw belongs to it.");
    sheet.select(CLIMB);
    says(commands.moveSelection(sheet.store, "option-a"), "3 objects belong to Option A.");
    says(commands.moveSelection(sheet.store, "option-a"), "That belongs to Option A already.");
    says(commands.duplicate(sheet.store, "option-a"), "Option A 2 is in hand: what you draw belongs to it.");
    expect(recordsOfOption(sheet.plan, "option-a-2")).toHaveLength(3);
    says(commands.rename(sheet.store, "option-a-2", "Helix"), "");
    says(commands.choose(sheet.store, undefined), "No option is in hand: what you draw belongs to all of them.");
    says(commands.chooseNext(sheet.store), "Option A is in hand: what you draw belongs to it.");
    says(commands.chooseNext(sheet.store), "Helix is in hand: what you draw belongs to it.");
    const before = sheet.plan;
    says(commands.remove(sheet.store, "option-a"), "Option A went with 3 objects; undo brings it back.");
    sheet.undo();
    expect(sheet.plan).toBe(before);
    says(
      commands.takeForGood(sheet.store, "option-a-2"),
      "Helix belongs to the plan now. Option A went with 3 objects; undo brings it back.",
    );
    sheet.undo();
    expect(sheet.plan).toBe(before);
    sheet.undoAll();
    expect(sheet.plan).toBe(hillPlan);
  });

  test("what cannot be done is said and leaves the plan", () => {
    const sheet = openSheet(bothOptions);
    expect(commands.moveSelection(sheet.store, undefined)).toBe(false);
    expect(sheet.state.said).toBe("Select what is to be moved first.");
    expect(commands.rename(sheet.store, "climb-a", "Climb B")).toBe(false);
    expect(sheet.state.said).toMatch(/already/);
    expect(commands.chooseNext(openSheet(hillPlan).store)).toBe(false);
    expect(sheet.plan).toBe(bothOptions);
  });

  test("Details move what is selected, one thing or several", () => {
    const sheet = openSheet(bothOptions).select(MAIN, CLIMB);
    const field = (): Field | undefined =>
      detailsOf(sheet.plan, sheet.state.layout, sheet.state.selection)
        .sections.flatMap(({ fields }) => fields)
        .find(({ id }) => id === "option");
    const choice = field();
    expect(choice).toMatchObject({ kind: "choice", value: "all:" });
    if (choice?.kind !== "choice") throw new Error("no choice");
    expect(choice.choices.map(({ name }) => name)).toEqual(["all options", "Climb A", "Climb B"]);
    sheet.state.edit(choice.set(sheet.plan, "climb-a"));
    expect(sheet.plan.tracks["main"]?.option).toBe("climb-a");
    expect(field()).toMatchObject({ value: "climb-a" });
    const plain = openSheet(hillPlan).select(MAIN);
    expect(JSON.stringify(detailsOf(plain.plan, plain.state.layout, plain.state.selection))).not.toContain("option");
  });
});

describe("side by side", () => {
  const candidates = (wanted: (names: readonly string[]) => boolean): Promise<readonly Candidate[]> =>
    new Promise((resolve) => {
      const look = (): boolean => {
        const now = sideBySide.getState().candidates;
        if (!wanted(now.map(({ name }) => name))) return false;
        resolve(now);
        return true;
      };
      if (look()) return;
      const end = sideBySide.subscribe(() => {
        if (look()) end();
      });
    });

  test("every option is laid out and read, and again after an edit; none is kept when nobody looks", async () => {
    const sheet = openSheet(bothOptions);
    sideBySide.setState({ open: true });
    const end = keepCandidates(sheet.store);
    const both = await candidates((names) => names.length === 2);
    expect(both.map(({ option }) => option)).toEqual(["climb-a", "climb-b"]);
    expect(both[0]?.layout).toBe(sheet.state.settled);
    expect(both.every(({ readings }) => readings.length > 0)).toBe(true);
    expect(onSecondSheet(sideBySide.getState(), "climb-a")?.option).toBe("climb-b");
    expect(onSecondSheet(sideBySide.getState(), "climb-b")?.option).toBe("climb-a");
    commands.rename(sheet.store, "climb-b", "Helix");
    await candidates((names) => names[1] === "Helix");
    end();
    expect(besides(sideBySide.getState())).toEqual([]);
    sideBySide.setState({ open: false });
    expect(onSecondSheet(sideBySide.getState(), "climb-a")).toBeUndefined();
  });
});
