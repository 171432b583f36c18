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
  const linked = [...html.matchAll(/(?:src|href)="\.?\/?([^"]+\.js)"/g)].map((m) => m[1] ?? "");
  expect(linked.length).toBeGreaterThan(0);
  // What the worker and its readings need is not linked from the page, but no plan is shown without its readings.
  const scripts = withImports(
    linked.concat(
      readdirSync(join(out, "assets"))
        .filter(isReader)
        .map((f) => `assets/${f}`),
    ),
  );
  expect(scripts.length).toBeGreaterThan(linked.length);
  const size = scripts.reduce((sum, file) => sum + gzipSync(readFileSync(join(out, file)), { level: 9 }).length, 0);
  expect(size).toBeGreaterThan(50_000);
  expect(size).toBeLessThan(MOST);
});
