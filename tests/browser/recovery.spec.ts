/** Work that was never saved: a tab is closed, and what was done is offered again. */
import { expect, type Page, test } from "@playwright/test";
import { chooseObject, openPage } from "./support/desk.js";

/** Titles the browser's storage keeps. */
const kept = (page: Page): Promise<string[]> =>
  page.evaluate(
    () =>
      new Promise<string[]>((resolve) => {
        const opening = indexedDB.open("ruling-grade");
        opening.onerror = () => resolve([]);
        opening.onsuccess = () => {
          const db = opening.result;
          if (!db.objectStoreNames.contains("plans")) return resolve([]);
          const all = db.transaction("plans").objectStore("plans").getAll();
          all.onsuccess = () => {
            db.close();
            resolve(all.result.map((one: { title: string }) => one.title));
          };
        };
      }),
  );

test("a tab closed with unsaved work is offered again", async ({ page, context }) => {
  await openPage(page);
  const title = page.getByRole("textbox", { name: "Title" });
  await title.fill("Wetherlaw by night");
  await title.press("Enter");
  await expect(page.getByRole("heading", { level: 1 })).toContainText("Wetherlaw by night, unsaved changes");
  await expect.poll(() => kept(page)).toContain("Wetherlaw by night");
  await page.close();

  const again = await context.newPage();
  await openPage(again);
  const offer = again.getByRole("status").filter({ hasText: "Continue where you left off" });
  await expect(offer).toContainText("Wetherlaw by night");
  await offer.getByRole("button", { name: "Continue" }).click();
  await expect(again.getByRole("heading", { level: 1 })).toContainText("Wetherlaw by night, unsaved changes");
  await chooseObject(again, /^branch Wetherlaw climb/);
});
