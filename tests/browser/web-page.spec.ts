/** The page to look at as a friend gets it: a file from a mail, opened with no network, moved by mouse, touch and keys. */
import { writeFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
import AxeBuilder from "@axe-core/playwright";
import { type CDPSession, expect, type Page, test, type TestInfo } from "@playwright/test";
import { drawWebPage } from "../../src/exchange/web-page.js";
import { deriveLayout } from "../../src/layout/derive.js";
import { readPlan } from "../../src/plan/read.js";
import type { Plan } from "../../src/plan/schema.js";
import { takeReadings } from "../../src/readings/take.js";
import { hillPlan } from "../exchange/hill-plan.js";
import { sampleText } from "./support/desk.js";

const PHONE = { width: 390, height: 844 } as const;
const DESK = { width: 1280, height: 900 } as const;

const read = readPlan(sampleText, "sample");
if (!read.ok) throw new Error("the sample cannot be read");
const sample = read.plan;

/** Opens a plan's page from disk with the network off; returns what the page complained of or asked for. */
async function openFile(page: Page, info: TestInfo, plan: Plan, theme?: "dark"): Promise<string[]> {
  const layout = deriveLayout(plan);
  const file = info.outputPath("railway.html");
  writeFileSync(file, drawWebPage(layout, takeReadings(plan, layout), theme ? { theme } : {}));
  const trouble: string[] = [];
  page.on("pageerror", (error) => trouble.push(error.message));
  page.on("console", (message) => void (message.type() === "error" && trouble.push(message.text())));
  page.on("dialog", (dialog) => {
    trouble.push(`a dialog: ${dialog.message()}`);
    void dialog.dismiss();
  });
  page.on("request", (request) => void (request.url().startsWith("file:") || trouble.push(request.url())));
  await page.context().setOffline(true);
  await page.goto(pathToFileURL(file).href);
  return trouble;
}

const viewBox = async (page: Page, name: string): Promise<[x: number, y: number, width: number, height: number]> => {
  const text = await page.getByRole("group", { name, exact: true }).locator("svg").getAttribute("viewBox");
  const [x = 0, y = 0, width = 0, height = 0] = (text ?? "").split(" ").map(Number);
  return [x, y, width, height];
};

/** Where a point of the screen lies on the drawing, as the browser has it. */
const onDrawing = (page: Page, name: string, x: number, y: number) =>
  page
    .getByRole("group", { name, exact: true })
    .locator("svg")
    .evaluate(
      (svg, at) => {
        const matrix = svg instanceof SVGSVGElement ? svg.getScreenCTM()?.inverse() : undefined;
        const point = new DOMPoint(at.x, at.y).matrixTransform(matrix);
        return { x: point.x, y: point.y };
      },
      { x, y },
    );

async function middleOf(page: Page, name: string) {
  const box = await page.getByRole("group", { name, exact: true }).boundingBox();
  if (!box) throw new Error(`${name} is not to be seen`);
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

const LOWER = "Drawing: Lower";
const UPPER = "Drawing: Upper";

test("on a desk: mouse, keys and buttons move, magnify and change decks, all offline", async ({ page }, info) => {
  await page.setViewportSize(DESK);
  const trouble = await openFile(page, info, sample);
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Larkmoor & Summit");
  await expect(page.getByRole("group", { name: LOWER })).toBeVisible();
  await expect(page.getByRole("group", { name: UPPER })).toBeHidden();
  const whole = await viewBox(page, LOWER);

  // The wheel magnifies about the pointer: what is under it stays there.
  const middle = await middleOf(page, LOWER);
  const at = { x: middle.x - 160, y: middle.y + 70 };
  const before = await onDrawing(page, LOWER, at.x, at.y);
  await page.mouse.move(at.x, at.y);
  await page.mouse.wheel(0, -500);
  await expect.poll(async () => (await viewBox(page, LOWER))[2]).toBeLessThan(whole[2] / 2);
  const under = await onDrawing(page, LOWER, at.x, at.y);
  expect(Math.hypot(under.x - before.x, under.y - before.y)).toBeLessThan(0.01);

  // And so does what is dragged.
  await page.mouse.down();
  await page.mouse.move(at.x + 60, at.y - 40, { steps: 4 });
  await page.mouse.up();
  const dragged = await onDrawing(page, LOWER, at.x + 60, at.y - 40);
  expect(Math.hypot(dragged.x - before.x, dragged.y - before.y)).toBeLessThan(0.01);

  // The other deck is shown where this one was.
  const lower = await viewBox(page, LOWER);
  await page.getByRole("button", { name: "Upper", exact: true }).click();
  await expect(page.getByRole("group", { name: UPPER })).toBeVisible();
  await expect(page.getByRole("group", { name: LOWER })).toBeHidden();
  await expect(page.getByRole("button", { name: "Upper", exact: true })).toHaveAttribute("aria-pressed", "true");
  expect(await viewBox(page, UPPER)).toEqual(lower);

  // Keys.
  const view = page.getByRole("group", { name: UPPER });
  await view.focus();
  await page.keyboard.press("ArrowRight");
  expect((await viewBox(page, UPPER))[0]).toBeGreaterThan(lower[0]);
  await page.keyboard.press("-");
  expect((await viewBox(page, UPPER))[2]).toBeGreaterThan(lower[2]);
  await page.keyboard.press("0");
  expect(await viewBox(page, UPPER)).toEqual(whole);

  // The profile has its own.
  const profile = page.getByRole("region", { name: /^Profile/ });
  await profile.getByRole("button", { name: "Zoom in" }).click();
  const name = (await profile.locator(".view").getAttribute("aria-label")) ?? "";
  const near = await viewBox(page, name);
  await profile.getByRole("button", { name: "Show all of it" }).click();
  expect((await viewBox(page, name))[2]).toBeCloseTo(near[2] * 1.5, 6);
  expect(await viewBox(page, UPPER)).toEqual(whole);

  await expect(page.getByRole("rowheader", { name: /^Least radius, main/ })).toBeVisible();
  expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
  await page.screenshot({ path: info.outputPath("desk.png") });
  await page.screenshot({ path: info.outputPath("desk-whole.png"), fullPage: true });
  expect(trouble).toEqual([]);
});

test.describe("on a phone", () => {
  test.use({ viewport: PHONE, hasTouch: true, isMobile: true });

  const touch = (device: CDPSession, type: "touchStart" | "touchMove" | "touchEnd", at: { x: number; y: number }[]) =>
    device.send("Input.dispatchTouchEvent", { type, touchPoints: at.map(({ x, y }, id) => ({ x, y, id })) });

  test("two fingers magnify, one moves; at first one finger scrolls the page", async ({ page }, info) => {
    const trouble = await openFile(page, info, sample, "dark");
    await page.screenshot({ path: info.outputPath("phone.png") });
    const device = await page.context().newCDPSession(page);
    const whole = await viewBox(page, LOWER);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(PHONE.width);

    // All of it is there to see, so a finger on the drawing scrolls on to what is below.
    const finger = await middleOf(page, LOWER);
    await touch(device, "touchStart", [finger]);
    for (let by = 15; by <= 180; by += 15) {
      await touch(device, "touchMove", [{ x: finger.x, y: finger.y - by }]);
      await page.evaluate(() => new Promise(requestAnimationFrame));
    }
    await touch(device, "touchEnd", []);
    await expect.poll(() => page.evaluate(() => scrollY)).toBeGreaterThan(50);
    expect(await viewBox(page, LOWER)).toEqual(whole);
    await page.evaluate(() => scrollTo(0, 0));

    const middle = await middleOf(page, LOWER);
    const under = await onDrawing(page, LOWER, middle.x, middle.y);
    const fingers = (apart: number) => [-apart, apart].map((dx) => ({ x: middle.x + dx, y: middle.y }));
    await touch(device, "touchStart", fingers(30));
    for (const apart of [45, 60, 75, 90]) await touch(device, "touchMove", fingers(apart));
    await touch(device, "touchEnd", []);
    await expect.poll(async () => (await viewBox(page, LOWER))[2]).toBeCloseTo(whole[2] / 3, 1);
    const stays = await onDrawing(page, LOWER, middle.x, middle.y);
    expect(Math.hypot(stays.x - under.x, stays.y - under.y)).toBeLessThan(0.5);

    const near = await viewBox(page, LOWER);
    await touch(device, "touchStart", [middle]);
    for (const by of [20, 50, 80]) await touch(device, "touchMove", [{ x: middle.x - by / 2, y: middle.y - by }]);
    await touch(device, "touchEnd", []);
    await expect.poll(async () => (await viewBox(page, LOWER))[1]).toBeGreaterThan(near[1]);
    expect(await page.evaluate(() => scrollY)).toBe(0);
    await page.screenshot({ path: info.outputPath("phone-near.png") });

    await page.getByRole("button", { name: "Show all of it" }).first().click();
    await expect.poll(() => viewBox(page, LOWER)).toEqual(whole);
    expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
    await page.screenshot({ path: info.outputPath("phone-whole.png"), fullPage: true });
    expect(trouble).toEqual([]);
  });

  test.describe("that runs no scripts", () => {
    test.use({ javaScriptEnabled: false });
    test("every deck stands below the other", async ({ page }, info) => {
      await openFile(page, info, sample);
      for (const name of [LOWER, UPPER]) await expect(page.getByRole("group", { name })).toBeVisible();
      await expect(page.getByRole("button")).toHaveCount(0);
      await page.screenshot({ path: info.outputPath("phone-no-script.png"), fullPage: true });
    });
  });
});

test("names are names", async ({ page }, info) => {
  const name = `</script></style></title><img src=x onerror="alert(1)"><svg onload=alert(2)>'">`;
  const all = <T extends object>(records: Readonly<Record<string, T>>, key: string): Record<string, T> =>
    Object.fromEntries(Object.entries(records).map(([id, record]) => [id, { ...record, [key]: name }]));
  const plan: Plan = {
    ...hillPlan,
    title: name,
    decks: all(hillPlan.decks, "name"),
    tracks: all(hillPlan.tracks, "name"),
    labels: all(hillPlan.labels, "text"),
  };
  const trouble = await openFile(page, info, plan);
  await expect(page.getByRole("heading", { level: 1 })).toHaveText(name);
  await expect(page.getByRole("group", { name: "Decks" }).getByRole("button").first()).toHaveText(name);
  const counts = await page.evaluate(() =>
    Object.fromEntries(
      ["img", "script", "style", "svg", "[onerror],[onload]"].map((s) => [s, document.querySelectorAll(s).length]),
    ),
  );
  expect(counts).toEqual({ img: 0, script: 1, style: 1, svg: 3, "[onerror],[onload]": 0 });
  expect(trouble).toEqual([]);
});
