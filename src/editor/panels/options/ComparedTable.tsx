/** Readings of the options, a row each; what differs from the first has a sign and a word, and where it is worst is flown to. */
import {
  type Candidate,
  CHANGES,
  type ComparedCell,
  type ComparedRow,
  type Comparison,
} from "../../../exchange/compare.js";
import { VERDICTS } from "../../../exchange/readings-text.js";
import { VerdictSign } from "../../VerdictSign.js";

export interface ComparedTableProps {
  readonly comparison: Comparison;
  readonly candidates: readonly Candidate[];
  readonly onlyDifferences: boolean;
}

export function ComparedTable({ comparison, candidates, onlyDifferences }: ComparedTableProps) {
  const groups = comparison.groups
    .map(({ name, rows }) => ({ name, rows: rows.filter((row) => row.differs || (!onlyDifferences && !row.figure)) }))
    .filter(({ rows }) => rows.length > 0);
  const [first, ...others] = comparison.names;
  if (groups.length === 0) return <p className="quiet">All readings are alike.</p>;
  return (
    <table className="compared">
      <caption className="quiet">
        {listed(others)} beside {first}:{" "}
        {Object.values(CHANGES)
          .flatMap(({ sign, word }) => (sign ? [`${sign} ${word}`] : []))
          .join(", ")}
      </caption>
      <thead>
        <tr>
          <th scope="col">
            <span className="unseen">Reading</span>
          </th>
          {candidates.map(({ option, name }) => (
            <th key={option ?? ""} scope="col">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      {groups.map(({ name, rows }) => (
        <tbody key={name}>
          <tr className="group">
            <th scope="rowgroup" colSpan={comparison.names.length + 1}>
              {name}
            </th>
          </tr>
          {rows.map((row) => (
            <Row key={row.key} row={row} candidates={candidates} />
          ))}
        </tbody>
      ))}
    </table>
  );
}

function Row({ row, candidates }: { readonly row: ComparedRow; readonly candidates: readonly Candidate[] }) {
  return (
    <tr className={row.differs ? "differs" : undefined} data-figure={row.figure || undefined}>
      <th scope="row">{row.label}</th>
      {row.cells.map((cell, i) => (
        <Cell key={candidates[i]?.option ?? ""} cell={cell} />
      ))}
    </tr>
  );
}

function Cell({ cell: { text, verdict, limit, change } }: { readonly cell: ComparedCell }) {
  const marked = verdict === "tight" || verdict === "fails";
  return (
    <td className={verdict} title={limit === "" ? undefined : `Limit ${limit}`}>
      <span className="figure">
        {marked && (
          <>
            <VerdictSign verdict={verdict} />
            <span className="unseen">{VERDICTS[verdict].word}</span>{" "}
          </>
        )}
        <b>{text}</b>
      </span>
      {change !== "same" && (
        <span className="change">
          {CHANGES[change].sign} {CHANGES[change].word}
        </span>
      )}
    </td>
  );
}

const listed = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? "") : `${names.slice(0, -1).join(", ")} and ${names.at(-1) ?? ""}`;
