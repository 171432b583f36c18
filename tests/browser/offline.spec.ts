/** The page opens without a network after the first visit, and a newer version of it waits until it is wished for. */
import { expect, type Page, test } from "@playwright/test";
import { chooseObject, fromMenu, openPage, settled } from "./support/desk.js";
import { type OwnServer, startOwnServer } from "./support/own-server.js";

test.use({ serviceWorkers: "allow" });

let server: OwnServer;
test.beforeEach(async () => {
  server = await startOwnServer();
});
test.afterEach(() => server.end());

/** All files are kept, and this page is served from them. */
const keptOffline = (page: Page): Promise<void> =>
  expect.poll(() => page.evaluate(() => navigator.serviceWorker.controller?.state)).toBe("activated");

async function rename(page: Page, to: string): Promise<void> {
  const title = page.getByRole("textbox", { name: "Title" });
  await title.fill(to);
  await title.press("Enter");
  await expect(page.getByRole("heading", { level: 1 })).toContainText(`${to}, unsaved changes`);
}

test("the second visit needs no network, not even for what was never opened before", async ({ page, context }) => {
  await openPage(page, server.address);
  await keptOffline(page);
  await server.end();
  await page.close();

  const again = await context.newPage();
  const faults: string[] = [];
  again.on("pageerror", (error) => faults.push(String(error)));
  await openPage(again, server.address);
  await chooseObject(again, /^branch Wetherlaw climb/);
  await fromMenu(again, "Help", /^Cautions/);
  await expect(again.getByRole("heading", { name: "Cautions" })).toBeVisible();
  await again.keyboard.press("Escape");
  await fromMenu(again, "File", /^First shelf/);
  await expect(again.getByRole("heading", { level: 1 })).toHaveText(/shelf/i);
  await settled(again);
  expect(faults).toEqual([]);
});

test("a newer version waits, and is used with the work that was not saved", async ({ page }) => {
  await openPage(page, server.address);
  await keptOffline(page);
  await rename(page, "Wetherlaw by night");
  server.release("newer");
  await page.evaluate(async () => (await navigator.serviceWorker.getRegistration())?.update());
  const told = page.getByRole("status").filter({ hasText: "A new version of the planner is ready" });
  await expect(told).toHaveCount(1);
  // Nothing is loaded anew by itself.
  await rename(page, "Wetherlaw at dawn");
  const loaded = page.waitForEvent("load");
  await told.getByRole("button", { name: "Use it" }).click();
  await loaded;
  await expect(page.getByRole("heading", { level: 1 })).toContainText("Wetherlaw at dawn, unsaved changes");
  await expect(told).toHaveCount(0);
  expect(await page.evaluate(() => caches.keys())).toContain("ruling-grade page newer");
});
