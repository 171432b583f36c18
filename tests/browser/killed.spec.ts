/** The browser is killed in the middle of work and started again: all but the last moment is offered, whole. */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, type Page, test } from "@playwright/test";
import { deriveLayout } from "../../src/layout/derive.js";
import { handlesOf } from "../../src/layout/relay/handles.js";
import { readPlan } from "../../src/plan/read.js";
import { chooseObject, openPage, sampleText, saveCopy } from "./support/desk.js";
import { keptTitles } from "./support/kept-work.js";
import { startOwnBrowser } from "./support/own-browser.js";
import { sheetHand } from "./support/sheet-hand.js";

let profile: string;
test.beforeEach(async () => {
  profile = await mkdtemp(join(tmpdir(), "ruling-grade-profile-"));
});
test.afterEach(() => rm(profile, { recursive: true, force: true, maxRetries: 5 }));

async function rename(page: Page, to: string): Promise<void> {
  const title = page.getByRole("textbox", { name: "Title" });
  await title.fill(to);
  await title.press("Enter");
  await expect(page.getByRole("heading", { level: 1 })).toContainText(`${to}, unsaved changes`);
}

const titled = (title: string): string => sampleText.replace('"title": "Larkmoor & Summit"', `"title": "${title}"`);

test("a killed browser loses at most the last moment", async ({ baseURL, launchOptions }) => {
  const start = () => startOwnBrowser(profile, launchOptions.args ?? []);
  const read = readPlan(sampleText, "sample");
  if (!read.ok) throw new Error("the sample cannot be read");
  const handle = handlesOf(deriveLayout(read.plan), "outer", { arm: 0 }).find(
    ({ kind, leg }) => kind === "radius" && leg === 3,
  );
  if (!handle) throw new Error("the outer main has no such curve");

  const first = await start();
  try {
    await openPage(first.page, baseURL);
    for (const title of ["Wetherlaw at dusk", "Wetherlaw by night"]) {
      await rename(first.page, title);
      await expect.poll(() => keptTitles(first.page)).toEqual([title]);
    }
    // Done, but perhaps not yet kept; and a handle still in the hand.
    await rename(first.page, "Wetherlaw at dawn");
    await chooseObject(first.page, /^main Outer main/);
    const hand = await sheetHand(first.page, read.plan);
    await hand.move(handle.at.x, handle.at.y);
    await first.page.mouse.down();
    await hand.move(handle.at.x - 90, handle.at.y + 90);
  } finally {
    await first.kill();
  }

  const second = await start();
  try {
    const { page } = second;
    await openPage(page, baseURL);
    const offer = page.getByRole("status").filter({ hasText: "Continue where you left off" });
    await expect(offer).toHaveCount(1);
    await offer.getByRole("button", { name: "Continue" }).click();
    const heading = page.getByRole("heading", { level: 1 });
    await expect(heading).toContainText("Wetherlaw");
    await expect(heading).toContainText("unsaved changes");
    // Of the drag nothing stays: it was never done.
    expect([titled("Wetherlaw by night"), titled("Wetherlaw at dawn")]).toContain(await saveCopy(page));
  } finally {
    await second.kill();
  }
});
