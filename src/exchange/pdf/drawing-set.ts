/**
 * The drawing set: a sheet for each deck at one scale, with title block, scale bar, north, legend, heights, radii and
 * turnout sizes; profiles of the climbs; the readings; schedules of tracks and turnouts. What a plan must show for a
 * civil engineering certificate stands on it.
 *
 * Always holds: equal input and date give equal pages; every deck has its sheet; the scale is that stated, on all decks.
 */
import { lengthText } from "../../drafting/figures.js";
import { pointsBox } from "../../drafting/boxes.js";
import { decksInOrder } from "../../drafting/decks.js";
import type { Layout } from "../../layout/layout.js";
import type { Id, Plan } from "../../plan/schema.js";
import type { Reading } from "../../readings/reading.js";
import { deckPage, layOutDeckSheet } from "./deck-sheet.js";
import type { PrintPaper } from "./papers.js";
import { profilePages } from "./profile-pages.js";
import { readingsTable, trackSchedule, turnoutSchedule } from "./schedules.js";
import { paperSheet } from "./sheet-frame.js";
import { tablePages } from "./table-pages.js";
import { type PdfPage, writePdf } from "./write-pdf.js";

export interface DrawingSetOptions {
  readonly paper: PrintPaper;
  /** Millimetres of room to one of paper; the largest customary one that fits where left out. */
  readonly scale?: number;
  /** One deck; all where left out. */
  readonly deck?: Id;
  readonly readings: readonly Reading[];
  /** When it is drawn. */
  readonly date: Date;
}

export type PdfResult =
  | { readonly ok: true; readonly bytes: Uint8Array; readonly pages: number }
  | { readonly ok: false; readonly message: string };

/** Refused, with the scale that would do, where the room does not fit the paper. */
export async function drawingSetPdf(plan: Plan, layout: Layout, options: DrawingSetOptions): Promise<PdfResult> {
  const { date } = options;
  const all = decksInOrder(plan);
  const chosen = options.deck === undefined ? all : all.filter((id) => id === options.deck);
  const decks: (Id | undefined)[] = chosen.length > 0 ? chosen : [undefined];
  const overall = overallFacts(plan, layout);
  // One more: the sheet's number and the date.
  const laid = layOutDeckSheet(plan, layout, options.paper, options.scale, overall.length + 1);
  if (!laid.ok) return laid;
  const { size } = laid.sheet;
  const sheet = paperSheet(plan);
  const day = date.toISOString().slice(0, 10);
  const rest = (from: number, total: string): PdfPage[] => {
    const number = (i: number): string => `sheet ${from + i} of ${total} · ${day}`;
    const profiles = profilePages(plan, layout, size, number);
    const tables = [readingsTable(plan, options.readings), trackSchedule(plan, layout), turnoutSchedule(plan, layout)];
    const heading = `${plan.title}: readings and schedules`;
    return [...profiles, ...tablePages(sheet, size, heading, tables, (i) => number(profiles.length + i))];
  };
  const total = String(decks.length + rest(0, "").length);
  const pages = [
    ...decks.map((deck, i) =>
      deckPage(plan, layout, laid.sheet, deck, [...overall, `Sheet ${i + 1} of ${total} · ${day}`]),
    ),
    ...rest(decks.length + 1, total),
  ];
  return { ok: true, bytes: await writePdf(pages, { title: plan.title, date }), pages: pages.length };
}

/** Overall size of room and layout, and the units. */
function overallFacts(plan: Plan, layout: Layout): string[] {
  const by = ({ minX, maxX, minY, maxY }: ReturnType<typeof pointsBox>): string =>
    `${lengthText(maxX - minX, plan.units)} × ${lengthText(maxY - minY, plan.units)}`;
  const built = [...layout.space.decks.values()].flatMap(({ bench }) => bench.flat());
  return [
    `Room ${by(pointsBox(plan.room.outline))}`,
    ...(built.length > 0 ? [`Layout overall ${by(pointsBox(built))}`] : []),
    plan.units === "imperial" ? "Units: feet and inches" : "Units: millimetres",
    "+ railhead above the floor",
  ];
}
