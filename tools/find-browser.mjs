/**
 * A Chromium for the browser tests: named by an environment variable, in one of its usual places, or installed
 * (by apt as root on Debian, else by Playwright's own download).
 */
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { delimiter, join } from "node:path";
import { chromium } from "@playwright/test";

export const VARIABLE = "RULING_GRADE_BROWSER";

const NAMES = ["chromium", "chromium-browser", "google-chrome-stable", "google-chrome", "microsoft-edge", "chrome"];

const PLACES = [
  "/usr/lib/chromium/chromium",
  "/snap/bin/chromium",
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
  "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
  ...[process.env["PROGRAMFILES"], process.env["PROGRAMFILES(X86)"], process.env["LOCALAPPDATA"]].flatMap((folder) =>
    folder
      ? [join(folder, "Google/Chrome/Application/chrome.exe"), join(folder, "Microsoft/Edge/Application/msedge.exe")]
      : [],
  ),
];

/** Path of a browser that is there already, or undefined. */
export function findBrowser() {
  const named = process.env[VARIABLE];
  if (named) return existsSync(named) ? named : undefined;
  const onPath = (process.env["PATH"] ?? "").split(delimiter).flatMap((folder) => NAMES.map((n) => join(folder, n)));
  return [...onPath, ...PLACES, chromium.executablePath()].find((path) => existsSync(path));
}

const run = (command, args) => spawnSync(command, args, { stdio: ["ignore", 2, 2] }).status === 0;

/** Path of a browser, installed if need be; undefined when there is none and none can be had. */
export function obtainBrowser() {
  const found = findBrowser();
  if (found || process.env[VARIABLE]) return found;
  if (process.getuid?.() === 0 && existsSync("/etc/debian_version")) {
    if (run("apt-get", ["update", "-qq"])) run("apt-get", ["install", "-y", "-qq", "chromium"]);
    const installed = findBrowser();
    if (installed) return installed;
  }
  run(process.execPath, ["node_modules/@playwright/test/cli.js", "install", "chromium"]);
  return findBrowser();
}
