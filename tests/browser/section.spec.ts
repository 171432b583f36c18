/** A section across the room: drawn on the sheet, moved by its end, by key and by typed ends, saved as a drawing. */
import AxeBuilder from "@axe-core/playwright";
import { expect, test } from "@playwright/test";
import { readPlan } from "../../src/plan/read.js";
import { downloaded, openPage, openStage, sampleText, takeTool } from "./support/desk.js";
import { sheetHand } from "./support/sheet-hand.js";

test("the room is cut, looked at by another operator, and saved", async ({ page }) => {
  await openPage(page);
  const read = readPlan(sampleText, "sample");
  if (!read.ok) throw new Error("the sample cannot be read");
  const hand = await sheetHand(page, read.plan);
  await openStage(page, "Frame");
  await takeTool(page, "Section");
  await hand.drag([0, 2438], [6553, 2438]);
  const strip = page.getByRole("region", { name: "Section" });
  const drawing = strip.getByRole("img");
  await expect(drawing).toBeVisible();
  await expect(drawing).toContainText("14″");

  const [a, b] = [strip.getByLabel("A", { exact: true }), strip.getByLabel("B", { exact: true })];
  const before = await b.inputValue();
  await hand.drag([6553, 2438], [6553, 3200]);
  await expect(b).not.toHaveValue(before);
  await a.fill("0, 10′");
  await a.press("Enter");
  await expect(a).toHaveValue(/10′/);
  await a.fill("nowhere");
  await a.press("Enter");
  await expect(strip.getByRole("alert")).toBeVisible();
  await a.press("Escape");

  await strip.getByLabel("Who stands in the aisle").selectOption("Seated");
  const saved = await downloaded(page, () => strip.getByRole("button", { name: "Save as SVG" }).click());
  expect(saved).toMatch(/^<svg /);
  expect(saved).toContain("Seated");
  const { violations } = await new AxeBuilder({ page }).include(".section-strip").analyze();
  expect(violations.filter(({ impact }) => impact === "serious" || impact === "critical")).toEqual([]);
  await strip.getByRole("button", { name: "Close" }).click();
  await expect(page.getByRole("region", { name: "Profile" })).toBeVisible();
});
