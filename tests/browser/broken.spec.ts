/** Files that are not whole: what is wrong is told, what is whole is opened, and nothing of it is lost. */
import { expect, test } from "@playwright/test";
import { openPage, openText, sampleText, saveCopy } from "./support/desk.js";

test("a truncated file is told and opens nothing; a broken record is set aside, the rest opens", async ({ page }) => {
  await openPage(page);
  const title = page.getByRole("heading", { level: 1 });
  const report = page.getByRole("alert");
  await openText(page, "cut.plan.json", sampleText.slice(0, sampleText.length / 2));
  await expect(report).toContainText("cut.plan.json cannot be opened");
  await expect(title).toHaveText("Larkmoor & Summit");
  expect(await saveCopy(page)).toBe(sampleText);

  const plan = JSON.parse(sampleText) as { title: string; tracks: Record<string, unknown> };
  plan.title = "Half a plan";
  plan.tracks["lost"] = { class: "main", keepsake: "a word nobody else has" };
  await openText(page, "half.plan.json", JSON.stringify(plan));
  await expect(report).toContainText("Parts of half.plan.json could not be used; the rest is open");
  await expect(report).toContainText("tracks.lost");
  await expect(title).toContainText("Half a plan");
  const saved = await saveCopy(page);
  expect(saved).toContain("a word nobody else has");
  expect(Object.keys((JSON.parse(saved) as typeof plan).tracks)).toContain("outer");
  await report.getByRole("button", { name: "Close this message" }).click();
  await expect(report).toHaveCount(0);
});
