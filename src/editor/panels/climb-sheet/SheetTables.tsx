/** The climb sheet's tables: what this climb takes, held against its limits, and what other grades and heights would. */
import type { ReactNode } from "react";
import { VERDICTS } from "../../../drafting/verdict-words.js";
import type { SheetFact, SheetTable } from "../../../exchange/climb-sheet-text.js";
import { VerdictSign } from "../../VerdictSign.js";

export function FactTable({ facts }: { readonly facts: readonly SheetFact[] }) {
  return (
    <table className="sheet-facts">
      <caption className="unseen">What this climb takes</caption>
      <thead className="unseen">
        <tr>
          <th scope="col">What</th>
          <th scope="col">Value</th>
          <th scope="col">In the other unit</th>
          <th scope="col">Verdict</th>
          <th scope="col">Limit</th>
        </tr>
      </thead>
      <tbody>
        {facts.map(({ id, label, value, other, limit }) => (
          <tr key={id} className={limit?.verdict}>
            <th scope="row">{label}</th>
            <td className="value figure">{value}</td>
            <td className="quiet figure">{other}</td>
            <td className="verdict">
              {limit && (
                <>
                  <VerdictSign verdict={limit.verdict} /> {VERDICTS[limit.verdict].word}
                </>
              )}
            </td>
            <td className="quiet figure" title={limit?.source}>
              {limit?.text}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

export interface CostTableProps {
  readonly table: SheetTable;
  /** What the first cell of a row does when pressed, in words before its text; the row's place is told. */
  readonly take: string;
  readonly onTake: (row: number) => void;
}

/** The row asked about is marked; the first cell of every other takes its figure. */
export function CostTable({ table: { id, caption, heads, rows }, take, onTake }: CostTableProps) {
  const first = (row: number, text: string, asked: boolean): ReactNode =>
    asked ? (
      text
    ) : (
      <button type="button" className="link" aria-label={`${take} ${text}`} onClick={() => onTake(row)}>
        {text}
      </button>
    );
  return (
    // A wide table scrolls by itself, by key too.
    // oxlint-disable-next-line jsx-a11y/no-noninteractive-tabindex
    <div className="sheet-table" role="region" aria-labelledby={`sheet-${id}`} tabIndex={0}>
      <table>
        <caption id={`sheet-${id}`}>{caption}</caption>
        <thead>
          <tr>
            {heads.map((head) => (
              <th key={head} scope="col">
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ cells, asked, verdict }, row) => (
            <tr key={cells[0]} className={verdict} aria-current={asked || undefined}>
              {cells.map((cell, i) =>
                i === 0 ? (
                  <th key={heads[i]} scope="row">
                    {(verdict === "tight" || verdict === "fails") && (
                      <>
                        <VerdictSign verdict={verdict} />
                        <span className="unseen">{VERDICTS[verdict].word} </span>
                      </>
                    )}
                    {first(row, cell, asked)}
                  </th>
                ) : (
                  <td key={heads[i]} className="figure">
                    {cell}
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
