/** Every benchmark, one after another, in one process: what counts are the ratios within one run. */
import { availableParallelism, loadavg } from "node:os";
import { measureClearance } from "./measure-clearance.js";
import { measureFile } from "./measure-file.js";
import { measureJoin } from "./measure-join.js";
import { measureLayouts, measureMemory } from "./measure-layout.js";
import { outcomeOf, type Result, resultText } from "./report.js";

const asJson = process.argv.includes("--json");
const results: Result[] = [];
/** More at work than there are processors: milliseconds are then too long, and only ratios tell something. */
const load = loadavg()[0] ?? 0;
const machine = { load, processors: availableParallelism() };
if (!asJson) console.log(`load ${load.toFixed(1)} on ${machine.processors} processors before the start\n`);
for (const measure of [measureJoin, measureFile, measureClearance, measureLayouts, measureMemory]) {
  for (const result of measure()) {
    results.push(result);
    if (!asJson) console.log(resultText(result));
  }
}
if (asJson)
  console.log(
    JSON.stringify({ machine, results: results.map((result) => ({ ...result, outcome: outcomeOf(result) })) }),
  );
process.exitCode = results.some(({ wrong }) => wrong) ? 1 : 0;
