/** Plans in from files or stdin, texts and documents out to files or stdout. */
import { readFileSync, renameSync, rmSync, statSync, writeFileSync } from "node:fs";
import { type Plan, printProblem, readPlan, type Report, type Units } from "../core/index.js";
import { reasonOf, Trouble } from "./trouble.js";

export interface OpenedPlan {
  readonly plan: Plan;
  readonly report: Report;
  /** As named on the command line. */
  readonly file: string;
}

const STDIN = "-";

function textOf(file: string): string {
  try {
    return readFileSync(file === STDIN ? 0 : file, "utf8");
  } catch (error) {
    throw new Trouble(`${file}: ${reasonOf(error)}`);
  }
}

/**
 * Reads a plan; `-` is stdin. What could not be used as it stands is told line by line on stderr.
 * A file that holds no plan throws a Trouble whose line names file, record and property.
 */
export function openPlan(file: string, units?: Units): OpenedPlan {
  const name = file === STDIN ? "stdin" : file;
  const result = readPlan(textOf(file), name);
  if (!result.ok) throw new Trouble(...result.report.problems.map(printProblem));
  for (const problem of result.report.problems) console.error(printProblem(problem));
  return { plan: units ? { ...result.plan, units } : result.plan, report: result.report, file: name };
}

/**
 * Writes to a file, or to stdout where none is named. A file that exists is written over only with `force`, and then
 * by way of a neighbour that takes its place, so that a full disk costs nobody their plan.
 */
export function writeOut(text: string | Uint8Array, file: string | undefined, force: boolean): void {
  if (file === undefined || file === STDIN) {
    process.stdout.write(text);
    return;
  }
  try {
    if (!force) writeFileSync(file, text, { flag: "wx" });
    else if (statSync(file, { throwIfNoEntry: false })?.isFile() === false) writeFileSync(file, text);
    else replaceFile(file, text);
  } catch (error) {
    throw new Trouble(`${file}: ${reasonOf(error)}`);
  }
}

function replaceFile(file: string, text: string | Uint8Array): void {
  const beside = `${file}.${process.pid}.part`;
  try {
    writeFileSync(beside, text, { flag: "wx" });
    renameSync(beside, file);
  } catch (error) {
    rmSync(beside, { force: true });
    throw error;
  }
}
