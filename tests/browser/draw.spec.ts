/** With the mouse, from an empty sheet: a room, a shelf, a main with a curve, a turnout and its spur; saved, opened. */
import { expect, test } from "@playwright/test";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import { readPlan } from "../../src/plan/read.js";
import { scalesOf } from "../../src/standards/scales.js";
import { fromMenu, openPage, openStage, openText, reading, saveCopy, settled, takeTool } from "./support/desk.js";
import { sheetHand } from "./support/sheet-hand.js";

test("a first plan by mouse: drawn, read, saved, opened again", async ({ page }) => {
  await openPage(page);
  await fromMenu(page, "File", /^New plan/);
  const slip = page.getByRole("form", { name: "New plan" });
  await slip.getByLabel("Title").fill("Tansy Loft");
  await slip.getByLabel("Units").selectOption({ label: "millimetres" });
  await slip.getByLabel("Room").fill("4200");
  await slip.getByLabel("by", { exact: true }).fill("3 m");
  await slip.getByLabel("Scale").selectOption("NMRA HO");
  await slip.getByRole("button", { name: "Make it" }).click();
  const title = page.getByRole("heading", { level: 1 });
  await expect(title).toHaveText("Tansy Loft");
  await expect(page.getByText(/^Draw the walls, or type/)).toBeVisible();

  const scale = scalesOf("NMRA").find(({ name }) => name === "HO");
  if (!scale) throw new Error("there is no HO");
  const room = emptyPlan({ title: "", width: 4200, depth: 3000, scale, units: "metric" });
  const hand = await sheetHand(page, room);

  // A door, clicked into the lower wall, so wide as typed.
  await takeTool(page, "Door");
  await hand.click(3200, 0);
  await hand.move(3900, 0);
  await page.keyboard.type("800");
  await page.keyboard.press("Enter");
  await expect(title).toContainText("unsaved changes");
  await expect(page).toHaveTitle("• Tansy Loft · Ruling Grade");
  await page.keyboard.press("Escape");

  // A shelf along the upper and the right wall, round their corner.
  await openStage(page, "Frame");
  await takeTool(page, "Shelf");
  await hand.click(200, 3000);
  await hand.move(2000, 3000);
  await hand.move(4200, 2950);
  await hand.click(4200, 900);
  await page.keyboard.type("500");
  await page.keyboard.press("Enter");
  await expect(page.getByText(/^Draw a shelf along a wall/)).toHaveCount(0);

  // The main: a typed straight, then a typed radius, angle and length, then by the click.
  await openStage(page, "Lay");
  await takeTool(page, "Line");
  await hand.click(500, 2700);
  await hand.move(2000, 2700);
  await page.keyboard.type("2350");
  await page.keyboard.press("Enter");
  await hand.move(3900, 1800);
  for (const key of ["Tab", ..."762", "Tab", ..."90", "Tab", ..."400", "Enter"]) await page.keyboard.press(key);
  await page.keyboard.press("Enter");
  await expect(page.getByRole("button", { name: "Undo: add track" })).toBeVisible();
  await settled(page);
  await expect(reading(page, "Least radius, main")).toHaveText(/^762/);

  // A turnout dropped on it, and a spur from the turnout.
  await takeTool(page, "Turnout");
  await hand.click(1100, 2705);
  await page.keyboard.press("Enter");
  await page.getByRole("combobox", { name: "Class" }).selectOption({ label: "Spur" });
  await hand.move(2000, 2640);
  await page.keyboard.type("600");
  await page.keyboard.press("Enter");
  await page.keyboard.press("Enter");
  await expect(page.getByText("Track, spur")).toBeVisible();

  const text = await saveCopy(page);
  await expect(title).toHaveText("Tansy Loft");
  const read = readPlan(text, "copy");
  if (!read.ok) throw new Error("the copy cannot be read");
  const { tracks, turnouts, benches, room: walls } = read.plan;
  expect(Object.values(walls.openings)).toEqual([expect.objectContaining({ kind: "door", width: 800 })]);
  expect(Object.values(benches)).toEqual([
    expect.objectContaining({ shape: { shelf: expect.objectContaining({ depth: 500 }) } }),
  ]);
  expect(Object.values(turnouts)).toHaveLength(1);
  expect(Object.values(tracks).map((track) => [track.class, track.legs.length])).toEqual([
    ["main", 3],
    ["spur", expect.any(Number)],
  ]);
  const main = Object.values(tracks)[0];
  expect(main?.legs).toEqual([
    { straight: 2350 },
    { curve: { radius: 762, angle: 90, hand: "right" } },
    { straight: 400 },
  ]);

  await fromMenu(page, "File", /^New plan/);
  await page.getByRole("button", { name: "Make it" }).click();
  await expect(title).toHaveText("Untitled plan");
  await openText(page, "copy.plan.json", text);
  await expect(title).toHaveText("Tansy Loft");
  expect(await saveCopy(page)).toBe(text);
});
