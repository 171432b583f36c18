/** The page as it opens: the sample plan drawn and read, its views, units and themes, and who cannot see or point. */
import AxeBuilder from "@axe-core/playwright";
import { expect, type Page, test } from "@playwright/test";
import { writePlan } from "../../src/plan/write.js";
import { hillPlan, hostileName } from "../exchange/hill-plan.js";
import { chooseObject, figures, fromMenu, openPage, openText, reading } from "./support/desk.js";

const SIZES = { desk: { width: 1440, height: 900 }, tablet: { width: 1024, height: 768 } } as const;

test("opens a sample plan, drawn and read, with nothing said on the console", async ({ page }) => {
  const trouble: string[] = [];
  page.on("pageerror", (error) => trouble.push(error.message));
  page.on("console", (message) => {
    if (message.type() === "error") trouble.push(message.text());
  });
  await openPage(page);
  await expect(page).toHaveTitle("Larkmoor & Summit · Ruling Grade");
  await expect(page.getByRole("application", { name: "Sheet, Lower" })).toBeVisible();
  // Track is painted: some of the ink of the layer is there.
  await expect.poll(() => inkOfTrack(page)).toBeGreaterThan(1000);
  await expect(page.getByRole("listitem").filter({ hasText: /^\s*\d+ clear$/ })).toBeVisible();
  await expect(reading(page, "Least radius, main")).toHaveText(/^34/);
  // Anything the content policy stops is told on the console.
  expect(trouble).toEqual([]);
});

/** Pixels of the layer of track that are not bare. */
const inkOfTrack = (page: Page): Promise<number> =>
  page.locator(".paper canvas").evaluateAll(([, , canvas]) => {
    if (!(canvas instanceof HTMLCanvasElement)) return 0;
    const { data } = canvas.getContext("2d")?.getImageData(0, 0, canvas.width, canvas.height) ?? { data: [] };
    let inked = 0;
    for (let i = 3; i < data.length; i += 4) if ((data[i] ?? 0) > 0) inked += 1;
    return inked;
  });

test("shows one deck, decks through each other, and two side by side", async ({ page }) => {
  await openPage(page);
  const sheets = page.getByRole("application");
  await expect(page.getByRole("radio", { name: "See-through" })).toBeChecked();
  const through = await page.locator(".paper").screenshot();
  await page.getByText("One deck", { exact: true }).click();
  await expect(page.getByRole("region", { name: "The plan" })).toHaveAttribute("data-view", "one");
  await expect.poll(async () => (await page.locator(".paper").screenshot()).equals(through)).toBe(false);
  await page.getByText("Twin", { exact: true }).click();
  await expect(sheets).toHaveCount(2);
  await expect(page.getByRole("application", { name: "Sheet, Upper" })).toBeVisible();
  await page.getByText("One deck", { exact: true }).click();
  await expect(sheets).toHaveCount(1);
  await page.getByRole("radio", { name: /^Upper/ }).check({ force: true });
  await expect(page.getByRole("application", { name: "Sheet, Upper" })).toBeVisible();
});

test("switches units and theme, and changes no plan by it", async ({ page }) => {
  await openPage(page);
  await page.getByRole("radio", { name: "Millimetres" }).check();
  await expect(reading(page, "Least radius, main")).toHaveText(/^87\d/);
  await page.getByRole("radio", { name: "Feet and inches" }).check();
  await expect(reading(page, "Least radius, main")).toHaveText(/^34/);
  const night = page.getByRole("button", { name: "Night" });
  const was = await page.locator("html").getAttribute("data-theme");
  await night.click();
  await expect(page.locator("html")).not.toHaveAttribute("data-theme", was ?? "");
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Larkmoor & Summit");
});

test("flies to where a reading is worst, and chooses what is there", async ({ page }) => {
  await openPage(page);
  await page.getByRole("button", { name: "Least radius, branch" }).click();
  await expect(page.getByRole("status").filter({ hasText: "Least radius, branch" })).toBeVisible();
});

test("opens every page of the help and leaves it with Esc", async ({ page }) => {
  await openPage(page);
  await fromMenu(page, "Help", /^Your first deck/);
  await expect(page.getByRole("heading", { name: "Your first deck in ten minutes" })).toBeVisible();
  const help = page.getByRole("region", { name: "Help" });
  await help.getByRole("button", { name: "Keys" }).click();
  await expect(page.getByRole("heading", { name: "Tools of lay" })).toBeVisible();
  await page.keyboard.press("Escape");
  await expect(help).toHaveCount(0);
});

test("never takes a name for markup", async ({ page }) => {
  await openPage(page);
  const title = hostileName.slice(0, 60);
  await openText(page, "hostile.plan.json", writePlan({ ...hillPlan, title }));
  await expect(page.getByRole("heading", { level: 1 })).toContainText('<script>alert("x")</script>');
  await expect(page.locator("main script, header script")).toHaveCount(0);
});

for (const [name, viewport] of Object.entries(SIZES)) {
  for (const colorScheme of ["light", "dark"] as const) {
    test(`has nothing serious to mend for accessibility: ${name}, ${colorScheme}`, async ({ browser }) => {
      const context = await browser.newContext({ viewport, colorScheme });
      const page = await context.newPage();
      await openPage(page);
      await expect(page.locator("html")).toHaveAttribute("data-theme", colorScheme);
      await chooseObject(page, /^branch Wetherlaw climb/);
      await expect(page.getByRole("heading", { name: "Track", exact: true })).toBeVisible();
      await fromMenu(page, "File", /^New plan/);
      await expect(page.getByRole("form", { name: "New plan" })).toBeVisible();
      expect(await serious(page)).toEqual([]);
      await context.close();
    });
  }
}

async function serious(page: Page): Promise<string[]> {
  const { violations } = await new AxeBuilder({ page }).analyze();
  return violations
    .filter(({ impact }) => impact === "serious" || impact === "critical")
    .map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`);
}

test("fits a tablet and a telephone without scrolling sideways", async ({ page }) => {
  await openPage(page);
  expect((await figures(page)).length).toBeGreaterThan(20);
  for (const width of [820, 390]) {
    await page.setViewportSize({ width, height: 1000 });
    await expect
      .poll(() => page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth))
      .toBeLessThanOrEqual(0);
  }
});
