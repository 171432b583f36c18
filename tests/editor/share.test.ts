/** Handing a plan on from the page: links copied and opened, files exported. Clipboard and disk are stand-ins. */
import { readFileSync } from "node:fs";
import DxfParser from "dxf-parser";
import { beforeEach, describe, expect, test } from "vitest";
import { hallPlan } from "../../bench/plans.js";
import { copyLink } from "../../src/editor/share/copy-link.js";
import { exported } from "../../src/editor/share/export-plan.js";
import { forgetLink, linkNotice } from "../../src/editor/share/link-notice.js";
import { openPlanOf } from "../../src/editor/share/open-link.js";
import { linkFragment } from "../../src/exchange/share-link.js";
import { readPlan } from "../../src/plan/read.js";
import { hillPlan } from "../exchange/hill-plan.js";
import { MemoryShelf, openTab } from "./kept-support.js";

const PAGE = "https://planner.example/";
const copied: string[] = [];
const clipboard = { write: async (text: string) => void copied.push(text) };
const refusing = { write: () => Promise.reject(new Error("no")) };
const fragmentOf = (plan = hillPlan): string => {
  const link = linkFragment(plan);
  if (!link.ok) throw new Error(link.message);
  return link.fragment;
};

beforeEach(() => {
  copied.length = 0;
  forgetLink();
});

describe("a link to the plan", () => {
  test("is copied, and opens as the same plan: new, in no file, unsaved", async () => {
    const tab = openTab(new MemoryShelf());
    tab.retitle("Worth sharing");
    await copyLink(tab.store, PAGE, clipboard);
    expect(tab.store.getState().said).toMatch(/^A link .* is copied/);
    const [address = ""] = copied;
    expect(address.startsWith(`${PAGE}#plan=`)).toBe(true);
    const other = openTab(new MemoryShelf());
    expect(openPlanOf(other.desk, new URL(address).hash)).toBe(true);
    expect([other.title, other.unsaved, other.store.getState().fileName]).toEqual(["Worth sharing", true, ""]);
    expect(other.store.getState().history.plan).toEqual(tab.store.getState().history.plan);
    expect(other.desk.state.getState()).toMatchObject({ report: undefined, left: undefined });
    // Saving asks for a new file.
    await other.desk.save();
    expect(other.downloads.length).toBe(1);
    expect(other.unsaved).toBe(false);
  });

  test("opened over unsaved work, leaves that within reach", async () => {
    const tab = openTab(new MemoryShelf());
    tab.retitle("My evening's work");
    openPlanOf(tab.desk, `#${fragmentOf()}`);
    expect(tab.title).toBe(hillPlan.title);
    expect(tab.desk.state.getState().left).toMatchObject({ title: "My evening's work" });
  });

  test.each([
    ["#plan=1.!!!!", /letters that no link has/],
    ["#plan=1.AAAA", /cut off|changed on its way/],
    ["#plan=9.AAAA", /newer version/],
    [`#${fragmentOf().slice(0, 200)}`, /cut off|changed on its way/],
  ])("that is no plan (%s) changes nothing, and says why", (hash, why) => {
    const tab = openTab(new MemoryShelf());
    tab.retitle("Mine");
    expect(openPlanOf(tab.desk, hash)).toBe(false);
    expect(tab.title).toBe("Mine");
    const { report, left } = tab.desk.state.getState();
    expect(left).toBeUndefined();
    expect(report).toMatchObject({ file: "The link", opened: false });
    expect(report?.problems[0]?.message).toMatch(why);
  });

  test("too long to arrive is not copied: the file is offered", async () => {
    const tab = openTab(new MemoryShelf());
    tab.store.getState().open(hallPlan(200), "", true);
    await copyLink(tab.store, PAGE, clipboard);
    expect(copied).toEqual([]);
    const notice = linkNotice.getState();
    expect(notice).toMatchObject({ kind: "too-long" });
    expect(notice?.kind === "too-long" && notice.message).toMatch(/^The plan would make .*send the file instead\.$/);
  });

  test("is shown to be copied by hand where the browser lets nothing be copied", async () => {
    const tab = openTab(new MemoryShelf());
    await copyLink(tab.store, PAGE, refusing);
    const notice = linkNotice.getState();
    expect(notice?.kind === "by-hand" && notice.address.startsWith(`${PAGE}#plan=1.`)).toBe(true);
    // And that is put away by the next that works.
    await copyLink(tab.store, PAGE, clipboard);
    expect(linkNotice.getState()).toBeUndefined();
  });
});

describe("exports", () => {
  const read = readPlan(readFileSync("sample-plans/first-shelf.plan.json", "utf8"));
  if (!read.ok) throw new Error("the sample cannot be read");
  const tab = openTab(new MemoryShelf());
  tab.store.getState().open(read.plan, "first-shelf.plan.json", true);

  test("are named after the plan, each in its own form", () => {
    const names = (["svg", "dxf", "readings", "heights", "html"] as const).map((kind) => {
      const { name, type, text } = exported(tab.store.getState(), kind);
      expect(text.length).toBeGreaterThan(200);
      return `${name} ${type}`;
    });
    expect(names).toEqual([
      "first-shelf.svg image/svg+xml",
      "first-shelf.dxf image/vnd.dxf",
      "first-shelf-readings.csv text/csv",
      "first-shelf-heights.csv text/csv",
      "first-shelf.html text/html",
    ]);
    const dxf = new DxfParser().parseSync(exported(tab.store.getState(), "dxf").text);
    expect(dxf?.entities.length).toBeGreaterThan(5);
  });

  test("count in the units that are shown, and change nothing", () => {
    const before = tab.store.getState().history;
    const unitsOf = () => /x \((\w+)\)/.exec(exported(tab.store.getState(), "heights").text)?.[1];
    tab.store.getState().setUnits("metric");
    expect(unitsOf()).toBe("mm");
    tab.store.getState().setUnits("imperial");
    expect(unitsOf()).toBe("in");
    expect(tab.store.getState().history).toBe(before);
  });
});
