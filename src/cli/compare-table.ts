/** A comparison as a table of text: a row a reading, a column an option or a file; what differs has its sign and word. */
import {
  CHANGES,
  type ComparedCell,
  type ComparedRow,
  type Comparison,
  limitNamed,
  limitValueText,
  type PlanDifferences,
  type RecordDifference,
  type Units,
  VERDICTS,
} from "../core/index.js";
import { pad } from "./text-columns.js";

/** Rows that are alike are left out with `onlyDifferences`, and counted. */
export function comparisonTable({ names, groups }: Comparison, onlyDifferences: boolean): string[] {
  const shown = groups.map(({ name, rows }) => ({
    name,
    rows: onlyDifferences ? rows.filter((row) => row.differs) : rows.filter((row) => !row.figure || row.differs),
  }));
  const texts = shown.flatMap(({ rows }) => rows.map((row) => ({ row, cells: row.cells.map(cellText) })));
  const widest = (lines: readonly string[]): number => Math.max(0, ...lines.map((line) => [...line].length));
  const label = widest(texts.map(({ row }) => labelText(row)));
  const widths = names.map((name, i) => widest([name, ...texts.map(({ cells }) => cells[i] ?? "")]));
  const line = (first: string, cells: readonly string[]): string =>
    [pad(first, label), ...cells.map((cell, i) => pad(cell, widths[i] ?? 0))].join("  ").trimEnd();
  const lines = [line("", names)];
  for (const { name, rows } of shown) {
    if (rows.length === 0) continue;
    lines.push(
      "",
      name,
      ...texts.filter(({ row }) => rows.includes(row)).map(({ row, cells }) => line(labelText(row), cells)),
    );
  }
  const all = groups.flatMap(({ rows }) => rows.filter(({ figure }) => !figure));
  const differ = all.filter((row) => row.differs).length;
  const first = names[0] ?? "";
  if (names.length > 1)
    lines.push("", `${differ} of ${all.length} rows differ; better and worse are meant beside ${first}`);
  return lines;
}

const labelText = ({ label, figure, differs }: ComparedRow): string =>
  `${differs ? CHANGES.other.sign : " "} ${figure ? `  ${label}` : label}`;

/** `○ 2.34 % (≤ 3 %)`, `■ 3.1 % (≤ 3 %) − worse`. */
function cellText({ verdict, text, limit, change }: ComparedCell): string {
  const sign = verdict === undefined || verdict === "none" ? "" : `${VERDICTS[verdict].sign} `;
  const { sign: mark, word } = CHANGES[change];
  return [`${sign}${text}`, limit === "" ? "" : `(${limit})`, change === "same" ? "" : `${mark} ${word}`]
    .filter((part) => part !== "")
    .join(" ");
}

/** What was added, removed, moved and changed from one file to the other, limits with both figures. */
export function differencesText(
  { added, removed, changed, settings, properties }: PlanDifferences,
  units: Units,
): string[] {
  const moved = changed.filter((one) => one.moved);
  const otherwise = changed.filter((one) => !one.moved);
  const list = (title: string, items: readonly string[]): string[] =>
    items.length === 0 ? [] : ["", `${title} (${items.length})`, ...items.map((item) => `  ${item}`)];
  const named = ({ name, record, properties: keys }: RecordDifference): string =>
    `${name} (${record})${keys.length > 0 ? `: ${keys.join(", ")}` : ""}`;
  const lines = [
    ...list("Added", added.map(named)),
    ...list("Removed", removed.map(named)),
    ...list("Moved", moved.map(named)),
    ...list("Changed", otherwise.map(named)),
    ...list(
      "Limits changed",
      settings.map(({ path, before, after }) => {
        const trackClass = /^classes\.(\w+)\./.exec(path)?.[1];
        const told = [before, after].map((setting) => limitValueText(path, setting?.value, units));
        const figures = told[0] === told[1] ? `${told[0] ?? ""}, from elsewhere` : told.join(" → ");
        const reason = after?.reason === undefined ? "" : ` (${after.reason})`;
        return `${limitNamed(path).name}${trackClass === undefined ? "" : `, ${trackClass}`}: ${figures}${reason}`;
      }),
    ),
    ...list("Of the plan", properties),
  ];
  return lines.length > 0 ? lines : ["", "Nothing in the plans differs."];
}
