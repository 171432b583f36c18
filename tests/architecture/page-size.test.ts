/** The page's first load: what a browser must fetch before it can show a plan stays small. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { afterAll, expect, test } from "vitest";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const out = mkdtempSync(join(tmpdir(), "page-"));
afterAll(() => rmSync(out, { recursive: true, force: true }));

/** Script at first load, gzipped, bytes. */
const MOST = 350_000;

test("scripts of the first load are under 350 kB gzipped", () => {
  const vite = join(ROOT, "node_modules/vite/bin/vite.js");
  const built = spawnSync(process.execPath, [vite, "build", "--outDir", out, "--emptyOutDir", "--logLevel", "error"], {
    cwd: ROOT,
    encoding: "utf8",
    // The test runner's own environment would bring React's development build.
    env: { ...process.env, NODE_ENV: "production" },
  });
  expect(built.status).toBe(0);
  const html = readFileSync(join(out, "index.html"), "utf8");
  const scripts = [...html.matchAll(/(?:src|href)="\.?\/?([^"]+\.js)"/g)].map((m) => m[1] ?? "");
  expect(scripts.length).toBeGreaterThan(0);
  const size = scripts.reduce((sum, file) => sum + gzipSync(readFileSync(join(out, file)), { level: 9 }).length, 0);
  expect(size).toBeGreaterThan(50_000);
  expect(size).toBeLessThan(MOST);
});
