/** What has become of a version since: records, limits, and readings beside one another. */
import { useEffect, useState } from "react";
import { type Candidate, compare } from "../../../exchange/compare.js";
import { deriveLayout } from "../../../layout/derive.js";
import { type PlanDifferences, planDifferences, type RecordDifference } from "../../../plan/differences.js";
import type { Plan } from "../../../plan/schema.js";
import { sharing } from "../../../plan/sharing.js";
import type { Reading } from "../../../readings/reading.js";
import { useEditor, useEditorStore } from "../../editor-context.js";
import type { FileDesk } from "../../files/file-desk.js";
import type { VersionEntry } from "../../files/shelf.js";
import { readInSlices } from "../../reader/here.js";
import { ComparedTable } from "../options/ComparedTable.js";
import "../options/options.css";

export interface VersionDifferencesProps {
  readonly files: FileDesk;
  readonly version: VersionEntry;
}

interface Found {
  readonly differences: PlanDifferences;
  readonly candidates: readonly Candidate[];
}

export function VersionDifferences({ files, version }: VersionDifferencesProps) {
  const store = useEditorStore();
  const present = useEditor((state) => state.history.plan);
  const units = useEditor((state) => state.units);
  const [found, setFound] = useState<Found | "unreadable">();
  useEffect(() => {
    let over = false;
    const look = async (): Promise<void> => {
      const read = await files.versionPlan(version.number).catch(() => undefined);
      if (over) return;
      if (!read) return setFound("unreadable");
      const then = sharing(present, read);
      const { settled } = store.getState();
      const before = await candidateOf("Then", then, settled);
      const now = await candidateOf("Now", present, settled);
      if (!over) setFound({ differences: planDifferences(then, present), candidates: [before, now] });
    };
    void look();
    return () => {
      over = true;
    };
  }, [files, store, version.number, present]);
  if (found === undefined) return <p className="quiet">Comparing…</p>;
  if (found === "unreadable") return <p className="fault">That version cannot be read any more.</p>;
  const { differences, candidates } = found;
  const rows = rowsOf(differences);
  return (
    <div className="version-differences">
      {rows.length === 0 ? (
        <p>It is the present, letter for letter.</p>
      ) : (
        <dl>
          {rows.map(({ word, names }) => (
            <div key={word}>
              <dt>{word}</dt>
              <dd>{names.join(", ")}</dd>
            </div>
          ))}
        </dl>
      )}
      {rows.length > 0 && (
        <ComparedTable
          comparison={compare(candidates, units)}
          // The table tells its columns apart by this.
          candidates={candidates.map((candidate) => ({ ...candidate, option: candidate.name }))}
          onlyDifferences
        />
      )}
    </div>
  );
}

/** Longer lists are not read. */
const SHOWN = 12;

const listed = (all: readonly RecordDifference[]): string[] => [
  ...all.slice(0, SHOWN).map(({ name }) => name),
  ...(all.length > SHOWN ? [`and ${all.length - SHOWN} more`] : []),
];

function rowsOf({ added, removed, changed, settings, properties }: PlanDifferences) {
  return [
    { word: "Added since", names: listed(added) },
    { word: "Gone since", names: listed(removed) },
    { word: "Moved since", names: listed(changed.filter(({ moved }) => moved)) },
    { word: "Changed since", names: listed(changed.filter(({ moved }) => !moved)) },
    { word: "Limits changed", names: settings.map(({ path }) => path.replace("classes.", "").replaceAll(".", ", ")) },
    { word: "Also changed", names: [...properties] },
  ].filter(({ names }) => names.length > 0);
}

async function candidateOf(name: string, plan: Plan, near: Parameters<typeof deriveLayout>[1]): Promise<Candidate> {
  const layout = plan === near?.plan ? near : deriveLayout(plan, near);
  // In slices that give way to the hand.
  const readings = await new Promise<readonly Reading[]>((resolve) => {
    readInSlices((work) => setTimeout(work))((taken) => resolve(taken)).read(plan, layout);
  });
  return { name, option: undefined, plan, layout, readings };
}
