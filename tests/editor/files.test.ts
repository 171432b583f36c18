/** Files and recovery: nothing unsaved is lost, nothing is written over unasked; disk, storage and clock are stand-ins. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { PickedFile, SaveTarget } from "../../src/editor/files/disk.js";
import { fileNameFor } from "../../src/editor/files/file-desk.js";
import { KEEP_AFTER, SETTLE_AFTER, troubleText } from "../../src/editor/files/keeper.js";
import { newPlanForm, newPlanWishes } from "../../src/editor/files/new-plan.js";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import type { Plan } from "../../src/plan/schema.js";
import { setTitle } from "../../src/plan/setting-edits.js";
import { writePlan } from "../../src/plan/write.js";
import { Hub, MemoryShelf, openTab, plan } from "./kept-support.js";

class MemoryFile implements SaveTarget {
  modifiedAt = 1;
  constructor(
    readonly name: string,
    public contents: string,
  ) {}
  async modified(): Promise<number> {
    return this.modifiedAt;
  }
  async write(text: string): Promise<number> {
    this.contents = text;
    return ++this.modifiedAt;
  }
  get picked(): PickedFile {
    const { name, contents, modifiedAt } = this;
    return { name, size: contents.length, modified: modifiedAt, text: async () => contents, target: this };
  }
}

describe("recovery", () => {
  test("an edit is on the shelf within the promised time, however many follow", async () => {
    const shelf = new MemoryShelf();
    const tab = openTab(shelf);
    tab.retitle("One");
    expect(tab.dueIn()).toBe(KEEP_AFTER);
    expect(shelf.titles).toEqual([]);
    await tab.pass(10);
    tab.retitle("Two");
    await tab.pass(KEEP_AFTER - 10);
    expect(shelf.titles).toEqual(["Two"]);
  });

  test("in a pause of the hand, and when the page is left, it waits for the disk", async () => {
    const shelf = new MemoryShelf();
    const tab = openTab(shelf);
    tab.retitle("One");
    await tab.pass(KEEP_AFTER);
    expect(shelf.firm).toBe(false);
    await tab.pass(SETTLE_AFTER);
    expect([shelf.firm, shelf.puts]).toEqual([true, 2]);
    await tab.pass(10 * SETTLE_AFTER);
    expect(shelf.puts).toBe(2);
    tab.retitle("Two");
    await tab.desk.hurry();
    expect([shelf.firm, shelf.titles]).toEqual([true, ["Two"]]);
  });

  test("what is pending is kept at once when the page is left", async () => {
    const shelf = new MemoryShelf();
    const tab = openTab(shelf);
    tab.retitle("Leaving");
    await tab.desk.hurry();
    expect(shelf.titles).toEqual(["Leaving"]);
  });

  test("previews are not kept; what is saved or undone stays on the shelf, and is not unsaved work", async () => {
    const shelf = new MemoryShelf();
    const tab = openTab(shelf);
    tab.store.getState().preview(setTitle(plan, "Only shown"));
    await tab.pass(KEEP_AFTER);
    expect(shelf.puts).toBe(0);
    tab.store.getState().abandon();
    tab.retitle("Done");
    await tab.pass(KEEP_AFTER);
    expect(shelf.titles).toEqual(["Done"]);
    tab.store.getState().undo();
    await tab.pass(KEEP_AFTER);
    expect(shelf.unsavedTitles).toEqual([]);
    tab.store.getState().redo();
    await tab.pass(KEEP_AFTER);
    await tab.desk.saveCopy();
    await tab.pass(KEEP_AFTER);
    expect([shelf.titles, shelf.unsavedTitles, tab.unsaved]).toEqual([["Done"], [], false]);
  });

  test("after a crash it is offered, continued as unsaved work, and kept under its own id", async () => {
    const shelf = new MemoryShelf();
    const hub = new Hub();
    const first = openTab(shelf, { hub });
    first.retitle("Lost and found");
    await first.pass(KEEP_AFTER);
    first.die();
    const second = openTab(shelf, { hub });
    await second.desk.lookBehind();
    const [offer] = second.desk.state.getState().offers;
    expect(offer).toMatchObject({ title: "Lost and found", keptAt: 1000 + KEEP_AFTER });
    if (!offer) return;
    await second.desk.openKept(offer.id);
    expect([second.title, second.unsaved]).toEqual(["Lost and found", true]);
    second.retitle("Found");
    await second.pass(KEEP_AFTER);
    expect([...shelf.kept.keys()]).toEqual([offer.id]);
    expect(shelf.titles).toEqual(["Found"]);
  });

  test("what another living tab has open is not offered", async () => {
    const shelf = new MemoryShelf();
    const hub = new Hub();
    const first = openTab(shelf, { hub });
    first.retitle("Still open");
    await first.pass(KEEP_AFTER);
    const second = openTab(shelf, { hub });
    await second.desk.lookBehind();
    expect(second.desk.state.getState().offers).toEqual([]);
  });

  test("a record that is no plan any more is reported, not opened", async () => {
    const shelf = new MemoryShelf();
    const torn = {
      title: "Torn",
      fileName: "",
      text: '{"format":"?"}',
      keptAt: 0,
      tab: "gone",
      turn: 1,
      unsaved: true,
    };
    await shelf.put({ id: "x", ...torn }, false, true);
    const tab = openTab(shelf);
    expect(await tab.desk.openKept("x")).toBe(false);
    expect(tab.title).toBe("Trial");
    expect(tab.desk.state.getState().report).toMatchObject({ opened: false });
  });

  test("storage that is full or refused is said in words, and said no more when it works again", async () => {
    const shelf = new MemoryShelf();
    const tab = openTab(shelf);
    shelf.fails = new DOMException("no room", "QuotaExceededError");
    tab.retitle("Too much");
    await tab.pass(KEEP_AFTER);
    expect(tab.desk.state.getState().trouble).toBe(troubleText(shelf.fails));
    expect(tab.desk.state.getState().trouble).toMatch(/full/);
    shelf.fails = new DOMException("not here", "InvalidStateError");
    tab.retitle("Not here");
    await tab.pass(KEEP_AFTER);
    expect(tab.desk.state.getState().trouble).toMatch(/does not let/);
    shelf.fails = undefined;
    tab.retitle("Better");
    await tab.pass(KEEP_AFTER);
    expect(tab.desk.state.getState().trouble).toBeUndefined();
  });
});

describe("opening and saving", () => {
  test("a file is saved straight back to where it came from", async () => {
    const tab = openTab(new MemoryShelf());
    const file = new MemoryFile("trial.plan.json", writePlan(plan));
    await tab.desk.openFile(file.picked);
    expect([tab.unsaved, tab.store.getState().fileName]).toEqual([false, "trial.plan.json"]);
    tab.retitle("Changed");
    expect(await tab.desk.save()).toBe(true);
    expect(JSON.parse(file.contents)).toMatchObject({ title: "Changed" });
    expect([tab.unsaved, tab.downloads]).toEqual([false, []]);
    tab.retitle("Changed again");
    expect(await tab.desk.save()).toBe(true);
  });

  test("undone back to the opened file, it is saved byte for byte", async () => {
    const text = readFileSync("sample-plans/first-shelf.plan.json", "utf8");
    const tab = openTab(new MemoryShelf());
    const file = new MemoryFile("first-shelf.plan.json", text);
    await tab.desk.openFile(file.picked);
    for (let i = 0; i < 5; i++) tab.retitle(`Try ${i}`);
    for (let i = 0; i < 5; i++) tab.store.getState().undo();
    expect(tab.unsaved).toBe(false);
    await tab.desk.save();
    expect(file.contents).toBe(text);
  });

  test("a file that something else changed is not written over unasked", async () => {
    const tab = openTab(new MemoryShelf());
    const file = new MemoryFile("trial.plan.json", writePlan(plan));
    await tab.desk.openFile(file.picked);
    tab.retitle("Mine");
    await file.write("theirs");
    expect(await tab.desk.save()).toBe(false);
    expect([file.contents, tab.unsaved, tab.desk.state.getState().changedOnDisk]).toEqual(["theirs", true, true]);
    expect(await tab.desk.save(true)).toBe(true);
    expect(JSON.parse(file.contents)).toMatchObject({ title: "Mine" });
  });

  test("without a file to write to, a copy is downloaded under the plan's name", async () => {
    const tab = openTab(new MemoryShelf());
    tab.desk.newPlan({ title: "Über den Paß", width: 4000, depth: 3000, scale: "N", units: "metric" });
    tab.retitle("Über den Paß & zurück");
    await tab.desk.save();
    expect(tab.downloads.map(({ name }) => name)).toEqual(["uber-den-paß-zuruck.plan.json"]);
    expect(tab.unsaved).toBe(false);
  });

  test("a chooser that is closed saves nothing, a disk that fails says so", async () => {
    const given = openTab(new MemoryShelf(), { saveAs: async () => undefined });
    given.retitle("Not yet");
    expect([await given.desk.save(), given.unsaved]).toEqual([false, true]);
    const failing = openTab(new MemoryShelf(), {
      saveAs: async () => {
        throw new Error("the disk is full");
      },
    });
    failing.retitle("No room");
    expect([await failing.desk.save(), failing.unsaved]).toEqual([false, true]);
    expect(failing.store.getState().said).toBe("Not saved: the disk is full.");
  });

  test("what is whole of a broken file is opened, with a report of the rest", async () => {
    const tab = openTab(new MemoryShelf());
    const broken = { ...JSON.parse(writePlan(plan)), pins: { bad: { track: "main" } } };
    await tab.desk.openFile(new MemoryFile("broken.plan.json", JSON.stringify(broken)).picked);
    const { report } = tab.desk.state.getState();
    expect(report).toMatchObject({ file: "broken.plan.json", opened: true });
    expect(report?.problems[0]?.record).toBe("pins.bad");
    expect(tab.unsaved).toBe(true);
  });

  test.each([
    ["no plan at all", "not json"],
    ["another kind of file", '{"format": "something"}'],
  ])("%s leaves what is open as it is", async (_name, text) => {
    const tab = openTab(new MemoryShelf());
    tab.retitle("Mine");
    await tab.desk.openFile(new MemoryFile("x.json", text).picked);
    expect([tab.title, tab.unsaved, tab.desk.state.getState().report?.opened]).toEqual(["Mine", true, false]);
  });

  test("a file that is far too large, or cannot be read, is told", async () => {
    const tab = openTab(new MemoryShelf());
    await tab.desk.openFile({ name: "film.mov", size: 9e9, modified: 0, text: async () => "" });
    expect(tab.desk.state.getState().report?.problems[0]?.message).toMatch(/larger/);
    const gone = async (): Promise<string> => {
      throw new Error("it is gone");
    };
    await tab.desk.openFile({ name: "gone.json", size: 9, modified: 0, text: gone });
    expect(tab.desk.state.getState().report?.problems[0]?.message).toMatch(/it is gone/);
  });

  test("a newer version's file is not written over", async () => {
    const tab = openTab(new MemoryShelf());
    const text = writePlan({ ...plan, version: 99 } as unknown as Plan);
    const file = new MemoryFile("newer.plan.json", text);
    await tab.desk.openFile(file.picked);
    tab.retitle("Mine");
    await tab.desk.save();
    expect(file.contents).toBe(text);
    expect(tab.downloads).toHaveLength(1);
  });

  test("opening something else keeps what was unsaved within reach, and on the shelf", async () => {
    const shelf = new MemoryShelf();
    const tab = openTab(shelf);
    tab.retitle("Half done");
    tab.desk.openText(writePlan({ ...plan, title: "Other" }), "other.plan.json");
    await tab.desk.hurry();
    expect([tab.title, tab.unsaved]).toEqual(["Other", false]);
    expect(shelf.titles).toEqual(["Half done"]);
    tab.desk.goBack();
    await tab.pass(0);
    expect([tab.title, tab.unsaved]).toEqual(["Half done", true]);
    await tab.pass(KEEP_AFTER);
    expect(shelf.titles).toEqual(["Half done"]);
  });
});

describe("a new plan", () => {
  test.each([
    ["14 ft", "11 ft 6", 4267.2, 3505.2],
    ["4.2 m", "3400 mm", 4200, 3400],
  ])("of %s by %s", (width, depth, w, d) => {
    const checked = newPlanWishes({ ...newPlanForm("imperial"), width, depth });
    if (!checked.ok) throw new Error(checked.message);
    expect(checked.wishes.width).toBeCloseTo(w, 9);
    expect(checked.wishes.depth).toBeCloseTo(d, 9);
    expect(emptyPlan(checked.wishes)).toMatchObject({ title: "Untitled plan", scale: { name: "HO" } });
  });
  test.each([
    ["", "width"],
    ["2 in", "width"],
    ["900 m", "width"],
    ["wide", "width"],
  ])("%j is no width", (width, field) => {
    expect(newPlanWishes({ ...newPlanForm("metric"), width })).toMatchObject({ ok: false, field });
  });
  test.each(["imperial", "metric"] as const)("begins with a form that can be made at once (%s)", (units) => {
    expect(newPlanWishes(newPlanForm(units))).toMatchObject({ ok: true });
  });
});

test.each([
  ["Larkmoor & Summit", "larkmoor-summit.plan.json"],
  ["  ", "plan.plan.json"],
  ["../../etc", "etc.plan.json"],
])("%j is saved as %s", (title, name) => {
  expect(fileNameFor(title)).toBe(name);
});
