/** The right margin: every reading by group, sign and word before value and limit. Rows never reorder. */
import {
  grouped,
  limitText,
  type Reading,
  tally,
  type Units,
  VERDICTS,
  type Verdict,
  valueText,
} from "../core/index.js";
import type { Opened } from "./opened.js";
import { ProblemReport } from "./ProblemReport.js";
import { VerdictSign } from "./VerdictSign.js";

export interface ReadingsColumnProps {
  readonly opened: Opened | undefined;
  readonly units: Units;
}

const TALLIED: readonly { readonly verdict: Verdict; readonly word: string }[] = [
  { verdict: "fails", word: "beyond the limit" },
  { verdict: "tight", word: "tight" },
  { verdict: "clear", word: "clear" },
];

export function ReadingsColumn({ opened, units }: ReadingsColumnProps) {
  const readings = opened?.ok ? opened.readings : [];
  const counts = tally(readings);
  return (
    <aside className="column" aria-labelledby="readings-title">
      <div className="column-head">
        <h2 id="readings-title">Readings</h2>
        <ul className="tally">
          {TALLIED.filter(({ verdict }) => counts[verdict] > 0).map(({ verdict, word }) => (
            <li key={verdict} className={verdict}>
              <VerdictSign verdict={verdict} /> {counts[verdict]} {word}
            </li>
          ))}
        </ul>
      </div>
      {opened?.ok && opened.problems.length > 0 && <ProblemReport opened={opened} />}
      {readings.length === 0 && <p className="quiet">Nothing to measure yet.</p>}
      {grouped(readings).map((group) => (
        <section key={group.name} aria-labelledby={`group-${group.name}`}>
          <h3 id={`group-${group.name}`}>{group.name}</h3>
          <ul className="readings">
            {group.readings.map((reading) => (
              <ReadingRow key={`${reading.id}:${reading.scope ?? ""}`} reading={reading} units={units} />
            ))}
          </ul>
        </section>
      ))}
    </aside>
  );
}

function ReadingRow({ reading, units }: { readonly reading: Reading; readonly units: Units }) {
  const { verdict } = reading;
  const limit = limitText(reading, units);
  return (
    <li className={`reading ${verdict}`}>
      <details>
        <summary>
          <span className="verdict">
            <VerdictSign verdict={verdict} /> {VERDICTS[verdict].word}
          </span>
          <span className="what">{reading.label}</span>
          <b className="figure">{valueText(reading, units)}</b>
          <span className="limit figure">{limit}</span>
        </summary>
        <dl className="quiet">
          <dt>Limit from</dt>
          <dd>{reading.source || "nothing limits it"}</dd>
          {reading.reason && (
            <>
              <dt>Owner’s reason</dt>
              <dd>{reading.reason}</dd>
            </>
          )}
          {reading.places[0] && (
            <>
              <dt>Worst at</dt>
              <dd>
                {reading.places[0].thing}
                {reading.places[0].note ? `: ${reading.places[0].note}` : ""}
              </dd>
            </>
          )}
        </dl>
      </details>
    </li>
  );
}
