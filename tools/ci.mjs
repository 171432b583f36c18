/** The project's own check of a fresh checkout: `npm run check`, `npm test`, and last a line counting what passed. */
import { spawnSync } from "node:child_process";
import { readFileSync, rmSync } from "node:fs";
import { fileURLToPath } from "node:url";

process.chdir(fileURLToPath(new URL("..", import.meta.url)));
const REPORTS = "test-results";
rmSync(REPORTS, { recursive: true, force: true });

const npm = (...args) => spawnSync("npm", args, { stdio: "inherit", shell: process.platform === "win32" }).status === 0;

/** A report's own counts; a runner that left none has failed. */
function counts(file, count) {
  try {
    return count(JSON.parse(readFileSync(`${REPORTS}/${file}`, "utf8")));
  } catch {
    return { passed: 0, failed: 1 };
  }
}

const checked = npm("run", "check");
const tested = npm("test");
const results = [
  { passed: checked ? 1 : 0, failed: checked ? 0 : 1 },
  counts("vitest.json", (report) => {
    const unrunnable = report.testResults.filter(
      (file) => file.status === "failed" && file.assertionResults.length === 0,
    );
    return { passed: report.numPassedTests, failed: report.numFailedTests + unrunnable.length };
  }),
  counts("browser.json", ({ stats, errors }) => ({
    passed: stats.expected,
    failed: stats.unexpected + stats.flaky + errors.length,
  })),
];
const passed = results.reduce((sum, result) => sum + result.passed, 0);
const counted = results.reduce((sum, result) => sum + result.failed, 0);
// A runner may fail for a reason that no single test carries.
const failed = counted === 0 && !tested ? 1 : counted;
process.exitCode = failed === 0 ? 0 : 1;
console.log(`${passed} passed, ${failed} failed`);
