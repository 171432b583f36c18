/** Runs the browser tests in a Chromium that is found or installed; one sentence and failure where there is none. */
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { build } from "./build.mjs";
import { obtainBrowser, VARIABLE } from "./find-browser.mjs";

process.chdir(fileURLToPath(new URL("..", import.meta.url)));
const browser = obtainBrowser();
if (!browser) {
  console.error(`The browser tests need Chromium: install it, or name one in ${VARIABLE}.`);
  process.exitCode = 1;
} else if (!build(["app"])) {
  process.exitCode = 1;
} else {
  const args = ["node_modules/@playwright/test/cli.js", "test", ...process.argv.slice(2)];
  const env = { ...process.env, [VARIABLE]: browser };
  process.exitCode = spawnSync(process.execPath, args, { stdio: "inherit", env }).status ?? 1;
}
