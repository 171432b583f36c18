/** Plans and their versions kept in the browser: the shelf, versions looked at and brought back, one plan in two tabs. */
import AxeBuilder from "@axe-core/playwright";
import { expect, type Page, test } from "@playwright/test";
import { fromMenu, openPage } from "./support/desk.js";
import { keptTitles } from "./support/kept-work.js";

async function rename(page: Page, to: string): Promise<void> {
  const title = page.getByRole("textbox", { name: "Title" });
  await title.fill(to);
  await title.press("Enter");
  await expect(page.getByRole("heading", { level: 1 })).toContainText(`${to}, unsaved changes`);
}

const versions = (page: Page) => page.getByRole("region", { name: "Versions" });
const shelf = (page: Page) => page.getByRole("region", { name: "Plans kept here" });

async function expectReadable(page: Page, within: string): Promise<void> {
  const found = await new AxeBuilder({ page }).include(within).analyze();
  expect(found.violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" ")}`)).toEqual([]);
}

test("versions are kept, looked at, compared, and brought back as one step", async ({ page }) => {
  await openPage(page);
  await rename(page, "Wetherlaw at dusk");
  await fromMenu(page, "File", /^Keep a version/);
  const name = versions(page).getByRole("textbox", { name: "Keep this one as" });
  await expect(name).toBeFocused();
  await name.fill("Before the helix");
  await name.press("Enter");
  const kept = versions(page).getByRole("listitem").filter({ hasText: "Before the helix" });
  await expect(kept).toHaveCount(1);
  await expect(versions(page).getByRole("listitem")).toHaveCount(2);
  await versions(page).getByRole("button", { name: "Close" }).click();
  await rename(page, "Wetherlaw by night");

  await fromMenu(page, "File", /^Versions/);
  await kept.getByRole("button", { name: "Compare" }).click();
  await expect(kept).toContainText("title");
  await kept.getByRole("button", { name: "Look at it" }).click();
  const looking = page.getByRole("status").filter({ hasText: "You look at" });
  await expect(looking).toContainText("Before the helix");
  for (const theme of ["light", "dark"]) {
    await expectReadable(page, ".versions");
    if (theme === "light") await page.getByRole("button", { name: "Night" }).click();
  }
  await looking.getByRole("button", { name: "Back to the present" }).click();
  await expect(looking).toHaveCount(0);
  await expect(page.getByRole("heading", { level: 1 })).toContainText("Wetherlaw by night");
  await kept.getByRole("button", { name: "Bring it back" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toContainText("Wetherlaw at dusk");
  await page.getByRole("button", { name: "Undo: bring back a version" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toContainText("Wetherlaw by night");
  await expect.poll(() => keptTitles(page)).toEqual(["Wetherlaw by night"]);
});

test("plans on the shelf are seen, duplicated, thrown away after a question, and opened", async ({ page }) => {
  await openPage(page);
  await rename(page, "Wetherlaw by night");
  await fromMenu(page, "File", /^Keep a version/);
  await versions(page).getByRole("button", { name: "Keep it" }).click();
  await expect(page.getByText("This version is kept.")).toBeVisible();
  await versions(page).getByRole("button", { name: "Close" }).click();
  await fromMenu(page, "File", /^First shelf/);
  await expect(page.getByRole("heading", { level: 1 })).not.toContainText("Wetherlaw");

  await fromMenu(page, "File", /^Plans kept here/);
  const plans = shelf(page).getByRole("listitem");
  await expect(plans).toHaveCount(1);
  await expect(plans.locator(".thumbnail .tracks")).toHaveAttribute("d", /^M[\d.]+ [\d.]+L/);
  await plans.getByRole("button", { name: "Duplicate Wetherlaw by night" }).click();
  await expect(plans).toHaveCount(2);
  await expectReadable(page, ".shelf");
  await page.keyboard.press("Escape");
  await page.getByRole("button", { name: "Night" }).click();
  await fromMenu(page, "File", /^Plans kept here/);
  await expect(plans).toHaveCount(2);
  await expectReadable(page, ".shelf");
  const copy = shelf(page).getByRole("listitem", { name: "Wetherlaw by night, copy" });
  await copy.getByRole("button", { name: "Throw Wetherlaw by night, copy away" }).click();
  await copy.getByRole("button", { name: "Keep", exact: true }).click();
  await copy.getByRole("button", { name: "Throw Wetherlaw by night, copy away" }).click();
  await copy.getByRole("button", { name: "Throw away", exact: true }).click();
  await expect(plans).toHaveCount(1);
  await plans.getByRole("button", { name: "Open Wetherlaw by night" }).click();
  await expect(shelf(page)).toHaveCount(0);
  await expect(page.getByRole("heading", { level: 1 })).toContainText("Wetherlaw by night, unsaved changes");
});

test("of two tabs the second reads, takes over with all that was done, and the first steps back", async ({
  page,
  context,
}) => {
  await openPage(page);
  await rename(page, "Wetherlaw at dusk");
  await expect.poll(() => keptTitles(page)).toEqual(["Wetherlaw at dusk"]);

  const second = await context.newPage();
  await openPage(second);
  await fromMenu(second, "File", /^Plans kept here/);
  await shelf(second).getByRole("button", { name: "Open Wetherlaw at dusk" }).click();
  const reads = second.getByRole("alert").filter({ hasText: "Another tab works on this plan" });
  await expect(reads).toHaveCount(1);
  const title = second.getByRole("textbox", { name: "Title" });
  await title.fill("Nothing comes of this");
  await title.press("Enter");
  await expect(second.getByRole("heading", { level: 1 })).toContainText("Wetherlaw at dusk");

  // Done in the first and taken at once.
  await rename(page, "Wetherlaw by night");
  await reads.getByRole("button", { name: "Work here" }).click();
  await expect(reads).toHaveCount(0);
  await expect(second.getByRole("heading", { level: 1 })).toContainText("Wetherlaw by night, unsaved changes");
  await rename(second, "Wetherlaw at dawn");
  await expect.poll(() => keptTitles(second)).toEqual(["Wetherlaw at dawn"]);

  const back = page.getByRole("alert").filter({ hasText: "You work on this plan in another tab now" });
  await expect(back).toHaveCount(1);
  await back.getByRole("button", { name: "Work here" }).click();
  await expect(page.getByRole("heading", { level: 1 })).toContainText("Wetherlaw at dawn, unsaved changes");
  await expect(second.getByRole("alert").filter({ hasText: "in another tab now" })).toHaveCount(1);
});
