/** Browser storage that is refused or full: the work goes on, it is said, and a file is the way out. */
import { expect, type Page, test } from "@playwright/test";
import { chooseObject, downloaded, openPage, sampleText } from "./support/desk.js";
import { keptTitles } from "./support/kept-work.js";

async function rename(page: Page, to: string): Promise<void> {
  const title = page.getByRole("textbox", { name: "Title" });
  await title.fill(to);
  await title.press("Enter");
  await expect(page.getByRole("heading", { level: 1 })).toContainText(to);
}

/** What nobody caught. */
function faultsOf(page: Page): string[] {
  const faults: string[] = [];
  page.on("pageerror", (error) => faults.push(String(error)));
  return faults;
}

const titled = (title: string): string => sampleText.replace('"title": "Larkmoor & Summit"', `"title": "${title}"`);

async function worksWithoutStorage(page: Page): Promise<void> {
  const faults = faultsOf(page);
  await openPage(page);
  await rename(page, "Wetherlaw by night");
  const told = page.getByRole("alert").filter({ hasText: "does not let the planner keep unsaved work" });
  await expect(told).toHaveCount(1);
  const saved = await downloaded(page, () => told.getByRole("button", { name: "Save to a file" }).click());
  expect(saved).toBe(titled("Wetherlaw by night"));
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Wetherlaw by night");
  await told.getByRole("button", { name: "Close this message" }).click();
  await expect(told).toHaveCount(0);
  await chooseObject(page, /^branch Wetherlaw climb/);
  expect(faults).toEqual([]);
}

test("storage refused is told, and a file keeps the work", async ({ page }) => {
  await page.addInitScript(() => {
    IDBFactory.prototype.open = () => {
      throw new DOMException("access is denied", "SecurityError");
    };
  });
  await worksWithoutStorage(page);
});

test("storage of a newer planner is left alone, and a file keeps the work", async ({ page }) => {
  await page.route("**/bare", (route) => route.fulfill({ contentType: "text/html", body: "" }));
  await page.goto("/bare");
  await page.evaluate(
    () =>
      new Promise<void>((resolve) => {
        const opening = indexedDB.open("ruling-grade", 99);
        opening.onsuccess = () => {
          opening.result.close();
          resolve();
        };
      }),
  );
  await worksWithoutStorage(page);
});

test("full storage is told, and no longer when there is room again", async ({ page, baseURL }) => {
  const faults = faultsOf(page);
  await openPage(page);
  const device = await page.context().newCDPSession(page);
  const quota = (quotaSize?: number) =>
    device.send("Storage.overrideQuotaForOrigin", { origin: baseURL ?? "", ...(quotaSize && { quotaSize }) });
  await quota(1);
  await rename(page, "Wetherlaw by night");
  const told = page.getByRole("alert").filter({ hasText: "storage is full" });
  await expect(told).toHaveCount(1);
  const saved = await downloaded(page, () => told.getByRole("button", { name: "Save to a file" }).click());
  expect(saved).toBe(titled("Wetherlaw by night"));
  await quota();
  await rename(page, "Wetherlaw at dawn");
  await expect(told).toHaveCount(0);
  await expect.poll(() => keptTitles(page)).toEqual(["Wetherlaw at dawn"]);
  expect(faults).toEqual([]);
});
