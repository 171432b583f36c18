/** The outer main of the sample plan pulled by a handle: branch, grade and readings follow. */
import { expect, test } from "@playwright/test";
import { deriveLayout } from "../../src/layout/derive.js";
import { handlesOf } from "../../src/layout/relay/handles.js";
import { readPlan } from "../../src/plan/read.js";
import { chooseObject, openPage, reading, sampleText, saveCopy, undoAll } from "./support/desk.js";
import { sheetHand } from "./support/sheet-hand.js";

test("dragging the main moves all that hangs on it, and undo brings it back", async ({ page }) => {
  const read = readPlan(sampleText, "sample");
  if (!read.ok) throw new Error("the sample cannot be read");
  const before = deriveLayout(read.plan);
  const handle = handlesOf(before, "outer", { arm: 0 }).find(({ kind, leg }) => kind === "radius" && leg === 3);
  if (!handle) throw new Error("the outer main has no such curve");
  await page.setViewportSize({ width: 1440, height: 900 });
  await openPage(page);
  await chooseObject(page, /^main Outer main/);
  const hand = await sheetHand(page, read.plan);
  const felt = reading(page, "Grade felt, main");
  await expect(felt).toHaveText("0.93 %");
  const { x, y } = handle.at;
  await hand.move(x, y);
  await page.mouse.down();
  // Seen in the readings while the hand is still down.
  await hand.move(x - 90, y + 90);
  await hand.move(x - 180, y + 180);
  await expect(felt).not.toHaveText("0.93 %");
  await page.mouse.up();
  await expect(page.getByRole("button", { name: /^Undo:/ })).toBeVisible();
  await expect(felt).not.toHaveText("0.93 %");
  await expect(reading(page, "Least radius, main")).not.toHaveText(/^34 5/);
  const dragged = readPlan(await saveCopy(page), "copy");
  if (!dragged.ok) throw new Error("the copy cannot be read");
  const startOf = (layout: typeof before) => layout.lines.get("track:climb")?.path.start;
  expect(startOf(deriveLayout(dragged.plan))).not.toEqual(startOf(before));
  await undoAll(page);
  await expect(felt).toHaveText("0.93 %");
  expect(await saveCopy(page)).toBe(sampleText);
});
