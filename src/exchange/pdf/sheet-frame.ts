/** What every sheet of a drawing set has in common: its paper's edge, its palette, its number, and lettering by the line. */
import type { Millimetres } from "../../geometry/units.js";
import type { Point } from "../../geometry/pose.js";
import type { Plan } from "../../plan/schema.js";
import { HATCH_STEP, WEIGHT } from "../../drafting/line-weights.js";
import { element, group, type Markup } from "../svg/markup.js";
import { PALETTES, type Palette } from "../svg/palette.js";
import { lettered, penFor, px, type Sheet } from "../svg/sheet.js";
import type { Size } from "../svg/sheet-layout.js";
import { drawFrame, FRAME } from "../svg/title-block.js";
import type { PdfPage } from "./write-pdf.js";

/** Paper is white by itself; a tint under the drawing would only cost ink. */
export const PRINT: Palette = { ...PALETTES.light, paper: "#ffffff" };

/** What printers leave white round the edge, mm (common practice, no source). */
export const EDGE: Millimetres = 7;

export const insideEdge = ({ width, height }: Size): Size => ({ width: width - 2 * EDGE, height: height - 2 * EDGE });

/** A page from the marks of what lies inside its edge. */
export const pageOf = (size: Size, sheet: Sheet, marks: readonly Markup[]): PdfPage => ({
  ...size,
  marks: element("svg", { x: EDGE, y: EDGE, ...insideEdge(size) }, ...marks),
  hatch: { step: px(sheet, HATCH_STEP), weight: px(sheet, WEIGHT.hatch), colour: PRINT.wall },
});

/** A sheet whose measures are those of the paper, for lettering and tables. */
export const paperSheet = (plan: Plan): Sheet => ({
  plan,
  scale: 1,
  pen: penFor(20),
  palette: PRINT,
  origin: { x: 0, y: 0 },
});

/** Where a framed sheet's own matter lies, mm inside its edge. */
export const FIELD_INSET = FRAME.outer + FRAME.zone;

/** A frame with a heading on the left and the sheet's number on the right. */
export function framed(sheet: Sheet, size: Size, heading: string, number: string): Markup {
  const inset = px(sheet, FIELD_INSET + 14);
  const y = px(sheet, FIELD_INSET + 16);
  const words = { size: 12, colour: sheet.palette.ink2, anchor: "end" as const };
  return group({}, [
    drawFrame(sheet, size),
    lettered(sheet, { x: inset, y }, heading, { size: 17, colour: sheet.palette.ink, face: "name", anchor: "start" }),
    lettered(sheet, { x: size.width - inset, y }, number, words),
  ]);
}

export const textAt = (
  sheet: Sheet,
  at: Point,
  text: string,
  more: { readonly bold?: boolean; readonly colour?: string; readonly end?: boolean } = {},
): Markup =>
  lettered(sheet, at, text, {
    size: 11,
    colour: more.colour ?? sheet.palette.ink,
    anchor: more.end ? "end" : "start",
    bold: more.bold === true,
  });
