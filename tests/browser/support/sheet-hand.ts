/** A hand at the painted sheet: points in the plan's millimetres, while the whole room is in the window. */
import type { Page } from "@playwright/test";
import { fit, type ScreenPoint, toScreen } from "../../../src/drafting/viewport.js";
import { ROOM_MARGIN, roomBox } from "../../../src/editor/room-box.js";
import type { Plan } from "../../../src/plan/schema.js";

export interface SheetHand {
  /** px of the page. */
  at(x: number, y: number): ScreenPoint;
  move(x: number, y: number): Promise<void>;
  click(x: number, y: number): Promise<void>;
  drag(from: readonly [x: number, y: number], to: readonly [x: number, y: number]): Promise<void>;
}

export async function sheetHand(page: Page, room: Plan): Promise<SheetHand> {
  await page.getByRole("application").first().press("Home");
  const box = await page.getByRole("application").first().boundingBox();
  if (!box) throw new Error("there is no sheet");
  const { width, height } = box;
  const view = fit({ centre: { x: 0, y: 0 }, scale: 1, width, height }, roomBox(room), ROOM_MARGIN);
  const at = (x: number, y: number): ScreenPoint => {
    const point = toScreen(view, { x, y });
    return { x: box.x + point.x, y: box.y + point.y };
  };
  const move = async (x: number, y: number): Promise<void> => {
    const to = at(x, y);
    await page.mouse.move(to.x, to.y, { steps: 3 });
  };
  return {
    at,
    move,
    async click(x, y) {
      await move(x, y);
      await page.mouse.down();
      await page.mouse.up();
    },
    async drag(from, to) {
      await move(...from);
      await page.mouse.down();
      await move(...to);
      await page.mouse.up();
    },
  };
}
