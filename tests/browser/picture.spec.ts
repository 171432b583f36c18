/** A picture under the sheet: chosen, brought to scale by two of its points, brought back with the page, taken away. */
import { expect, type Page, test } from "@playwright/test";
import { placeUnderlay, scaleUnderlay, underlayPoint } from "../../src/drafting/underlay.js";
import type { Point } from "../../src/geometry/pose.js";
import { roomBox } from "../../src/editor/room-box.js";
import { readPlan } from "../../src/plan/read.js";
import { openPage, openStage, sampleText, saveCopy, takeTool } from "./support/desk.js";
import { type SheetHand, sheetHand } from "./support/sheet-hand.js";

const WIDE = 400;
const HIGH = 300;

/** A sheet of plain red, as the browser makes one. */
async function redPicture(page: Page): Promise<Buffer> {
  const url = await page.evaluate(
    ([width, height]) => {
      const canvas = Object.assign(document.createElement("canvas"), { width, height });
      const ink = canvas.getContext("2d");
      if (ink) ink.fillStyle = "#f00";
      ink?.fillRect(0, 0, width, height);
      return canvas.toDataURL("image/png");
    },
    [WIDE, HIGH] as const,
  );
  return Buffer.from(url.slice(url.indexOf(",") + 1), "base64");
}

/** How much redder than green the ground is painted there, 0 to 255. */
const redAt = (page: Page, hand: SheetHand, { x, y }: Point): Promise<number> =>
  page.evaluate(
    ({ x: left, y: top }) => {
      const ground = document.querySelector<HTMLCanvasElement>(".konvajs-content canvas");
      const box = ground?.getBoundingClientRect();
      if (!ground || !box) return Number.NaN;
      const dense = ground.width / box.width;
      const [red = 0, green = 0] =
        ground.getContext("2d")?.getImageData((left - box.left) * dense, (top - box.top) * dense, 1, 1).data ?? [];
      return red - green;
    },
    hand.at(x, y),
  );

test("a picture lies under the sheet, to scale", async ({ page }) => {
  const read = readPlan(sampleText, "sample");
  if (!read.ok) throw new Error("the sample cannot be read");
  await page.setViewportSize({ width: 1440, height: 900 });
  await openPage(page);
  const picture = await redPicture(page);
  await openStage(page, "Survey");
  await takeTool(page, "Picture");
  const panel = page.getByRole("region", { name: "Picture under the sheet" });
  const hand = await sheetHand(page, read.plan);
  const laid = placeUnderlay(WIDE, HIGH, roomBox(read.plan));
  // A corner of the picture: in it as it is laid, and no longer when it is half as large about its middle.
  const corner = underlayPoint(laid, { x: 30, y: 30 });
  const [a, b] = [underlayPoint(laid, { x: 200, y: 150 }), underlayPoint(laid, { x: 300, y: 150 })];
  const half = scaleUnderlay(laid, a, b, 50 * laid.scale);
  if (!half) throw new Error("it cannot be so small");
  const inner = underlayPoint(half, { x: 300, y: 200 });

  expect(await redAt(page, hand, corner)).toBeLessThan(30);
  await panel
    .getByLabel("Choose a picture")
    .setInputFiles({ name: "sketch.png", mimeType: "image/png", buffer: picture });
  await expect.poll(() => redAt(page, hand, corner)).toBeGreaterThan(60);

  await hand.click(a.x, a.y);
  await hand.click(b.x, b.y);
  await page.keyboard.type(`${50 * laid.scale} mm`);
  await page.keyboard.press("Enter");
  await expect.poll(() => redAt(page, hand, corner)).toBeLessThan(30);
  expect(await redAt(page, hand, inner)).toBeGreaterThan(60);

  // It is kept with the browser, not in the file, and comes back with the plan.
  expect(await saveCopy(page)).toBe(sampleText);
  await expect
    .poll(() =>
      page.evaluate(
        () =>
          new Promise<number>((resolve) => {
            const opening = indexedDB.open("ruling-grade-pictures");
            opening.onsuccess = () => {
              const all = opening.result.transaction("underlays").objectStore("underlays").getAll();
              all.onsuccess = () => {
                opening.result.close();
                const [kept] = all.result as readonly { readonly placement: { readonly scale: number } }[];
                resolve(kept?.placement.scale ?? 0);
              };
            };
          }),
      ),
    )
    .toBeCloseTo(half.scale, 0);
  await openPage(page);
  const again = await sheetHand(page, read.plan);
  await expect.poll(() => redAt(page, again, inner)).toBeGreaterThan(60);
  expect(await redAt(page, again, corner)).toBeLessThan(30);

  await openStage(page, "Survey");
  await takeTool(page, "Picture");
  await panel.getByRole("button", { name: "Take it away" }).click();
  await expect.poll(() => redAt(page, again, inner)).toBeLessThan(30);
  await expect(panel.getByLabel("Choose a picture")).toBeAttached();
});
