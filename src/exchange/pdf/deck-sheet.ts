/** One deck on one sheet of given paper: the scale it is drawn to, or the largest customary one that fits. */
import { CUSTOMARY, scaleText } from "../../drafting/drawing-scale.js";
import type { Layout } from "../../layout/layout.js";
import type { Id, Plan } from "../../plan/schema.js";
import { drawPanel } from "../svg/draw-panel.js";
import type { Markup } from "../svg/markup.js";
import type { Sheet } from "../svg/sheet.js";
import { layOutSheet, type KeyPlace, type SheetLayout, type Size } from "../svg/sheet-layout.js";
import { drawFrame, drawKey, drawTitle } from "../svg/title-block.js";
import { EDGE, insideEdge, pageOf, PRINT } from "./sheet-frame.js";
import type { PrintPaper } from "./papers.js";
import type { PdfPage } from "./write-pdf.js";

export interface DeckSheet {
  readonly scale: number;
  readonly size: Size;
  readonly layout: SheetLayout;
}

const KEYS: readonly KeyPlace[] = ["beside", "below"];
/** Rounding of paper sizes, mm. */
const SAME = 1e-6;

/** How the room lies on the paper at a scale; undefined where it does not fit, whichever way the paper is turned. */
function layOutAt(plan: Plan, layout: Layout, paper: PrintPaper, scale: number, facts: number): DeckSheet | undefined {
  const lay = (key: KeyPlace, inside?: Size): SheetLayout =>
    layOutSheet(plan, layout, {
      panels: 1,
      titled: false,
      margins: true,
      scale,
      fit: undefined,
      key,
      facts,
      ...(inside && { paper: inside }),
    });
  let best: DeckSheet | undefined;
  for (const key of KEYS) {
    const needs = lay(key).paper;
    for (const size of sizesFor(paper, needs)) {
      const inside = insideEdge(size);
      if (needs.width > inside.width + SAME || needs.height > inside.height + SAME) continue;
      const found = { scale, size, layout: lay(key, inside) };
      if (!best || ("roll" in paper && area(size) < area(best.size))) best = found;
    }
  }
  return best;
}

const area = ({ width, height }: Size): number => width * height;

/** Lying first; a roll's length is what is needed. */
function sizesFor(paper: PrintPaper, needs: Size): Size[] {
  if ("roll" in paper) {
    return [
      { width: Math.ceil(needs.width + 2 * EDGE), height: paper.roll },
      { width: paper.roll, height: Math.ceil(needs.height + 2 * EDGE) },
    ];
  }
  return [
    { width: paper.height, height: paper.width },
    { width: paper.width, height: paper.height },
  ];
}

export type DeckSheetResult =
  | { readonly ok: true; readonly sheet: DeckSheet }
  | { readonly ok: false; readonly message: string };

export function layOutDeckSheet(
  plan: Plan,
  layout: Layout,
  paper: PrintPaper,
  scale: number | undefined,
  facts: number,
): DeckSheetResult {
  if (scale !== undefined) {
    const sheet = layOutAt(plan, layout, paper, scale, facts);
    if (sheet) return { ok: true, sheet };
  }
  for (const custom of CUSTOMARY[plan.units]) {
    const sheet = layOutAt(plan, layout, paper, custom, facts);
    if (!sheet) continue;
    if (scale === undefined) return { ok: true, sheet };
    const wished = scaleText(scale, plan.units);
    return {
      ok: false,
      message: `at ${wished} the room does not fit on ${paper.name}; at ${scaleText(custom, plan.units)} it does`,
    };
  }
  return { ok: false, message: `the room fits on ${paper.name} at no customary scale` };
}

/** The deck in ink, with every radius, turnout, grade and height that finds room beside its track. */
export function deckPage(
  plan: Plan,
  layout: Layout,
  { scale, size, layout: laid }: DeckSheet,
  deck: Id | undefined,
  facts: readonly string[],
): PdfPage {
  const sheet: Sheet = { plan, scale, pen: laid.pen, palette: PRINT, origin: laid.originOf(0) };
  const shows = deck === undefined ? "No deck yet" : (plan.decks[deck]?.name ?? deck);
  const marks: Markup[] = [
    drawPanel(sheet, layout, {
      deck,
      ghosts: [],
      hatch: "hatch",
      titled: false,
      labels: true,
      rails: false,
      readings: [],
      heights: true,
    }),
  ];
  if (laid.key) {
    const keyed = deck === undefined ? [] : [{ id: deck, ghost: false }];
    marks.push(
      drawKey(sheet, layout, laid.key, keyed),
      drawTitle(sheet, laid.key.title, { shows, scale: scaleText(scale, plan.units), facts }),
    );
  }
  marks.push(drawFrame(sheet, laid.paper));
  return pageOf(size, sheet, marks);
}
