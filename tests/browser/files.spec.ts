/** Files saved straight to where they were opened from, through the browser's own file handles. */
import { expect, type Page, test } from "@playwright/test";
import { fromMenu, sampleText } from "./support/desk.js";

/**
 * The pickers themselves belong to the system and cannot be driven. These answer with real files of the browser's own
 * private folder: opening, writing and the time of the last change are then the browser's.
 */
const withPickers = (page: Page): Promise<unknown> =>
  page.addInitScript(() => {
    const answers = {
      async showOpenFilePicker() {
        const folder = await navigator.storage.getDirectory();
        return [await folder.getFileHandle("attic.plan.json")];
      },
      async showSaveFilePicker() {
        if (document.documentElement.dataset["test"] === "give up") throw new DOMException("closed", "AbortError");
        const folder = await navigator.storage.getDirectory();
        return folder.getFileHandle("copy.plan.json", { create: true });
      },
    };
    for (const [name, value] of Object.entries(answers)) Object.defineProperty(globalThis, name, { value });
  });

const write = (page: Page, file: string, text: string): Promise<void> =>
  page.evaluate(
    async ([name, content]) => {
      const folder = await navigator.storage.getDirectory();
      const stream = await (await folder.getFileHandle(name, { create: true })).createWritable();
      await stream.write(content);
      await stream.close();
    },
    [file, text] as const,
  );

const fileText = (page: Page, file: string): Promise<string> =>
  page.evaluate(async (name) => {
    const folder = await navigator.storage.getDirectory();
    return (await (await folder.getFileHandle(name)).getFile()).text();
  }, file);

async function rename(page: Page, to: string): Promise<void> {
  const title = page.getByRole("textbox", { name: "Title" });
  await title.fill(to);
  await title.press("Enter");
  await expect(page.getByRole("heading", { level: 1 })).toContainText(`${to}, unsaved changes`);
}

const titled = (title: string): string => sampleText.replace('"title": "Larkmoor & Summit"', `"title": "${title}"`);

test("saved straight to the opened file, and not over what somebody else wrote", async ({ page }) => {
  await withPickers(page);
  await page.goto("/");
  const title = page.getByRole("heading", { level: 1 });
  await expect(title).toHaveText("Larkmoor & Summit");
  await write(page, "attic.plan.json", titled("Attic"));
  await fromMenu(page, "File", /^Open/);
  await expect(title).toHaveText("Attic");

  await rename(page, "Attic by night");
  await page.keyboard.press("Control+s");
  await expect(title).toHaveText("Attic by night");
  await expect(page.getByText("Saved to attic.plan.json.")).toBeVisible();
  expect(await fileText(page, "attic.plan.json")).toBe(titled("Attic by night"));

  // Changed by something else meanwhile: asked first.
  await write(page, "attic.plan.json", titled("Attic of a friend"));
  await rename(page, "Attic at dawn");
  await page.keyboard.press("Control+s");
  const asked = page.getByRole("alert").filter({ hasText: "was changed by something else" });
  await expect(asked).toHaveCount(1);
  expect(await fileText(page, "attic.plan.json")).toBe(titled("Attic of a friend"));
  await asked.getByRole("button", { name: "Save over it" }).click();
  await expect(asked).toHaveCount(0);
  await expect(title).toHaveText("Attic at dawn");
  expect(await fileText(page, "attic.plan.json")).toBe(titled("Attic at dawn"));

  // A chooser closed saves nothing; a copy is from then on the file.
  await rename(page, "Attic in spring");
  const giveUp = (given: boolean) =>
    page.evaluate((up) => {
      document.documentElement.dataset["test"] = up ? "give up" : "";
    }, given);
  await giveUp(true);
  await fromMenu(page, "File", /^Save a copy/);
  await expect(title).toContainText("unsaved changes");
  await giveUp(false);
  await fromMenu(page, "File", /^Save a copy/);
  await expect(title).toHaveText("Attic in spring");
  expect(await fileText(page, "copy.plan.json")).toBe(titled("Attic in spring"));
  await rename(page, "Attic in autumn");
  await page.keyboard.press("Control+s");
  await expect(title).toHaveText("Attic in autumn");
  expect(await fileText(page, "copy.plan.json")).toBe(titled("Attic in autumn"));
  expect(await fileText(page, "attic.plan.json")).toBe(titled("Attic at dawn"));
});

test("a file that cannot be written is told, and nothing is taken for saved", async ({ page }) => {
  await withPickers(page);
  await page.goto("/");
  const title = page.getByRole("heading", { level: 1 });
  await expect(title).toHaveText("Larkmoor & Summit");
  await write(page, "attic.plan.json", titled("Attic"));
  await fromMenu(page, "File", /^Open/);
  await expect(title).toHaveText("Attic");
  await page.evaluate(() => {
    FileSystemFileHandle.prototype.createWritable = () =>
      Promise.reject(new DOMException("the disk is full", "QuotaExceededError"));
  });
  await rename(page, "Attic by night");
  await page.keyboard.press("Control+s");
  await expect(page.getByText("Not saved: the disk is full. Save a copy instead.")).toBeVisible();
  await expect(title).toContainText("unsaved changes");
  await fromMenu(page, "File", /^Save a copy/);
  await expect(page.getByText("Not saved: the disk is full.", { exact: true })).toBeVisible();
  await expect(title).toContainText("unsaved changes");
  expect(await fileText(page, "attic.plan.json")).toBe(titled("Attic"));
});
