/** What is the matter with a file, record by record. */
import type { Problem } from "../core/index.js";
import type { Opened } from "./opened.js";

/** Longer lists are not read; the first problems are the ones to mend. */
const SHOWN = 50;

export function ProblemReport({ opened }: { readonly opened: Opened }) {
  const { file, problems, ok } = opened;
  const lost = problems.some((problem) => problem.severity === "error");
  const heading = !ok
    ? `${file} cannot be opened`
    : lost
      ? `Parts of ${file} could not be used`
      : `Look at these in ${file}`;
  return (
    <section className="report" role="alert" aria-labelledby="report-title">
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
    </section>
  );
}

const where = (problem: Problem): string => [problem.record, problem.property].filter((part) => part !== "").join(": ");
