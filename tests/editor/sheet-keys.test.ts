/** Keys: what each means at a moment, on every keyboard layout, and that the tables do not quarrel. */
import { describe, expect, it } from "vitest";
import { COMMANDS } from "../../src/editor/sheet/commands.js";
import { type KeyPress, keyText, type KeyTable, meaningOf, pressKey, pressName } from "../../src/editor/sheet/keys.js";
import { TOOLS } from "../../src/editor/tools/index.js";
import { hillPlan } from "../exchange/hill-plan.js";
import { openSheet } from "./sheet-driver.js";

const press = (key: string, more: Partial<KeyPress> = {}): KeyPress => ({
  key,
  code: "",
  mod: false,
  shift: false,
  alt: false,
  ...more,
});
const table = (focus: KeyTable["focus"] = "sheet"): KeyTable => ({ tools: TOOLS, commands: COMMANDS, focus });
const track = { kind: "record", collection: "tracks", id: "main" } as const;

describe("key names", () => {
  it.each([
    [press("z", { mod: true }), "Mod+Z"],
    [press("Z", { mod: true, shift: true }), "Mod+Shift+Z"],
    [press("я", { mod: true, code: "KeyZ" }), "Mod+Z"],
    // On a French keyboard Z is typed where others have W.
    [press("z", { mod: true, code: "KeyW" }), "Mod+Z"],
    [press("+", { shift: true }), "+"],
    [press("?", { shift: true }), "?"],
    [press("PageDown", { shift: true }), "Shift+PageDown"],
  ])("names %o", (given, name) => {
    expect(pressName(given)).toBe(name);
  });

  it("prints them as keyboards do", () => {
    expect(keyText("Mod+Shift+Z", false)).toBe("Ctrl+Shift+Z");
    expect(keyText("Mod+Shift+Z", true)).toBe("⌘⇧Z");
    expect(keyText("Mod++", false)).toBe("Ctrl++");
    expect(keyText("PageUp", false)).toBe("Page Up");
  });
});

describe("commands", () => {
  it("have a name, keys of their own, and an id each", () => {
    const keys = COMMANDS.flatMap((command) => command.keys);
    expect(new Set(keys).size).toBe(keys.length);
    expect(new Set(COMMANDS.map(({ id }) => id)).size).toBe(COMMANDS.length);
    for (const { name } of COMMANDS) expect(name).not.toBe("");
  });

  it.each([
    ["undo", press("z", { mod: true })],
    ["redo", press("y", { mod: true })],
    ["fit", press("Home")],
    ["closer", press("+", { shift: true })],
    ["deck-above", press("PageUp")],
  ])("%s is heard", (id, given) => {
    const { state } = openSheet(hillPlan);
    expect(meaningOf(given, state, table())).toMatchObject({ is: "command", command: { id } });
    expect(meaningOf(given, state, table("field")).is).toBe("page");
  });

  it("leave moving keys to the control that has the focus", () => {
    const { state } = openSheet(hillPlan);
    for (const key of ["Tab", "Enter", " ", "ArrowLeft", "Home", "PageUp"]) {
      expect(meaningOf(press(key), state, table("control")).is).toBe("page");
    }
    expect(meaningOf(press("Escape"), state, table("control")).is).toBe("cancel");
  });

  it("give every character to the tool while it takes a number", () => {
    const sheet = openSheet(hillPlan).stage("lay").take("straight").type("3");
    const entry = sheet.state.show.entry;
    expect(entry?.text).toBe("3");
    for (const key of ["4", "m", "-", "Backspace", "Enter"]) {
      expect(meaningOf(press(key), sheet.state, table()).is).toBe("tool");
    }
  });

  it("leave Space to the paper until something is typed: then it stands before a fraction", () => {
    const sheet = openSheet(hillPlan).stage("lay").take("straight");
    expect(meaningOf(press(" "), sheet.state, table()).is).toBe("page");
    expect(meaningOf(press(" "), sheet.type("3").state, table()).is).toBe("tool");
    expect(meaningOf(press(" "), sheet.state, table("control")).is).toBe("page");
  });

  it("take a tool by its letter in its stage only", () => {
    const sheet = openSheet(hillPlan).stage("lay");
    const line = TOOLS.find(({ id }) => id === "line");
    expect(line).toBeDefined();
    const given = press(line?.key ?? "");
    expect(meaningOf(given, sheet.state, table())).toEqual({ is: "take", tool: "line" });
    expect(meaningOf(given, sheet.stage("survey").state, table())).not.toEqual({ is: "take", tool: "line" });
  });

  it("go from object to object, and let the sheet be left when nothing is chosen", () => {
    const sheet = openSheet(hillPlan);
    expect(pressKey(sheet.store, press("Tab"), table())).toBe(false);
    sheet.select(track);
    expect(pressKey(sheet.store, press("Tab"), table())).toBe(true);
    expect(sheet.state.selection).toEqual([{ kind: "record", collection: "tracks", id: "climb" }]);
    pressKey(sheet.store, press("Tab", { shift: true }), table());
    expect(sheet.state.selection).toEqual([track]);
  });

  it("copy, paste, double, cut, and take back", () => {
    const sheet = openSheet(hillPlan).select(track);
    const count = () => Object.keys(sheet.plan.tracks).length;
    const before = count();
    pressKey(sheet.store, press("c", { mod: true }), table());
    pressKey(sheet.store, press("v", { mod: true }), table());
    expect(count()).toBe(before + 1);
    sheet.select(track);
    pressKey(sheet.store, press("d", { mod: true }), table());
    expect(count()).toBe(before + 2);
    sheet.select({ kind: "record", collection: "labels", id: "foot" });
    pressKey(sheet.store, press("x", { mod: true }), table());
    expect(sheet.plan.labels).not.toHaveProperty("foot");
    for (let i = 0; i < 3; i++) pressKey(sheet.store, press("z", { mod: true }), table());
    expect(sheet.plan).toBe(hillPlan);
  });

  it("change the deck in hand and how it is seen", () => {
    const sheet = openSheet(hillPlan);
    pressKey(sheet.store, press("PageUp"), table());
    expect(sheet.state.deck).toBe("top");
    const seen = sheet.state.deckView;
    pressKey(sheet.store, press("PageDown", { shift: true }), table());
    expect(sheet.state.deckView).not.toBe(seen);
  });
});
