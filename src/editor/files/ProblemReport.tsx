/** What is the matter with a file, record by record. */
import type { Problem } from "../../plan/problem.js";
import type { FileReport } from "./file-desk.js";

/** Longer lists are not read; the first problems are the ones to mend. */
const SHOWN = 50;

export function ProblemReport({ report }: { readonly report: FileReport }) {
  const { file, problems, opened } = report;
  const lost = problems.some((problem) => problem.severity === "error");
  const heading = !opened
    ? `${file} cannot be opened`
    : lost
      ? `Parts of ${file} could not be used; the rest is open`
      : `Look at these in ${file}`;
  return (
    <section className="report" aria-labelledby="report-title">
      <h2 id="report-title">{heading}</h2>
      <ul>
        {problems.slice(0, SHOWN).map((problem) => (
          <li key={`${where(problem)} ${problem.message}`}>
            {where(problem) && <strong>{where(problem)}: </strong>}
            {problem.message}
          </li>
        ))}
      </ul>
      {problems.length > SHOWN && <p>and {problems.length - SHOWN} more</p>}
      {opened && lost && <p>What could not be used stays in the file when you save, set aside whole.</p>}
    </section>
  );
}

const where = (problem: Problem): string => [problem.record, problem.property].filter((part) => part !== "").join(": ");
