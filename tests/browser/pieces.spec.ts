/** Pieces put one by one by number: a straight on the bare sheet, a curve on its end, and one more by the click. */
import { expect, test } from "@playwright/test";
import { readPlan } from "../../src/plan/read.js";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import { scalesOf } from "../../src/standards/scales.js";
import { fromMenu, openPage, openStage, reading, saveCopy, settled, takeTool, undoAll } from "./support/desk.js";
import { sheetHand } from "./support/sheet-hand.js";

test("straights and curves by number", async ({ page }) => {
  await openPage(page);
  await fromMenu(page, "File", /^New plan/);
  const slip = page.getByRole("form", { name: "New plan" });
  await slip.getByLabel("Units").selectOption({ label: "millimetres" });
  await slip.getByLabel("Room").fill("4200");
  await slip.getByLabel("by", { exact: true }).fill("3 m");
  await slip.getByLabel("Scale").selectOption("NMRA HO");
  await slip.getByRole("button", { name: "Make it" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Untitled plan");
  const scale = scalesOf("NMRA").find(({ name }) => name === "HO");
  if (!scale) throw new Error("there is no HO");
  const bare = await saveCopy(page);
  const hand = await sheetHand(page, emptyPlan({ title: "", width: 4200, depth: 3000, scale, units: "metric" }));
  const { keyboard } = page;

  await openStage(page, "Lay");
  await takeTool(page, "Straight");
  await hand.click(1000, 700);
  await hand.move(2000, 700);
  await keyboard.type("850");
  await keyboard.press("Enter");
  await expect(page.getByRole("button", { name: "Undo: add track" })).toBeVisible();

  // The curve begins at the end of what is in hand; the second goes the other way and is put by a click on the sheet.
  await takeTool(page, "Curve");
  for (const key of [..."762", "Tab", ..."60", "Enter"]) await keyboard.press(key);
  await keyboard.press("f");
  for (const key of [..."700", "Tab", ..."60", "Tab"]) await keyboard.press(key);
  await hand.click(2600, 2400);
  await keyboard.press("Escape");

  await settled(page);
  await expect(reading(page, "Least radius, main")).toHaveText(/^700/);
  const read = readPlan(await saveCopy(page), "copy");
  if (!read.ok) throw new Error("the copy cannot be read");
  const [track, more] = Object.values(read.plan.tracks);
  expect(more).toBeUndefined();
  expect(track?.start).toMatchObject({ pose: { heading: 0 } });
  expect(track?.legs).toEqual([
    { straight: 850 },
    { curve: { radius: 762, angle: 60, hand: "left" } },
    { curve: { radius: 700, angle: 60, hand: "right" } },
  ]);
  expect(await undoAll(page)).toBe(3);
  expect(await saveCopy(page)).toBe(bare);
});
