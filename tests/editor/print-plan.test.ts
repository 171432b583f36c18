/** What is typed into the print slip and comes out as PDF, or as the field to change. */
import { describe, expect, test } from "vitest";
import { printForm, type PrintForm, printPlan } from "../../src/editor/share/print-plan.js";
import { hillPlan } from "../exchange/hill-plan.js";
import { printed } from "../support/poppler.js";
import { openSheet } from "./sheet-driver.js";

const date = new Date("2026-05-17T00:00:00Z");
const sheet = openSheet(hillPlan);
const state = () => sheet.store.getState();
const form = (part: Partial<PrintForm> = {}): PrintForm => ({ ...printForm("metric"), ...part });
const print = (kind: "drawings" | "templates", part: Partial<PrintForm> = {}) =>
  printPlan(state(), kind, form(part), date);

async function text(...args: Parameters<typeof print>): Promise<string> {
  const made = await print(...args);
  if (!made.ok) throw new Error(made.message);
  const pdf = printed(made.bytes);
  try {
    return pdf.text();
  } finally {
    pdf.remove();
  }
}

describe("printing", () => {
  test("drawing sheets at the scale chosen", async () => {
    expect(await text("drawings", { paper: "A3", scale: "30" })).toContain("drawn 1:30");
  });

  test("templates of what is chosen: a deck, a class, the tracks chosen on the sheet", async () => {
    expect(await text("templates", { tracks: "deck:top" })).not.toContain("Main");
    expect(await text("templates", { tracks: "class:main" })).toContain("Main");
    state().select([{ kind: "record", collection: "tracks", id: "upper" }]);
    const upper = await text("templates", { tracks: "selected", risers: "300" });
    expect(upper).toContain("Upper road");
    expect(upper).toContain("risers every 300 mm");
    expect(upper).not.toContain("Main");
  });

  test.each([
    ["drawings", { paper: "A4", scale: "5" }, "scale"],
    ["drawings", { paper: "roll", roll: "5 mm" }, "roll"],
    ["templates", { risers: "often" }, "risers"],
    ["templates", { risers: "1 mm" }, "risers"],
    ["templates", { tracks: "class:staging" }, "tracks"],
  ] as const)("%s of %j names the field", async (kind, part, field) => {
    expect(await print(kind, part)).toMatchObject({ ok: false, field });
  });
});
