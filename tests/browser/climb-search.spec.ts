/** Climb routes found on the page: picked on the sheet, shown as they come, taken as an option, and given up. */
import AxeBuilder from "@axe-core/playwright";
import { expect, type Page, test } from "@playwright/test";
import { writePlan } from "../../src/plan/write.js";
import { pad, peninsula } from "../climb/rooms.js";
import { openPage, openStage, openText, saveCopy, settled, tabTo, takeTool, undoAll } from "./support/desk.js";
import { sheetHand } from "./support/sheet-hand.js";

/** One way up, found at once; and a room with several. */
const { plan: PAD } = pad(210, 1700);
const { plan: PENINSULA } = peninsula(300);

async function openRoom(page: Page, plan = PAD) {
  await openPage(page);
  await openText(page, "room.plan.json", writePlan(plan));
  await expect(page.getByRole("heading", { level: 1 })).toHaveText(plan.title);
  await settled(page);
  await openStage(page, "Grade");
  await takeTool(page, "Routes");
  const panel = page.getByRole("region", { name: "Climb routes" });
  await expect(panel).toBeVisible();
  return { hand: await sheetHand(page, plan), panel };
}

const faults = async (page: Page): Promise<unknown[]> => {
  const { violations } = await new AxeBuilder({ page }).include(".climbs").include(".status-line").analyze();
  return violations.filter(({ impact }) => impact === "serious" || impact === "critical");
};

test("both ends are picked on the sheet, routes listed, looked at, and one is taken as an option", async ({ page }) => {
  await page.setViewportSize({ width: 1440, height: 900 });
  const { hand, panel } = await openRoom(page, PENINSULA);
  await hand.click(1000, 300);
  await expect(panel.getByLabel("Leaves")).toHaveValue(/low/);
  await hand.click(6400, 300);
  await expect(panel.getByLabel("Arrives")).toHaveValue(/high/);
  await page.keyboard.press("Enter");
  const routes = panel.getByRole("list", { name: "Routes found" }).getByRole("listitem");
  await expect(routes.first()).toBeVisible();
  await expect(panel.getByRole("button", { name: "Search", exact: true })).toBeVisible();
  await expect(routes.first()).toContainText("Ruling");
  const profile = page.getByRole("region", { name: "Profile" });
  await expect(profile).toContainText("Route 1");
  await routes.nth(1).hover();
  await expect(profile).toContainText("Route 2");
  await expect(page.getByRole("button", { name: "Nothing to undo" })).toBeVisible();
  expect(await faults(page)).toEqual([]);
  await page.getByRole("button", { name: "Night" }).click();
  expect(await faults(page)).toEqual([]);

  await routes.first().getByRole("button", { name: "Take as an option" }).click();
  await expect(page.locator(".said")).toHaveText("Taken as the option Climb A.");
  await expect(profile).not.toContainText("Route 1");
  const taken = await saveCopy(page);
  expect(taken).toContain('"Climb A"');
  expect(await undoAll(page)).toBe(1);
  expect(await saveCopy(page)).toBe(writePlan(PENINSULA));
});

test("by keyboard alone, and given up", async ({ page }) => {
  const { panel } = await openRoom(page);
  // The lower track's end, the upper one's start.
  for (const [label, steps] of [
    ["Leaves", 2],
    ["Arrives", 3],
  ] as const) {
    await tabTo(page, panel.getByLabel(label));
    for (let i = 0; i < steps; i++) await page.keyboard.press("ArrowDown");
  }
  await tabTo(page, panel.getByRole("button", { name: "Search", exact: true }));
  await page.keyboard.press("Enter");
  const stop = panel.getByRole("button", { name: "Stop" });
  await expect(stop).toBeVisible();
  await stop.press("Enter");
  await expect(panel).toContainText("Stopped;");
  await panel.getByRole("button", { name: "Close" }).press("Enter");
  await expect(panel).toBeHidden();
  await expect(page.getByRole("button", { name: "Nothing to undo" })).toBeVisible();
});

test("where workers cannot be had, the page searches between its frames", async ({ page }) => {
  await page.addInitScript(() => {
    const Real = globalThis.Worker;
    Object.defineProperty(globalThis, "Worker", {
      value: function (url: string | URL, options?: WorkerOptions) {
        if (String(url).includes("climber")) throw new Error("no workers here");
        return new Real(url, options);
      },
    });
  });
  const { hand, panel } = await openRoom(page);
  await hand.click(1000, 300);
  await hand.click(6400, 300);
  await page.keyboard.press("Enter");
  await expect(panel.getByRole("button", { name: "Search", exact: true })).toBeVisible();
  const routes = panel.getByRole("list", { name: "Routes found" }).getByRole("listitem");
  await expect(routes.first()).toBeVisible();
});
