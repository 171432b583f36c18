/** Takes the pictures of the help and of the README, only when asked to by RULING_GRADE_PICTURES=1. */
import { readFileSync } from "node:fs";
import { type Browser, expect, type Page, test } from "@playwright/test";
import { writePlan } from "../../src/plan/write.js";
import { peninsula } from "../climb/rooms.js";
import { openPage, openStage, openText, settled, takeTool } from "./support/desk.js";
import { sheetHand } from "./support/sheet-hand.js";

const asked = process.env["RULING_GRADE_PICTURES"] === "1";

type Records = Record<string, unknown>;
interface Shelf {
  tracks: Records;
  turnouts: Records;
  benches: Records;
  pins: Records;
  labels: Records;
}

const shelf = (change: (plan: Shelf) => void): string => {
  const plan = JSON.parse(readFileSync("sample-plans/first-shelf.plan.json", "utf8")) as Shelf;
  change(plan);
  return JSON.stringify(plan);
};

/** The records of these ids. */
const only = (records: Records, ...ids: string[]): Records =>
  Object.fromEntries(Object.entries(records).filter(([id]) => ids.includes(id)));

const shoot = (page: Page, name: string, part: string): Promise<Buffer> =>
  page.locator(part).screenshot({ path: `docs/pictures/${name}.png`, animations: "disabled" });

const bare = (plan: Shelf): void => {
  plan.tracks = {};
  plan.turnouts = {};
  plan.labels = {};
};

const withPins = (plan: Shelf): void => {
  plan.pins = { low: { track: "main", at: 1400, height: 1219.2 }, high: { track: "main", at: 2800, height: 1235 } };
};

async function firstDeck(browser: Browser): Promise<void> {
  const page = await browser.newPage({ viewport: { width: 1160, height: 820 }, colorScheme: "light" });
  await openPage(page);
  const show = async (stage: string, change: (plan: Shelf) => void): Promise<void> => {
    await openText(page, "first-deck.plan.json", shelf(change));
    await expect(page.getByRole("heading", { level: 1 })).not.toContainText("Larkmoor");
    await openStage(page, stage);
    await expect(page.getByRole("region", { name: "Readings" })).toHaveAttribute("aria-busy", "false");
  };
  await show("Survey", (plan) => {
    bare(plan);
    plan.benches = {};
  });
  await shoot(page, "first-deck-room", ".sheet");
  await show("Frame", bare);
  await shoot(page, "first-deck-shelf", ".sheet");
  await show("Lay", (plan) => {
    plan.tracks = only(plan.tracks, "main");
    plan.turnouts = {};
  });
  await shoot(page, "first-deck-main", ".sheet");
  await show("Lay", (plan) => {
    plan.tracks = only(plan.tracks, "main", "runaround");
    plan.turnouts = only(plan.turnouts, "runaround-east", "runaround-west");
  });
  await shoot(page, "first-deck-siding", ".sheet");
  await show("Grade", withPins);
  await shoot(page, "first-deck-profile", ".profile-place");
  await shoot(page, "first-deck-readings", ".column");
  await page.close();
}

const SAMPLES = [
  ["light", "docs/larkmoor-and-summit.png"],
  ["dark", "docs/larkmoor-and-summit-night.png"],
] as const;

/** Ways up in an attic as the planner finds them, the first looked at. */
async function routesSought(browser: Browser): Promise<void> {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 }, colorScheme: "light" });
  const { plan } = peninsula(300);
  await openPage(page);
  await openText(page, "attic.plan.json", writePlan({ ...plan, title: "Attic, ways up" }));
  await settled(page);
  await openStage(page, "Grade");
  await takeTool(page, "Routes");
  const hand = await sheetHand(page, plan);
  await hand.click(1000, 300);
  await hand.click(6400, 300);
  await page.keyboard.press("Enter");
  const panel = page.getByRole("region", { name: "Climb routes" });
  await expect(panel.getByRole("button", { name: "Search", exact: true })).toBeVisible({ timeout: 120_000 });
  await panel.getByRole("list", { name: "Routes found" }).getByRole("listitem").first().hover();
  await page.waitForTimeout(400);
  await page.screenshot({ path: "docs/routes-sought.png", animations: "disabled" });
  await page.close();
}

if (asked) {
  test("ways up, sought", ({ browser }) => routesSought(browser));
  test("the first deck, step by step", ({ browser }) => firstDeck(browser));
  for (const [colorScheme, file] of SAMPLES)
    test(`the sample plan, ${colorScheme}`, async ({ browser }) => {
      const page = await browser.newPage({ viewport: { width: 1440, height: 900 }, colorScheme });
      await openPage(page);
      await expect(page.locator("html")).toHaveAttribute("data-theme", colorScheme);
      await page.screenshot({ path: file, animations: "disabled" });
      await page.close();
    });
}
