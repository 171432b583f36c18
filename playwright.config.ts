import { defineConfig } from "@playwright/test";

const PORT = 4317;
/** Set by tools/browser-tests.mjs, which looks for a browser; without it Playwright uses its own. */
const executablePath = process.env["RULING_GRADE_BROWSER"];

export default defineConfig({
  testDir: "tests/browser",
  testMatch: "**/*.spec.ts",
  workers: 1,
  // Generous: a busy machine is slow, not wrong.
  timeout: 180_000,
  expect: { timeout: 60_000 },
  reporter: [["list"], ["json", { outputFile: "test-results/browser.json" }]],
  outputDir: "test-results/browser",
  use: {
    // Only the tests of working offline want the page's files kept; others would fetch them all in every test.
    serviceWorkers: "block",
    baseURL: `http://localhost:${PORT}/`,
    launchOptions: {
      ...(executablePath ? { executablePath } : {}),
      args: [
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
      ],
    },
  },
  webServer: {
    command: `node node_modules/vite/bin/vite.js preview --port ${PORT} --strictPort --host localhost --outDir dist/app`,
    url: `http://localhost:${PORT}/`,
    reuseExistingServer: false,
  },
});
