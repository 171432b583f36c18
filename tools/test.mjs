/** Every test: the suite under Node, then the page in a browser. Both run even when the first fails. */
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { build } from "./build.mjs";
import { obtainPoppler } from "./find-poppler.mjs";

process.chdir(fileURLToPath(new URL("..", import.meta.url)));
const run = (...args) => spawnSync(process.execPath, args, { stdio: "inherit" }).status === 0;
if (!obtainPoppler()) console.error("The tests of printed pages need poppler-utils: install it.");
const built = build(["core", "cli"]);
const suite = run("node_modules/vitest/vitest.mjs", "run");
const page = run("tools/browser-tests.mjs");
process.exitCode = built && suite && page ? 0 : 1;
