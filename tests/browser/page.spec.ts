/** The page in a real browser: the sample plan with its readings, files dropped on it, themes, units, accessibility. */
import { readFileSync } from "node:fs";
import AxeBuilder from "@axe-core/playwright";
import { expect, type Page, test } from "@playwright/test";
import { writePlan } from "../../src/plan/write.js";
import { hillPlan, hostileName } from "../exchange/hill-plan.js";

test.beforeEach(async ({ page }) => {
  const trouble: string[] = [];
  page.on("pageerror", (error) => trouble.push(error.message));
  page.on("console", (message) => {
    if (message.type() === "error") trouble.push(message.text());
  });
  await page.goto("/");
  await expect(page.locator(".sheet > svg")).toBeVisible();
  // Anything the content policy stops is told on the console.
  expect(trouble).toEqual([]);
});

/** Lets go of a file over the page, as a person does. */
async function drop(page: Page, name: string, text: string): Promise<void> {
  const data = await page.evaluateHandle(
    ([file, contents]) => {
      const transfer = new DataTransfer();
      transfer.items.add(new File([contents ?? ""], file ?? "", { type: "application/json" }));
      return transfer;
    },
    [name, text],
  );
  await page.dispatchEvent("body", "dragover", { dataTransfer: data });
  await page.dispatchEvent("body", "drop", { dataTransfer: data });
}

test("opens a sample plan with its readings", async ({ page }) => {
  const sample = JSON.parse(readFileSync("sample-plans/larkmoor-and-summit.plan.json", "utf8")) as { title: string };
  await expect(page.getByRole("heading", { level: 1 })).toHaveText(sample.title);
  await expect(page).toHaveTitle(`${sample.title} · Ruling Grade`);
  const readings = page.getByRole("complementary", { name: "Readings" });
  await expect(readings.getByText("Least radius, main")).toBeVisible();
  await expect(readings.locator(".reading.clear").first()).toContainText("Clear");
  await expect(page.locator(".sheet [data-line]").first()).toBeAttached();
});

test("shows a plan dropped on it, one deck or see-through, in either unit", async ({ page }) => {
  await drop(page, "hill.plan.json", writePlan(hillPlan));
  await expect(page.getByRole("heading", { level: 1 })).toHaveText(hillPlan.title);
  await expect(page.locator('[data-line="track:upper"]')).toBeAttached();
  await page.getByLabel("One deck").check();
  await expect(page.locator('[data-line="track:upper"]')).toHaveCount(0);
  await page.getByRole("radio", { name: /Hilltop/ }).check();
  await expect(page.locator('[data-line="track:upper"]')).toBeAttached();
  await expect(page.locator(".sheet")).toContainText("4000 mm");
  await page.getByLabel("Feet and inches").check();
  await expect(page.locator(".sheet")).toContainText("13′ 1½″");
});

test("opens a plan chosen as a file", async ({ page }) => {
  const file = { name: "hill.plan.json", mimeType: "application/json", buffer: Buffer.from(writePlan(hillPlan)) };
  await page.getByLabel("Open plan…").setInputFiles(file);
  await expect(page.getByRole("heading", { level: 1 })).toHaveText(hillPlan.title);
});

test("reports a broken file, and opens a whole one after it", async ({ page }) => {
  await drop(page, "broken.plan.json", '{ "format": ');
  const report = page.getByRole("alert");
  await expect(report).toContainText("broken.plan.json cannot be opened");
  await expect(report).toContainText("line 1");
  await drop(page, "hill.plan.json", writePlan(hillPlan));
  await expect(report).toHaveCount(0);
  await expect(page.locator(".sheet > svg")).toBeVisible();
});

test("shows what is whole of a damaged file and reports the rest", async ({ page }) => {
  const damaged = { ...hillPlan, tracks: { ...hillPlan.tracks, lost: { class: "main" } } };
  await drop(page, "damaged.plan.json", JSON.stringify(damaged));
  await expect(page.getByRole("alert")).toContainText("tracks.lost");
  await expect(page.locator('[data-line="track:main"]').first()).toBeAttached();
});

test("never takes a name for markup", async ({ page }) => {
  const plan = {
    ...hillPlan,
    title: hostileName.slice(0, 60),
    labels: { a: { text: hostileName.slice(0, 60), at: { x: 2000, y: 400 } } },
  };
  await drop(page, "hostile.plan.json", JSON.stringify(plan));
  await expect(page.locator(".sheet > svg")).toContainText('<script>alert("x")</script>');
  await expect(page.locator(".sheet script")).toHaveCount(0);
});

test("works by keyboard", async ({ page }) => {
  await page.getByLabel("See-through").focus();
  await page.keyboard.press("ArrowUp");
  await expect(page.getByLabel("One deck")).toBeChecked();
  const first = page.locator(".reading summary").first();
  await first.focus();
  await page.keyboard.press("Enter");
  await expect(page.locator(".reading dl").first()).toBeVisible();
});

for (const theme of ["light", "dark"] as const) {
  test(`has nothing to mend for accessibility, ${theme}`, async ({ page }) => {
    if (theme === "dark") await page.getByRole("button", { name: "Night" }).click();
    await expect(page.locator("html")).toHaveAttribute("data-theme", theme);
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
  });
}

test("fits a tablet and a telephone without scrolling sideways", async ({ page }) => {
  for (const width of [820, 390]) {
    await page.setViewportSize({ width, height: 1000 });
    await expect
      .poll(() => page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth))
      .toBeLessThanOrEqual(0);
  }
});
