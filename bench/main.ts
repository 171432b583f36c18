/** Every benchmark of the core, one after another, in one process: what counts are the ratios within one run. */
import { availableParallelism, loadavg } from "node:os";
import { measureClearance } from "./measure-clearance.js";
import { measureClimb } from "./measure-climb.js";
import { measureFile } from "./measure-file.js";
import { measureJoin } from "./measure-join.js";
import { measureLayouts, measureMemory } from "./measure-layout.js";
import { printResults, type Result } from "./report.js";

function* measure(): Generator<Result> {
  for (const part of [measureJoin, measureFile, measureClearance, measureClimb, measureLayouts, measureMemory])
    yield* part();
}

await printResults({ load: loadavg()[0] ?? 0, processors: availableParallelism() }, measure());
