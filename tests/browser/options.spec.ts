/** Options of a plan: chosen, drawn in, named, set side by side with readings and profiles, taken for good; by mouse and by key. */
import AxeBuilder from "@axe-core/playwright";
import { expect, type Page, test } from "@playwright/test";
import { writePlan } from "../../src/plan/write.js";
import { planWithTwoClimbs } from "../support/option-plan.js";
import { fromMenu, openPage, openText, reading, saveCopy, settled } from "./support/desk.js";

const plan = planWithTwoClimbs();

const panel = (page: Page) => page.getByRole("region", { name: "Options" });
const said = (page: Page) => page.locator(".said");

test("options are switched, set side by side and taken for good", async ({ page }) => {
  await openPage(page);
  await openText(page, "two-climbs.plan.json", writePlan(plan));
  await settled(page);
  const climb = reading(page, "Climb, Lower to Upper");
  const long = await climb.innerText();

  // By the menu, and by key.
  await fromMenu(page, "Option: Long way", "Late start");
  await expect(said(page)).toHaveText("Late start is in hand: what you draw belongs to it.");
  await expect(climb).not.toHaveText(long);
  await page.keyboard.press("Alt+8");
  await expect(said(page)).toHaveText("No option is in hand: what you draw belongs to all of them.");
  await page.keyboard.press("Alt+8");
  await expect(climb).toHaveText(long);

  await page.keyboard.press("Alt+7");
  const table = panel(page).getByRole("table");
  await expect(table.getByRole("columnheader", { name: "Late start" })).toBeVisible();
  const row = table.getByRole("row", { name: /^Climb, Lower to Upper/ });
  await expect(row).toContainText("− worse");
  await expect(table.getByRole("row", { name: /^Track, main/ })).toHaveCount(0);
  await panel(page).getByLabel("Only what differs").uncheck();
  await expect(table.getByRole("row", { name: /^Track, main/ })).toBeVisible();
  await panel(page).getByLabel("Only what differs").check();
  await expect(page.getByRole("region", { name: "Profile" })).toContainText("Late start");
  await page.screenshot({ path: "test-results/options-light.png" });
  for (const theme of ["light", "dark"]) {
    if (theme === "dark") await page.getByRole("button", { name: "Night" }).click();
    const { violations } = await new AxeBuilder({ page }).include(".options-panel").include(".bar").analyze();
    expect(violations.filter(({ impact }) => impact === "serious" || impact === "critical")).toEqual([]);
  }
  await page.screenshot({ path: "test-results/options-dark.png" });

  // One deck in two options, a sheet each.
  await panel(page).getByRole("button", { name: "Two sheets, an option on each" }).click();
  await expect(page.getByRole("application", { name: /Late start$/ })).toBeVisible();
  await expect(page.locator(".deck-label").first()).toContainText("Long way");
  await page.locator(".deck-choice").getByText("Upper").click();
  await page.screenshot({ path: "test-results/options-twin.png" });
  await page.locator(".view-choice").getByText("See-through").click();

  // Named in place; a name that is taken goes back.
  const name = panel(page).getByLabel("Name of Late start");
  await name.fill("Long way");
  await name.press("Enter");
  await expect(said(page)).toContainText("already");
  await expect(name).toHaveValue("Late start");
  await name.fill("Steep way");
  await name.press("Enter");
  await expect(table.getByRole("columnheader", { name: "Steep way" })).toBeVisible();

  await panel(page).getByRole("button", { name: "Duplicate Steep way" }).click();
  await expect(panel(page).getByLabel("Steep way 2 in hand")).toBeChecked();
  await panel(page).getByRole("button", { name: "Remove Steep way 2" }).click();
  await expect(said(page)).toContainText("went with 9 objects");

  await panel(page).getByRole("button", { name: "Take for good: Steep way" }).click();
  await expect(said(page)).toHaveText(
    "Steep way belongs to the plan now. Long way went with 9 objects; undo brings it back.",
  );
  await panel(page).getByRole("button", { name: "Close" }).click();
  await expect(climb).not.toHaveText(long);
  const saved: unknown = JSON.parse(await saveCopy(page));
  expect(saved).toMatchObject({ options: {} });
  await page.getByRole("button", { name: "Undo: take option for good" }).click();
  await expect(page.getByRole("button", { name: "Options", exact: true })).toBeVisible();
});
