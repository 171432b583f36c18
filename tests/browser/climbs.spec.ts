/** Three climbs tried one after the other: each has its own grade, and all of them are taken back. */
import { expect, test } from "@playwright/test";
import { chooseObject, openPage, reading, sampleText, saveCopy, undoAll } from "./support/desk.js";

test("three heights of the climb's head give three grades", async ({ page }) => {
  await openPage(page);
  const climb = reading(page, "Climb, Lower to Upper");
  await expect(climb).toHaveText("2.34 %");
  await chooseObject(page, /^height pin.* on Summit line/);
  const height = page.getByRole("textbox", { name: "Height" });
  const seen = new Set(["2.34 %"]);
  for (const inches of ["54", "56", "57 1/2"]) {
    await height.fill(inches);
    await height.press("Enter");
    await expect.poll(async () => seen.has(await climb.innerText())).toBe(false);
    seen.add(await climb.innerText());
  }
  expect(seen.size).toBe(4);
  await undoAll(page);
  await expect(climb).toHaveText("2.34 %");
  expect(await saveCopy(page)).toBe(sampleText);
});
