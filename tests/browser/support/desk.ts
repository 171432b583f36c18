/** What every story does at the desk: opens the page and plans, reads readings, undoes all, takes what is saved. */
import { readFileSync } from "node:fs";
import { expect, type Locator, type Page } from "@playwright/test";

export const SAMPLE = "sample-plans/larkmoor-and-summit.plan.json";
export const sampleText = readFileSync(SAMPLE, "utf8");

/** The page with the sample plan open and read. Files are downloaded, not written in place, so that a test gets them. */
export async function openPage(page: Page, address = "/"): Promise<void> {
  await page.addInitScript(() => {
    for (const picker of ["showSaveFilePicker", "showOpenFilePicker"]) {
      Object.defineProperty(globalThis, picker, { value: undefined });
    }
  });
  await page.goto(address);
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Larkmoor & Summit");
  await settled(page);
}

/** Readings are there and belong to what is drawn. */
export async function settled(page: Page): Promise<void> {
  const readings = page.getByRole("region", { name: "Readings" });
  await expect(readings.getByRole("row").first()).toBeAttached();
  await expect(readings).toHaveAttribute("aria-busy", "false");
}

/** The figure of one reading. */
export const reading = (page: Page, label: string): Locator =>
  page
    .getByRole("row")
    .filter({ has: page.getByRole("button", { name: label, exact: true }) })
    .getByRole("cell")
    .nth(1);

/** All figures of the readings, once they have settled. */
export async function figures(page: Page): Promise<string[]> {
  await settled(page);
  return page.getByRole("region", { name: "Readings" }).getByRole("row").allInnerTexts();
}

export async function fromMenu(page: Page, menu: string, item: string | RegExp): Promise<void> {
  await page.getByRole("button", { name: menu, exact: true }).click();
  await page.getByRole("menu", { name: menu }).getByRole("menuitem", { name: item }).click();
}

export async function openText(page: Page, name: string, text: string): Promise<void> {
  const chooser = page.waitForEvent("filechooser");
  await fromMenu(page, "File", /^Open/);
  await (await chooser).setFiles({ name, mimeType: "application/json", buffer: Buffer.from(text) });
}

/** What the page hands over when something in it saves a copy. */
export async function downloaded(page: Page, save: () => Promise<void>): Promise<string> {
  const waiting = page.waitForEvent("download");
  await save();
  return readFileSync(await (await waiting).path(), "utf8");
}

export const saveCopy = (page: Page): Promise<string> => downloaded(page, () => fromMenu(page, "File", /^Save a copy/));

const undoByButton = (page: Page): Promise<void> => page.getByRole("button", { name: /^Undo:/ }).click();

/** Takes back every step; tells how many there were. */
export async function undoAll(page: Page, undo: (page: Page) => Promise<void> = undoByButton): Promise<number> {
  const done = page.getByRole("button", { name: "Nothing to undo" });
  let steps = 0;
  while (!(await done.isVisible())) {
    if (steps > 100) throw new Error("there is no end of steps to undo");
    await undo(page);
    steps += 1;
  }
  return steps;
}

export const openStage = (page: Page, stage: string): Promise<void> =>
  page
    .getByRole("navigation", { name: "Stages of the work" })
    .getByRole("button", { name: stage, exact: true })
    .click();

export const takeTool = (page: Page, tool: string): Promise<void> =>
  page
    .getByRole("list", { name: /^Tools of/ })
    .getByRole("button", { name: tool, exact: true })
    .click();

/** Opens the list of objects, if it is not open, and chooses one. */
export async function chooseObject(page: Page, name: RegExp): Promise<void> {
  const list = page.getByRole("listbox", { name: "Objects of the plan" });
  if (!(await list.isVisible())) await page.getByText(/^Objects/).click();
  await list.getByRole("option", { name }).click();
}

/** Goes on with the Tab key until something has the focus. */
export async function tabTo(page: Page, target: Locator, key = "Tab"): Promise<void> {
  const here = (): Promise<boolean> => target.evaluate((element) => element === document.activeElement);
  for (let i = 0; !(await here()); i++) {
    if (i > 250) throw new Error("the focus never came there");
    await page.keyboard.press(key);
  }
}
