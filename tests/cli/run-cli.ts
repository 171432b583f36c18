/** Runs the built command line as people do: a process of its own, texts in, texts and an exit code out. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

export const root = fileURLToPath(new URL("../../", import.meta.url));
const bundle = join(root, "dist/cli/ruling-grade.js");

export interface CliRun {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

export function runCli(
  args: readonly string[],
  options: { readonly input?: string; readonly cwd?: string } = {},
): CliRun {
  const { status, stdout, stderr } = spawnSync(process.execPath, [bundle, ...args], {
    encoding: "utf8",
    input: options.input ?? "",
    cwd: options.cwd ?? root,
    maxBuffer: 100_000_000,
  });
  return { code: status, out: stdout, err: stderr };
}

const BUILT = { cli: "dist/cli/ruling-grade.js", core: "dist/core/index.js" } as const;

/** Builds what is named if its sources are newer. */
export function ensureBuilt(name: keyof typeof BUILT): void {
  const script = `import { isStale } from "./tools/fresh.mjs"; import { build } from "./tools/build.mjs";
    process.exitCode = !isStale("${BUILT[name]}") || build(["${name}"]) ? 0 : 1;`;
  const args = ["--input-type=module", "-e", script];
  const { status, stderr } = spawnSync(process.execPath, args, { cwd: root, encoding: "utf8" });
  if (status !== 0) throw new Error(stderr);
}

/** A folder of its own for a test's files, and how to be rid of it. */
export function workFolder(): { readonly path: string; readonly remove: () => void } {
  const path = mkdtempSync(join(tmpdir(), "ruling-grade-cli-"));
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) };
}
