/** The imports that must not exist are refused by the linter, with a message that says where the thing belongs. */
import { spawnSync } from "node:child_process";
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

const root = fileURLToPath(new URL("../../", import.meta.url));
let copy = "";

beforeAll(() => {
  copy = mkdtempSync(join(tmpdir(), "ruling-grade-imports-"));
  copyFileSync(join(root, ".oxlintrc.json"), join(copy, ".oxlintrc.json"));
});
afterAll(() => rmSync(copy, { recursive: true, force: true }));

/** What the linter says of a file that imports `specifier`. */
function lint(file: string, specifier: string) {
  const path = join(copy, file);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, `import * as taken from "${specifier}";\nexport { taken };\n`);
  const oxlint = join(root, "node_modules/oxlint/bin/oxlint");
  const run = spawnSync(process.execPath, [oxlint, "-c", ".oxlintrc.json", "-f", "json", file], { cwd: copy });
  const { diagnostics } = JSON.parse(run.stdout.toString()) as { diagnostics: { code: string; help: string }[] };
  return { status: run.status, refusals: diagnostics.filter((d) => d.code.includes("no-restricted-imports")) };
}

const REFUSED: [file: string, specifier: string, says: RegExp][] = [
  ["src/geometry/a.ts", "../standards/scales.js", /knows no railway/],
  ["src/geometry/a.ts", "../plan/schema.js", /knows no railway/],
  ["src/geometry/a.ts", "zod", /bezier-js, clipper2-ts, flatbush only/],
  ["src/standards/a.ts", "../plan/schema.js", /published numbers/],
  ["src/plan/a.ts", "../layout/derive.js", /belongs in layout/],
  ["src/plan/a.ts", "flatbush", /zod only/],
  ["src/layout/a.ts", "../readings/take.js", /belongs in readings/],
  ["src/layout/a.ts", "node:fs", /files and terminals in cli/],
  ["src/readings/a.ts", "../exchange/svg/draw.js", /belongs in exchange/],
  ["src/readings/rules/a.ts", "../../exchange/svg/draw.js", /belongs in exchange/],
  ["src/readings/a.ts", "../climb/search-climb.js", /belongs in exchange/],
  ["src/layout/a.ts", "../climb/search-climb.js", /belongs in readings/],
  ["src/climb/a.ts", "../drafting/figures.js", /readings accept/],
  ["src/climb/a.ts", "../exchange/svg/draw.js", /readings accept/],
  ["src/climb/a.ts", "node:fs", /flatqueue only/],
  ["src/exchange/a.ts", "../editor/main.js", /editor\/ or cli\//],
  ["src/exchange/a.ts", "react", /Pages belong in editor/],
  ["src/exchange/a.ts", "zod", /fflate, pdf-lib only/],
  ["src/exchange/svg/a.ts", "node:path", /files and terminals in cli/],
  ["src/geometry/a.ts", "konva", /Pages belong in editor/],
  ["src/geometry/a.ts", "jsdom", /Pages belong in editor/],
  ["src/core/a.ts", "../cli/main.js", /front door/],
  ["src/core/a.ts", "react-dom", /folders below/],
  ["src/cli/a.ts", "../editor/sheet.js", /neighbours/],
  ["src/editor/a.ts", "../cli/main.js", /neighbours/],
  ["src/editor/a.ts", "node:fs", /belongs in cli/],
];

const ALLOWED: [file: string, specifier: string][] = [
  ["src/geometry/a.ts", "bezier-js"],
  ["src/geometry/a.ts", "./pose.js"],
  ["src/plan/a.ts", "zod"],
  ["src/plan/a.ts", "../standards/scales.js"],
  ["src/layout/a.ts", "../plan/schema.js"],
  ["src/readings/rules/a.ts", "../../layout/layout.js"],
  ["src/climb/a.ts", "../readings/take.js"],
  ["src/climb/a.ts", "flatqueue"],
  ["src/drafting/a.ts", "../climb/search-climb.js"],
  ["src/exchange/svg/a.ts", "../../readings/take.js"],
  ["src/core/a.ts", "../exchange/svg/draw.js"],
  ["src/cli/a.ts", "node:fs"],
  ["src/cli/a.ts", "../core/index.js"],
  ["src/editor/a.ts", "react"],
  ["src/editor/a.ts", "../core/index.js"],
];

describe("imports run one way", () => {
  it.each(REFUSED)("%s may not import %s", (file, specifier, says) => {
    const { status, refusals } = lint(file, specifier);
    expect(status).not.toBe(0);
    expect(refusals).toHaveLength(1);
    expect(refusals[0]?.help).toMatch(says);
  });

  it.each(ALLOWED)("%s may import %s", (file, specifier) => {
    expect(lint(file, specifier).refusals).toEqual([]);
  });
});
