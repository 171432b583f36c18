/** With fingers on a tablet: paper moved and magnified by two, track chosen by one, a drag taken away by the system. */
import { type CDPSession, expect, type Page, test } from "@playwright/test";
import type { ScreenPoint } from "../../src/drafting/viewport.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { handlesOf } from "../../src/layout/relay/handles.js";
import { readPlan } from "../../src/plan/read.js";
import { openPage, sampleText, saveCopy } from "./support/desk.js";
import { sheetHand } from "./support/sheet-hand.js";

test.use({ hasTouch: true, viewport: { width: 1180, height: 820 } });

/** Points of no touch lift every finger. */
const touch = (device: CDPSession, type: "touchStart" | "touchMove" | "touchEnd" | "touchCancel", at: ScreenPoint[]) =>
  device.send("Input.dispatchTouchEvent", { type, touchPoints: at.map(({ x, y }, id) => ({ x, y, id })) });

const chosen = (page: Page) => page.getByRole("region", { name: /^(Track|Curve|Straight|Plan|Bench)/ });

test("two fingers move and magnify, one chooses, a cancelled drag leaves no trace", async ({ page }) => {
  await openPage(page);
  const device = await page.context().newCDPSession(page);
  const read = readPlan(sampleText, "sample");
  if (!read.ok) throw new Error("the sample cannot be read");
  const end = handlesOf(deriveLayout(read.plan), "climb", { arm: 0 }).find(
    ({ kind, leg }) => kind === "length" && leg === 2,
  );
  if (!end) throw new Error("the climb has no straight");
  const hand = await sheetHand(page, read.plan);
  const tap = async (at: ScreenPoint): Promise<void> => {
    await touch(device, "touchStart", [at]);
    await touch(device, "touchEnd", []);
  };
  const by = ({ x, y }: ScreenPoint, dx: number, dy: number): ScreenPoint => ({ x: x + dx, y: y + dy });
  const about = page.locator(".details .about");

  // On the straight of the climb into the peninsula, with nothing beside it.
  const climb = hand.at(1800, 2785);
  await tap(climb);
  await expect(about).toContainText("Wetherlaw climb");

  // Bare floor lets go of it again.
  const floor = hand.at(3000, 1300);
  await tap(floor);
  await expect(chosen(page)).not.toContainText("Wetherlaw climb");

  // Both fingers go the same way: the climb is found where they took it.
  const a = hand.at(2500, 2000);
  const b = hand.at(4000, 2000);
  await touch(device, "touchStart", [a, b]);
  for (const part of [0.25, 0.5, 0.75, 1]) {
    await touch(device, "touchMove", [by(a, 30 * part, -120 * part), by(b, 30 * part, -120 * part)]);
  }
  await touch(device, "touchEnd", []);
  await tap(climb);
  await expect(about).not.toContainText("Wetherlaw climb");
  await tap(by(climb, 30, -120));
  await expect(about).toContainText("Wetherlaw climb");
  await tap(by(floor, 30, -120));
  await expect(about).not.toContainText("Wetherlaw climb");

  // And apart: twice as far from their middle as before.
  await page.getByRole("application").press("Home");
  const middle = hand.at(2200, 2785);
  await touch(device, "touchStart", [by(middle, -60, 0), by(middle, 60, 0)]);
  for (const apart of [75, 90, 105, 120]) {
    await touch(device, "touchMove", [by(middle, -apart, 0), by(middle, apart, 0)]);
  }
  await touch(device, "touchEnd", []);
  await tap({ x: middle.x + 2 * (climb.x - middle.x), y: climb.y });
  await expect(about).toContainText("Wetherlaw climb");

  // A handle of the chosen climb is dragged, and the system takes the finger away.
  await page.getByRole("application").press("Home");
  const handle = hand.at(end.at.x, end.at.y);
  await touch(device, "touchStart", [handle]);
  await touch(device, "touchMove", [by(handle, 20, 0)]);
  await touch(device, "touchMove", [by(handle, 40, 0)]);
  await expect(page.getByRole("button", { name: /^Undo:/ })).toBeVisible();
  await touch(device, "touchCancel", []);
  await expect(page.getByRole("button", { name: "Nothing to undo" })).toBeVisible();
  expect(await saveCopy(page)).toBe(sampleText);
});
