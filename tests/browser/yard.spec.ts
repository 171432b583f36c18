/** From an empty room with one straight: a yard by mouse and typed figures, a crossover, a turntable with three stalls. */
import { expect, test } from "@playwright/test";
import { emptyPlan } from "../../src/plan/empty-plan.js";
import { readPlan } from "../../src/plan/read.js";
import { scalesOf } from "../../src/standards/scales.js";
import { writePlan } from "../../src/plan/write.js";
import { openPage, openStage, openText, saveCopy, takeTool, undoAll } from "./support/desk.js";
import { sheetHand } from "./support/sheet-hand.js";

test("a yard of five tracks, a crossover and a turntable, all undone", async ({ page }) => {
  await openPage(page);
  const scale = scalesOf("NMRA").find(({ name }) => name === "HO");
  if (!scale) throw new Error("there is no HO");
  const room = emptyPlan({ title: "Tansy Loft", width: 4200, depth: 3000, scale, units: "metric" });
  const [deck = ""] = Object.keys(room.decks);
  const straight = {
    class: "main",
    deck,
    start: { pose: { x: 300, y: 700, heading: 0 } },
    legs: [{ straight: 600 }],
  } as const;
  await openText(page, "loft.plan.json", writePlan({ ...room, tracks: { main: straight } }));
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Tansy Loft");
  const bare = await saveCopy(page);
  const hand = await sheetHand(page, room);
  const { keyboard } = page;
  const type = async (...keys: readonly string[]): Promise<void> => {
    for (const key of keys) await keyboard.press(key);
  };
  const undo = (name: string) => page.getByRole("button", { name: `Undo: ${name}` });

  // The pointer shows the side, figures are typed: tracks, spacing, frog number, length, lead.
  await openStage(page, "Lay");
  await takeTool(page, "Yard");
  await hand.click(900, 700);
  await hand.move(2500, 1000);
  for (const figure of ["5", "60", "6", "700"]) await type(...figure, "Tab");
  await type(..."300", "Enter");
  await expect(undo("lay yard")).toBeVisible();
  const read = async () => {
    const result = readPlan(await saveCopy(page), "copy");
    if (!result.ok) throw new Error("the copy cannot be read");
    return result.plan;
  };
  const roads = Object.entries((await read()).tracks).filter(([, track]) => track.bumpers?.length);
  expect(roads).toHaveLength(5);

  // Between the first two roads, which lie along the main's own line and 60 mm to its left.
  await takeTool(page, "Crossover");
  await hand.click(2300, 701);
  await expect(undo("lay crossover")).toBeVisible();

  // At the end the main came from: a bridge and three stalls, one more by the hand and off again.
  await takeTool(page, "Turntable");
  await hand.click(300, 700);
  await expect(page.getByRole("heading", { name: "Turntable", exact: true })).toBeVisible();
  await type(..."300", "Tab", ..."3", "Tab", ..."20", "Enter");
  await hand.click(150, 1000);
  await expect(page.getByLabel("Stall 4")).toBeVisible();
  await hand.click(150, 1000);
  await expect(page.getByLabel("Stall 4")).toHaveCount(0);

  const plan = await read();
  expect(Object.values(plan.turntables)).toEqual([{ on: "main", end: "start", bridge: 300, stalls: [-20, 0, 20] }]);
  // Four on the ladder side and one on the lead, two of the crossover.
  expect(Object.values(plan.turnouts).length).toBe(4 + 2);
  expect(await undoAll(page)).toBe(8);
  expect(await saveCopy(page)).toBe(bare);
});
