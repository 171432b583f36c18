/** Height pins in the hand: along the track on the sheet, up and along in the profile; grades follow at once. */
import { expect, test } from "@playwright/test";
import { poseAt } from "../../src/geometry/path.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { readPlan } from "../../src/plan/read.js";
import { openPage, openStage, reading, sampleText, saveCopy, settled, takeTool, undoAll } from "./support/desk.js";
import { sheetHand } from "./support/sheet-hand.js";

interface Pin {
  readonly at: number;
  readonly deck?: string;
  readonly height?: number;
}
const pinsIn = (text: string): Record<string, Pin | undefined> =>
  (JSON.parse(text) as { readonly pins: Record<string, Pin> }).pins;

test("a pin dragged on the sheet, and one in the profile", async ({ page }) => {
  const read = readPlan(sampleText, "sample");
  if (!read.ok) throw new Error("the sample cannot be read");
  const line = deriveLayout(read.plan).lines.get("track:climb");
  const foot = read.plan.pins["climb-foot"];
  if (!line || !foot) throw new Error("the climb has no foot");
  await page.setViewportSize({ width: 1440, height: 900 });
  await openPage(page);
  const climb = reading(page, "Climb, Lower to Upper");
  await expect(climb).toHaveText("2.34 %");

  // On the sheet: nearer to the spiral, so that less way is left to climb.
  await openStage(page, "Grade");
  await takeTool(page, "Pin height");
  const hand = await sheetHand(page, read.plan);
  const [from, to] = [poseAt(line.path, foot.at), poseAt(line.path, foot.at + 800)];
  await hand.move(from.x, from.y);
  await page.mouse.down();
  await hand.move(to.x, to.y);
  // Seen in the readings while the hand is still down.
  await expect(climb).not.toHaveText("2.34 %");
  await page.mouse.up();
  const moved = pinsIn(await saveCopy(page))["climb-foot"];
  expect(Math.abs((moved?.at ?? 0) - foot.at - 800)).toBeLessThan(30);
  expect(moved?.deck).toBe("lower");
  await settled(page);
  const steeper = await climb.innerText();

  // In the profile, along the track: it still holds the deck.
  const pin = page.getByRole("slider", { name: /^Height pin on Summit line/ });
  const drag = async (dx: number, dy: number): Promise<void> => {
    const box = await pin.locator("circle.pin-ring").boundingBox();
    if (!box) throw new Error("the pin is not to be seen");
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + dx, y + dy, { steps: 5 });
    await page.mouse.up();
  };
  await drag(40, 0);
  await expect(climb).not.toHaveText(steeper);
  const along = pinsIn(await saveCopy(page))["climb-head"];
  expect(along?.deck).toBe("upper");
  expect(along?.at).toBeGreaterThan(1200);
  await settled(page);
  const gentler = await climb.innerText();

  // Pulled down it leaves the deck and holds a height of its own: less is to be climbed.
  await drag(0, 24);
  await expect(climb).not.toHaveText(gentler);
  const lowered = pinsIn(await saveCopy(page))["climb-head"];
  expect(lowered?.deck).toBeUndefined();
  expect(lowered?.height).toBeLessThan(1380);
  expect(lowered?.at).toBe(along?.at);

  expect(await undoAll(page)).toBe(3);
  await expect(climb).toHaveText("2.34 %");
  expect(await saveCopy(page)).toBe(sampleText);
});
