/** Texts in columns on a terminal, counted in characters. */

/** Padded to the right, or to the left for a negative width; counted in characters, not code units. */
export function pad(text: string, width: number): string {
  const space = " ".repeat(Math.max(0, Math.abs(width) - [...text].length));
  return width < 0 ? space + text : text + space;
}

/** Lines of a table of figures: heads over them, every column set to the right, the first to the left where it says so. */
export function columnsOfText(
  heads: readonly string[],
  rows: readonly (readonly string[])[],
  first: "left" | "right" = "right",
): string[] {
  const widths = heads.map((head, i) =>
    Math.max(...[head, ...rows.map((row) => row[i] ?? "")].map((t) => [...t].length)),
  );
  return [heads, ...rows].map((row) =>
    widths
      .map((width, i) => pad(row[i] ?? "", i === 0 && first === "left" ? width : -width))
      .join("  ")
      .trimEnd(),
  );
}
