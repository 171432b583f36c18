/** The command line from a working copy: built again when its sources are newer, then run. */
import { build } from "./build.mjs";
import { isStale } from "./fresh.mjs";

const BUNDLE = "dist/cli/ruling-grade.js";
if (isStale(BUNDLE) && !build(["cli"])) process.exitCode = 2;
else await import(new URL(`../${BUNDLE}`, import.meta.url));
