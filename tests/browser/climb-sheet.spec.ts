/** The climb sheet: opened from the Grade stage and from the menu, reckoned in either unit, taken from its tables, saved. */
import AxeBuilder from "@axe-core/playwright";
import { expect, test } from "@playwright/test";
import { downloaded, fromMenu, openPage, openStage, tabTo } from "./support/desk.js";

test("a climb is reckoned while it is typed, in either unit, and its picture saved", async ({ page }) => {
  await openPage(page);
  await openStage(page, "Grade");
  const opener = page.getByRole("button", { name: "Climb sheet", exact: true });
  await opener.click();
  const sheet = page.getByRole("region", { name: "Climb sheet" });
  const rise = sheet.getByRole("textbox", { name: "Rise" });
  await expect(rise).toBeFocused();
  // The sample's decks are 14 in apart, its main has 30 in and may climb 2 % there.
  await expect(rise).toHaveValue("14″");
  await expect(sheet.getByRole("textbox", { name: "Radius" })).toHaveValue("30″");
  const row = (name: string) =>
    sheet.getByRole("row").filter({ has: page.getByRole("rowheader", { name, exact: true }) });
  // 14 in at 2 % are 700 in, and 24 in of vertical curve: 60 ft 4 in.
  await expect(row("Run, level to level")).toContainText("60′ 4″");
  await expect(row("Clear at its ends, where it is least")).toContainText("Fails");

  await rise.fill("16 1/2");
  await expect(row("Run, level to level")).toContainText("70′ 9″");
  await rise.press("ArrowUp");
  await expect(rise).toHaveValue("17″");
  await rise.fill("high");
  await expect(sheet.getByRole("alert")).toBeVisible();
  await expect(row("Run, level to level")).toContainText("72′ 10″");
  await rise.press("Escape");
  await expect(rise).toHaveValue("17″");
  await expect(sheet.getByRole("alert")).toHaveCount(0);

  await page.getByRole("radio", { name: "Millimetres" }).check({ force: true });
  await expect(rise).toHaveValue("431.8 mm");
  await sheet.getByRole("button", { name: "Take a grade of 2.5 %" }).click();
  await expect(sheet.getByRole("textbox", { name: "Grade" })).toHaveValue("2.5 %");
  await expect(row("Grade felt")).toContainText("Fails");
  await sheet.getByLabel("Limits").selectOption({ label: "N 1:160, NEM" });
  await expect(sheet.getByRole("textbox", { name: "Radius" })).toHaveValue("405 mm");
  await expect(rise).toHaveValue("431.8 mm");

  const picture = sheet.getByRole("img");
  await expect(picture).toHaveAccessibleName(/^A helix of \d+\.\d turns cut through its axis, 810 mm across/);
  await expect(picture).toContainText("track ⌀ 810 mm");
  const saved = await downloaded(page, () => sheet.getByRole("button", { name: "Save picture" }).click());
  expect(saved).toMatch(/^<svg [^>]*width="190mm"/);

  for (const theme of ["light", "dark"]) {
    const { violations } = await new AxeBuilder({ page }).include(".climb-sheet").analyze();
    expect([theme, violations.filter(({ impact }) => impact === "serious" || impact === "critical")]).toEqual([
      theme,
      [],
    ]);
    await page.getByRole("button", { name: "Night" }).click();
  }

  await tabTo(page, rise, "Shift+Tab");
  await page.keyboard.press("Escape");
  await expect(sheet).toHaveCount(0);
  await expect(page.getByRole("button", { name: "Nothing to undo" })).toBeVisible();

  // What was reckoned is still there.
  await fromMenu(page, "File", "Climb sheet…");
  await expect(rise).toHaveValue("431.8 mm");
  await sheet.getByRole("button", { name: "Back to the sheet" }).click();
  await expect(sheet).toHaveCount(0);
});
