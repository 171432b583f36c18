/** Tables as sheets: rows in columns side by side, as many as the paper is wide for, over as many sheets as they need. */
import type { Millimetres } from "../../geometry/units.js";
import { element, type Markup } from "../svg/markup.js";
import { paperLine } from "../svg/shapes.js";
import { px, type Sheet } from "../svg/sheet.js";
import type { Size } from "../svg/sheet-layout.js";
import { shortened } from "../svg/title-block.js";
import { FIELD_INSET, framed, insideEdge, pageOf, textAt } from "./sheet-frame.js";
import type { PdfPage } from "./write-pdf.js";

export interface TableColumn {
  readonly heading: string;
  /** Share of the table's width. */
  readonly share: number;
  /** Figures stand at the column's end. */
  readonly end?: boolean;
}

export interface TableRow {
  readonly cells: readonly string[];
  /** A row that begins a group: its first cell alone, in bold. */
  readonly group?: boolean;
  readonly colour?: string;
}

export interface Table {
  readonly title: string;
  readonly columns: readonly TableColumn[];
  readonly rows: readonly TableRow[];
}

/** A table reads well no wider than this, mm. */
const WIDE: Millimetres = 185;
/** Heights in px. */
const ROW = 15;
const TITLE = 26;
const GUTTER = 26;
/** Kept free at a column's end. */
const PAD = 12;
/** Lettering of tables, px. */
const SIZE = 11;

type Line =
  | { readonly kind: "title"; readonly table: Table }
  | { readonly kind: "head"; readonly table: Table }
  | { readonly kind: "row"; readonly table: Table; readonly row: TableRow };

export function tablePages(
  sheet: Sheet,
  size: Size,
  heading: string,
  tables: readonly Table[],
  number: (i: number) => string,
): PdfPage[] {
  const inside = insideEdge(size);
  const inset = px(sheet, FIELD_INSET + 14);
  const top = px(sheet, FIELD_INSET + 44);
  const gutter = px(sheet, GUTTER);
  const room = inside.width - 2 * inset;
  const columns = Math.max(1, Math.floor((room + gutter) / (WIDE + gutter)));
  const width = (room - (columns - 1) * gutter) / columns;
  const bottom = inside.height - inset;
  const pages: Markup[][] = [];
  let [column, y] = [columns, bottom];
  const begin = (): void => {
    column++;
    if (column >= columns) {
      pages.push([]);
      column = 0;
    }
    y = top;
  };
  const put = (line: Line): void => {
    const left = inset + column * (width + gutter);
    pages.at(-1)?.push(lineMarks(sheet, line, left, y, width));
    y += px(sheet, line.kind === "title" ? TITLE : ROW);
  };
  for (const table of tables) {
    if (table.rows.length === 0) continue;
    // A title, its headings and two rows stay together.
    if (y + px(sheet, TITLE + 3 * ROW) > bottom) begin();
    put({ kind: "title", table });
    put({ kind: "head", table });
    for (const row of table.rows) {
      if (y + px(sheet, row.group ? 2 * ROW : ROW) > bottom) {
        begin();
        put({ kind: "head", table });
      }
      put({ kind: "row", table, row });
    }
    y += px(sheet, TITLE);
  }
  return pages.map((marks, i) => pageOf(size, sheet, [framed(sheet, inside, heading, number(i)), ...marks]));
}

function lineMarks(sheet: Sheet, line: Line, left: number, y: number, width: number): Markup {
  const { palette } = sheet;
  if (line.kind === "title") return textAt(sheet, { x: left, y: y + px(sheet, 6) }, line.table.title, { bold: true });
  const rule = (weight: number): Markup =>
    element("path", {
      d: paperLine({ x: left, y: y + px(sheet, ROW / 2) }, { x: left + width, y: y + px(sheet, ROW / 2) }),
      fill: "none",
      stroke: palette.rule,
      "stroke-width": px(sheet, weight),
    });
  if (line.kind === "row" && line.row.group) {
    return textAt(sheet, { x: left, y }, line.row.cells[0] ?? "", { bold: true, colour: palette.ink2 }) + rule(0.6);
  }
  const cells = line.kind === "head" ? line.table.columns.map(({ heading }) => heading) : line.row.cells;
  const colour = line.kind === "head" ? palette.ink3 : (line.row.colour ?? palette.ink);
  let x = left;
  const marks = line.table.columns.map(({ share, end }, i) => {
    const wide = width * share;
    const text = shortened(sheet, cells[i] ?? "", wide - px(sheet, PAD), SIZE);
    const at = { x: end ? x + wide - px(sheet, PAD) : x, y };
    x += wide;
    return textAt(sheet, at, text, { colour, end: end === true });
  });
  return marks.join("") + rule(line.kind === "head" ? 1 : 0.4);
}
