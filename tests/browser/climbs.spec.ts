/** Climbs tried one after the other, by height, by radius and in the profile: each has its own grade; all are taken back. */
import { expect, type Locator, test } from "@playwright/test";
import { chooseObject, openPage, reading, sampleText, saveCopy, undoAll } from "./support/desk.js";

/** Does each deed and gathers the figures that follow from it; every one is another. */
async function grades(climb: Locator, deeds: readonly (() => Promise<void>)[]): Promise<Set<string>> {
  const seen = new Set([await climb.innerText()]);
  for (const deed of deeds) {
    await deed();
    await expect.poll(async () => seen.has(await climb.innerText())).toBe(false);
    seen.add(await climb.innerText());
  }
  return seen;
}

test("three heights of the climb's head give three grades", async ({ page }) => {
  await openPage(page);
  const climb = reading(page, "Climb, Lower to Upper");
  await expect(climb).toHaveText("2.34 %");
  await chooseObject(page, /^height pin.* on Summit line/);
  const height = page.getByRole("textbox", { name: "Height" });
  const fill = (inches: string) => async (): Promise<void> => {
    await height.fill(inches);
    await height.press("Enter");
  };
  expect((await grades(climb, ["54", "56", "57 1/2"].map(fill))).size).toBe(4);
  await undoAll(page);
  await expect(climb).toHaveText("2.34 %");
  expect(await saveCopy(page)).toBe(sampleText);
});

test("a wider spiral climbs more gently, and the profile shows it", async ({ page }) => {
  await openPage(page);
  const climb = reading(page, "Climb, Lower to Upper");
  await expect(climb).toHaveText("2.34 %");
  const ruling = page.getByRole("region", { name: "Profile" }).locator("b");
  const before = await ruling.innerText();
  await chooseObject(page, /^branch Wetherlaw climb/);
  const spiral = page.getByRole("textbox", { name: "Radius" }).nth(2);
  await expect(spiral).toHaveValue(/^30/);
  const widen = (inches: string) => async (): Promise<void> => {
    await spiral.fill(inches);
    await spiral.press("Enter");
  };
  const seen = await grades(climb, ["31", "32", "33 1/2"].map(widen));
  const figures = [...seen].map((text) => Number.parseFloat(text));
  expect(figures).toEqual([...figures].sort((a, b) => b - a));
  await expect(ruling).not.toHaveText(before);

  // Typed over the pin in the profile.
  await page.getByRole("slider", { name: /^Height pin on Summit line/ }).press("Enter");
  const entry = page.getByRole("textbox", { name: /^Height of the railhead/ });
  const last = await climb.innerText();
  await entry.fill("54");
  await entry.press("Enter");
  await expect(climb).not.toHaveText(last);

  expect(await undoAll(page)).toBe(4);
  await expect(climb).toHaveText("2.34 %");
  await expect(ruling).toHaveText(before);
  expect(await saveCopy(page)).toBe(sampleText);
});
