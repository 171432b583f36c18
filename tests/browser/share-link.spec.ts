/** A plan handed on from the page: the link copied and opened elsewhere, one that is hostile refused, and the exports. */
import { expect, type Page, test } from "@playwright/test";
import { linkFragment } from "../../src/exchange/share-link.js";
import { hillPlan, hostileName } from "../exchange/hill-plan.js";
import { downloaded, fromMenu, openPage, settled } from "./support/desk.js";

const title = (page: Page) => page.getByRole("heading", { level: 1 });
const link = linkFragment({ ...hillPlan, title: hostileName });
if (!link.ok) throw new Error(link.message);

test("a link is copied and opened in a new page, as a plan in no file", async ({ page, context }) => {
  await context.grantPermissions(["clipboard-read", "clipboard-write"]);
  await page.goto("/");
  await fromMenu(page, "File", /^First shelf/);
  await expect(title(page)).toHaveText("First shelf");
  await fromMenu(page, "File", "Copy a link to this plan");
  await expect(page.getByText(/^A link to this plan is copied/)).toBeVisible();
  const address = await page.evaluate(() => navigator.clipboard.readText());
  expect(address).toMatch(/^http:\/\/localhost:\d+\/#plan=1\.[\w-]+$/);

  const asked: string[] = [];
  const other = await context.newPage();
  other.on("request", (request) => void asked.push(request.url()));
  await other.goto(address);
  await expect(title(other)).toHaveText("First shelf, unsaved changes");
  await settled(other);
  expect(new URL(other.url()).hash).toBe("");
  expect(asked.filter((url) => url.includes("plan="))).toEqual([]);
});

test("links that come while the page is open: names are names, what was unsaved is kept, a broken one is refused", async ({
  page,
}) => {
  const trouble: string[] = [];
  page.on("pageerror", (error) => trouble.push(error.message));
  page.on("dialog", (dialog) => {
    trouble.push(dialog.message());
    void dialog.dismiss();
  });
  await openPage(page);
  const name = page.getByRole("textbox", { name: "Title" });
  await name.fill("Evening work");
  await name.press("Enter");
  await expect(title(page)).toContainText("Evening work, unsaved changes");

  await page.evaluate((hash) => void (location.hash = hash), "plan=1.AAAA");
  const refused = page.getByRole("alert").filter({ hasText: "The link cannot be opened" });
  await expect(refused).toContainText(/cut off|changed on its way/);
  await expect(title(page)).toContainText("Evening work");

  await page.evaluate((hash) => void (location.hash = hash), link.fragment);
  await expect(title(page)).toContainText("<script>");
  expect(await page.locator("h1 script").count()).toBe(0);
  const left = page.getByRole("status").filter({ hasText: "Evening work" });
  await left.getByRole("button", { name: "Go back to it" }).click();
  await expect(title(page)).toContainText("Evening work");
  expect(trouble).toEqual([]);
});

test("a page opened with a broken link shows the sample and says what is wrong", async ({ page }) => {
  await page.goto("/#plan=1.nothing!");
  await expect(page.getByRole("alert").filter({ hasText: "The link cannot be opened" })).toContainText(
    "letters that no link has",
  );
  await expect(title(page)).toHaveText("Larkmoor & Summit");
  expect(new URL(page.url()).hash).toBe("");
});

test("the File menu hands out drawing, lines, tables and a page", async ({ page }) => {
  await openPage(page);
  for (const [item, begins] of [
    ["Drawing to scale (SVG)", /^<svg /],
    ["Lines to cut from (DXF)", /^ {2}0\nSECTION/],
    ["Readings (CSV)", /^group,reading,/],
    ["Heights along the track (CSV)", /^track,deck,/],
    ["Page to look at (HTML)", /^<!doctype html>/],
  ] as const) {
    expect(await downloaded(page, () => fromMenu(page, "File", item))).toMatch(begins);
  }
});
