/** The page's first load: what a browser must fetch before it can show a plan stays small. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { afterAll, expect, test } from "vitest";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const out = mkdtempSync(join(tmpdir(), "page-"));
afterAll(() => rmSync(out, { recursive: true, force: true }));

const isReader = (file: string): boolean => /^reader-.*\.js$/.test(file);

/** Scripts with all that they import when loaded. */
function withImports(scripts: readonly string[]): string[] {
  const all = new Set(scripts);
  for (const script of all) {
    const text = readFileSync(join(out, script), "utf8");
    for (const [, file] of text.matchAll(/(?:from|import)\s*["']\.\/([^"']+\.js)["']/g)) all.add(`assets/${file}`);
  }
  return [...all];
}

/** Script a browser must have before it shows a plan, gzipped, bytes. */
const MOST = 350_000;
/** And what the worker that takes the readings then loads besides. */
const MOST_BESIDES = 60_000;

const sizeOf = (scripts: readonly string[]): number =>
  scripts.reduce((sum, file) => sum + gzipSync(readFileSync(join(out, file)), { level: 9 }).length, 0);

test("scripts of the first view are under 350 kB gzipped, and what its worker loads besides is small", () => {
  const vite = join(ROOT, "node_modules/vite/bin/vite.js");
  const built = spawnSync(process.execPath, [vite, "build", "--outDir", out, "--emptyOutDir", "--logLevel", "error"], {
    cwd: ROOT,
    encoding: "utf8",
    // The test runner's own environment would bring React's development build.
    env: { ...process.env, NODE_ENV: "production" },
  });
  expect(built.status).toBe(0);
  const html = readFileSync(join(out, "index.html"), "utf8");
  const linked = [...html.matchAll(/(?:src|href)="\.?\/?([^"]+\.js)"/g)].map((m) => m[1] ?? "");
  expect(linked.length).toBeGreaterThan(0);
  const page = withImports(linked);
  expect(sizeOf(page)).toBeGreaterThan(50_000);
  expect(sizeOf(page)).toBeLessThan(MOST);
  // The worker begins when the plan is shown; it shares the core with the page and brings the readings.
  const worker = withImports(readdirSync(join(out, "assets")).flatMap((f) => (isReader(f) ? [`assets/${f}`] : [])));
  const besides = worker.filter((script) => !page.includes(script));
  expect(besides.length).toBeGreaterThan(0);
  expect(sizeOf(besides)).toBeLessThan(MOST_BESIDES);
});
