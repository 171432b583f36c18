/** Work that was never saved: a tab is closed, and what was done is offered again. */
import { expect, test } from "@playwright/test";
import { chooseObject, openPage } from "./support/desk.js";
import { keptTitles } from "./support/kept-work.js";

test("a tab closed with unsaved work is offered again", async ({ page, context }) => {
  await openPage(page);
  const title = page.getByRole("textbox", { name: "Title" });
  await title.fill("Wetherlaw by night");
  await title.press("Enter");
  await expect(page.getByRole("heading", { level: 1 })).toContainText("Wetherlaw by night, unsaved changes");
  await expect.poll(() => keptTitles(page)).toContain("Wetherlaw by night");
  await page.close();

  const again = await context.newPage();
  await openPage(again);
  const offer = again.getByRole("status").filter({ hasText: "Continue where you left off" });
  await expect(offer).toContainText("Wetherlaw by night");
  await offer.getByRole("button", { name: "Continue" }).click();
  await expect(again.getByRole("heading", { level: 1 })).toContainText("Wetherlaw by night, unsaved changes");
  await chooseObject(again, /^branch Wetherlaw climb/);
});
