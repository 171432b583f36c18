/** The page in Chromium: panning, zooming, dragging, readings after an edit, opening. Started by run.mjs. */
import { availableParallelism, loadavg } from "node:os";
import { chromium } from "@playwright/test";
import { measurePage } from "./measure-page.js";
import { openDesk } from "./page-desk.js";
import { printResults } from "./report.js";

const [, , address = ""] = process.argv;
const executablePath = process.env["RULING_GRADE_BROWSER"];
const browser = await chromium.launch({
  ...(executablePath && { executablePath }),
  args: ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-sync"],
});
try {
  const load = loadavg()[0] ?? 0;
  const machine = { load, processors: availableParallelism() };
  await printResults(machine, measurePage(await openDesk(browser, address)));
} finally {
  await browser.close();
}
