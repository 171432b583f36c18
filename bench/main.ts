/** Every benchmark, one after another, in one process: what counts are the ratios within one run. */
import { measureClearance } from "./measure-clearance.js";
import { measureFile } from "./measure-file.js";
import { measureJoin } from "./measure-join.js";
import { measureLayouts, measureMemory } from "./measure-layout.js";
import { outcomeOf, type Result, resultText } from "./report.js";

const asJson = process.argv.includes("--json");
const results: Result[] = [];
for (const measure of [measureJoin, measureFile, measureClearance, measureLayouts, measureMemory]) {
  for (const result of measure()) {
    results.push(result);
    if (!asJson) console.log(resultText(result));
  }
}
if (asJson) console.log(JSON.stringify(results.map((result) => ({ ...result, outcome: outcomeOf(result) }))));
process.exitCode = results.some(({ wrong }) => wrong) ? 1 : 0;
