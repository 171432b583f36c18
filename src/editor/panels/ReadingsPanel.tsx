/** Readings: a table of every rule's value and limit, sign and word first. Rows keep their order; late ones stay. */
import { useMemo } from "react";
import { tally } from "../../exchange/readings-text.js";
import { readingKey } from "../../readings/reading.js";
import type { Reading, Verdict } from "../../readings/reading.js";
import { useEditor } from "../editor-context.js";
import { VerdictSign } from "../VerdictSign.js";
import { ReadingRow } from "./readings/ReadingRow.js";
import { readingGroups } from "./readings/reading-rows.js";

const TALLIED: readonly { readonly verdict: Verdict; readonly word: string }[] = [
  { verdict: "fails", word: "beyond the limit" },
  { verdict: "tight", word: "tight" },
  { verdict: "clear", word: "clear" },
];

export function ReadingsPanel() {
  const readings = useEditor((state) => state.readings);
  const late = useEditor((state) => state.readingsLate);
  const groups = useMemo(() => readingGroups(readings), [readings]);
  return (
    <section className="readings" aria-labelledby="readings-title" aria-busy={late}>
      <header className="column-head">
        <h2 id="readings-title">Readings</h2>
        <Tally readings={readings} />
      </header>
      {groups.length > 0 && groups.every(({ quiet }) => quiet) && (
        <p className="quiet all-clear-note">Nothing is tight, nothing fails.</p>
      )}
      {groups.length === 0 ? (
        <p className="quiet">{late ? "Measuring …" : "Nothing to measure yet."}</p>
      ) : (
        <table>
          <caption className="unseen">Each reading with its limit; choose one to see where it is worst</caption>
          <colgroup>
            <col className="verdict" />
            <col className="what" />
            <col className="value" />
            <col />
          </colgroup>
          <thead className="unseen">
            <tr>
              <th scope="col">Verdict</th>
              <th scope="col">Reading</th>
              <th scope="col">Value</th>
              <th scope="col">Limit</th>
            </tr>
          </thead>
          {groups.map((group) => (
            <tbody key={group.name} className={group.quiet ? "all-clear" : undefined}>
              <tr className="group">
                <th scope="rowgroup" colSpan={4}>
                  {group.name}
                </th>
              </tr>
              {group.readings.map((reading) => (
                <ReadingRow key={readingKey(reading)} reading={reading} />
              ))}
            </tbody>
          ))}
        </table>
      )}
    </section>
  );
}

function Tally({ readings }: { readonly readings: readonly Reading[] }) {
  const counts = tally(readings);
  return (
    <ul className="tally">
      {TALLIED.filter(({ verdict }) => counts[verdict] > 0).map(({ verdict, word }) => (
        <li key={verdict} className={verdict}>
          <VerdictSign verdict={verdict} /> {counts[verdict]} {word}
        </li>
      ))}
    </ul>
  );
}
