/**
 * The law of reading: whatever a file holds is in the plan or in its `setAside`. Told by leaves: every text, number and
 * empty thing of the file must be found again at least as often.
 */
import { expect } from "vitest";
import { planSchema } from "../../src/plan/schema.js";
import { printProblem } from "../../src/plan/problem.js";
import { readPlan, type ReadResult } from "../../src/plan/read.js";

function countLeaves(value: unknown, counts: Map<string, number>): Map<string, number> {
  const items: unknown[] = typeof value === "object" && value !== null ? Object.values(value) : [];
  if (items.length > 0) for (const item of items) countLeaves(item, counts);
  else {
    const leaf = JSON.stringify(value);
    counts.set(leaf, (counts.get(leaf) ?? 0) + 1);
  }
  return counts;
}

/** Leaves of a file's contents that are not in what was read; its format and version apart. */
export function lostLeaves(contents: object, read: object): string[] {
  const { format: _format, version: _version, ...rest } = Object.assign(Object.create(null), contents);
  const kept = countLeaves(read, new Map());
  // A collection or the list of what is set aside may be empty and then need not be there.
  return [...countLeaves(rest, new Map())]
    .filter(([leaf, count]) => leaf !== "{}" && leaf !== "[]" && (kept.get(leaf) ?? 0) < count)
    .map(([leaf]) => leaf);
}

/** Reads a text and holds it to every law; gives the result for more. */
export function readLawfully(text: string, contents: unknown): ReadResult {
  const result = readPlan(text, "hostile.plan.json");
  const unclear = result.report.problems.filter(
    (problem) =>
      !/^hostile\.plan\.json: [^\n\r]+$/.test(printProblem(problem)) ||
      /Invalid input|\[object|undefined$/.test(problem.message),
  );
  expect(unclear).toEqual([]);
  if (result.ok) {
    expect(planSchema.safeParse(result.plan).success).toBe(true);
    if (typeof contents === "object" && contents !== null) expect(lostLeaves(contents, result.plan)).toEqual([]);
  } else {
    expect(result.report.problems.some((problem) => problem.severity === "error")).toBe(true);
  }
  return result;
}
