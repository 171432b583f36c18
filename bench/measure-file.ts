/** Opening a large file: from its text to a checked plan. */
import { readPlan } from "../src/plan/read.js";
import { writePlan } from "../src/plan/write.js";
import { hallPlan } from "./plans.js";
import type { Result } from "./report.js";
import { medianOf } from "./timing.js";

export function measureFile(): Result[] {
  const text = writePlan(hallPlan(5000));
  let problems = 0;
  const read = medianOf(5, () => {
    const result = readPlan(text);
    problems = result.ok ? result.report.problems.length : Number.NaN;
  });
  const parse = medianOf(5, () => void JSON.parse(text));
  return [
    {
      name: "reading a file of 5,000 tracks (part of opening it, goal for all of it 500 ms)",
      value: read,
      unit: "ms",
      goal: { most: 500 },
      note: `${(text.length / 1e6).toFixed(1)} MB; ${(read / parse).toFixed(1)} times a bare JSON parse; ${problems} problems`,
      ...(problems !== 0 && { wrong: true }),
    },
  ];
}
