/** The margins of a drawing: frame with zones, key of decks and lines, scale bar, north, and the title block. */
import { DASH, TRACK_WEIGHTS } from "../../drafting/line-weights.js";
import type { Point } from "../../geometry/pose.js";
import type { Layout } from "../../layout/layout.js";
import type { TrackClass } from "../../plan/schema.js";
import { lengthText } from "../../drafting/figures.js";
import { element, figure, group, type Markup } from "./markup.js";
import { paperLine } from "./shapes.js";
import { dash, deckInk, lettered, px, type Sheet, textWidth } from "./sheet.js";

/** Widths in px. */
export const FRAME = { outer: 6, zone: 14 } as const;
export const COLUMN = 196;

export interface Paper {
  readonly width: number;
  readonly height: number;
}

/** Neat line with lettered and numbered zones, so that a place can be named over the telephone. */
export function drawFrame(sheet: Sheet, paper: Paper): Markup {
  const outer = px(sheet, FRAME.outer);
  const zone = px(sheet, FRAME.zone);
  const inner = outer + zone;
  const stroke = { fill: "none", stroke: sheet.palette.strongRule, "stroke-width": px(sheet, 0.6) };
  const columns = Math.max(2, Math.round(paper.width / px(sheet, 170)));
  const rows = Math.max(2, Math.round(paper.height / px(sheet, 170)));
  const letters: Markup[] = [];
  let d = "";
  const letter = (at: Point, text: string) =>
    letters.push(lettered(sheet, at, text, { size: 9, colour: sheet.palette.ink3 }));
  for (let i = 0; i < columns; i++) {
    const x = inner + ((paper.width - 2 * inner) * i) / columns;
    const middle = x + (paper.width - 2 * inner) / columns / 2;
    if (i > 0) {
      d += paperLine({ x, y: outer }, { x, y: inner });
      d += paperLine({ x, y: paper.height - outer }, { x, y: paper.height - inner });
    }
    // Past Z the letters double, as in a ledger.
    const name = i < 26 ? String.fromCharCode(65 + i) : `A${String.fromCharCode(65 + (i % 26))}`;
    letter({ x: middle, y: outer + zone / 2 }, name);
    letter({ x: middle, y: paper.height - outer - zone / 2 }, name);
  }
  for (let i = 0; i < rows; i++) {
    const y = inner + ((paper.height - 2 * inner) * i) / rows;
    const middle = y + (paper.height - 2 * inner) / rows / 2;
    if (i > 0) {
      d += paperLine({ x: outer, y }, { x: inner, y });
      d += paperLine({ x: paper.width - outer, y }, { x: paper.width - inner, y });
    }
    letter({ x: outer + zone / 2, y: middle }, String(i + 1));
    letter({ x: paper.width - outer - zone / 2, y: middle }, String(i + 1));
  }
  const box = (inset: number) => ({
    x: inset,
    y: inset,
    width: paper.width - 2 * inset,
    height: paper.height - 2 * inset,
  });
  return group({ "data-layer": "frame" }, [
    element("rect", { ...box(outer), ...stroke }),
    element("path", { d, ...stroke }),
    element("rect", { ...box(inner), fill: "none", stroke: sheet.palette.ink, "stroke-width": px(sheet, 0.9) }),
    ...letters,
  ]);
}

export interface KeyDeck {
  readonly id: string;
  readonly ghost: boolean;
}

const ROW = 24;

/** Height of the key in px, for laying out the sheet before it is drawn. */
export const keyHeight = (decks: number, classes: number): number => 40 + decks * ROW + 30 + (classes + 3) * 17;

/** Decks with their heights, and the kinds of line in use below them or where `lines` says. */
export function drawKey(
  sheet: Sheet,
  layout: Layout,
  at: { readonly decks: Point; readonly lines?: Point },
  decks: readonly KeyDeck[],
): Markup {
  return group({ "data-layer": "key" }, [
    drawKeyDecks(sheet, at.decks, decks),
    drawKeyLines(
      sheet,
      layout,
      at.lines ?? { x: at.decks.x, y: at.decks.y + px(sheet, decks.length * ROW + 34) },
      decks,
    ),
  ]);
}

function drawKeyDecks(sheet: Sheet, at: Point, decks: readonly KeyDeck[]): Markup {
  const { palette, plan } = sheet;
  const right = at.x + px(sheet, COLUMN - 36);
  const marks: Markup[] = [];
  const small = { size: 12, colour: palette.ink2, anchor: "start" as const };
  let y = at.y;
  marks.push(
    lettered(sheet, { x: at.x, y }, decks.length === 1 ? "Deck" : "Decks", { ...small, size: 13, face: "name" }),
  );
  for (const { id, ghost } of decks) {
    y += px(sheet, ROW);
    const deck = plan.decks[id];
    const ink = deckInk(sheet, id);
    marks.push(
      element("rect", {
        x: at.x,
        y: y - px(sheet, 7),
        width: px(sheet, 18),
        height: px(sheet, 14),
        fill: ghost ? "none" : ink.tint,
        stroke: ink.edge,
        "stroke-width": px(sheet, 0.9),
        "stroke-dasharray": ghost ? dash(sheet, DASH.fasciaAbove) : undefined,
      }),
      lettered(sheet, { x: at.x + px(sheet, 28), y }, deck?.name ?? id, {
        ...small,
        colour: ghost ? ink.ink : palette.ink,
      }),
      lettered(sheet, { x: right, y }, lengthText(deck?.height ?? 0, plan.units), { ...small, anchor: "end" }),
    );
  }
  return marks.join("");
}

function drawKeyLines(sheet: Sheet, layout: Layout, at: Point, decks: readonly KeyDeck[]): Markup {
  const { palette } = sheet;
  const marks: Markup[] = [];
  const small = { size: 12, colour: palette.ink2, anchor: "start" as const };
  let { y } = at;
  const line = (label: string, colour: string, weight: number, dashes?: readonly number[]) => {
    marks.push(
      element("path", {
        d: paperLine({ x: at.x, y }, { x: at.x + px(sheet, 34), y }),
        fill: "none",
        stroke: colour,
        "stroke-width": px(sheet, weight),
        "stroke-dasharray": dashes ? dash(sheet, dashes) : undefined,
      }),
      lettered(sheet, { x: at.x + px(sheet, 44), y }, label, small),
    );
    y += px(sheet, 17);
  };
  const inked = new Set(decks.filter((deck) => !deck.ghost).map((deck) => deck.id));
  const ghosts = decks.some((deck) => deck.ghost);
  for (const [weight, classes] of byWeight(layout, inked)) line(classes.join(", "), palette.ink, weight);
  const hidden = layout.hidden.some((stretch) => inked.has(layout.lines.get(stretch.line)?.deck ?? ""));
  if (hidden) line("hidden", palette.ink, 1, DASH.hidden);
  if (ghosts) {
    line("track of the other deck", palette.upper.edge, 0.9);
    line("fascia of the other deck", palette.upper.edge, 0.9, DASH.fasciaAbove);
  }
  if (layout.findings.some((finding) => finding.target)) line("does not get there", palette.fails, 1.2, DASH.unreached);
  return marks.join("");
}

function byWeight(layout: Layout, decks: ReadonlySet<string>): [number, TrackClass[]][] {
  const used = new Set<TrackClass>();
  for (const line of layout.lines.values()) if (decks.has(line.deck)) used.add(line.class);
  const rows = new Map<number, TrackClass[]>();
  for (const [name, weight] of Object.entries(TRACK_WEIGHTS) as [TrackClass, { line: number }][]) {
    if (used.has(name)) rows.set(weight.line, [...(rows.get(weight.line) ?? []), name]);
  }
  return [...rows];
}

const TITLE_HEIGHT = 132;
const FACT = 15;

/** Height of the title block in px, with so many facts in it. */
export const titleHeight = (facts: number): number => TITLE_HEIGHT + facts * FACT;

export interface TitleText {
  /** What is drawn. */
  readonly shows: string;
  /** How the drawing's scale is called; none where it is drawn to no scale. */
  readonly scale?: string;
  readonly facts?: readonly string[];
}

/** Title, scale, what is shown, facts, scale bar and north, in the lower right corner; `at` is its upper left. */
export function drawTitle(sheet: Sheet, at: Point, { shows, scale, facts = [] }: TitleText): Markup {
  const width = px(sheet, COLUMN);
  const { palette, plan } = sheet;
  const left = at.x + px(sheet, 14);
  const small = { size: 12, colour: palette.ink2, anchor: "start" as const };
  const row = (n: number, text: string) => lettered(sheet, { x: left, y: at.y + px(sheet, n) }, text, small);
  const foot = at.y + px(sheet, titleHeight(facts.length) - 34);
  const scaleName = plan.scale.name.includes(":")
    ? plan.scale.name
    : `${plan.scale.name} 1:${figure(plan.scale.ratio)}`;
  return group({ "data-layer": "title" }, [
    element("rect", {
      x: at.x,
      y: at.y,
      width,
      height: px(sheet, titleHeight(facts.length)),
      fill: palette.paper,
      stroke: palette.ink,
      "stroke-width": px(sheet, 0.9),
    }),
    lettered(sheet, { x: left, y: at.y + px(sheet, 20) }, shortened(sheet, plan.title, width - px(sheet, 28), 17), {
      size: 17,
      colour: palette.ink,
      face: "name",
      anchor: "start",
    }),
    row(43, scale === undefined ? scaleName : `${scaleName} · drawn ${scale}`),
    row(60, shortened(sheet, shows, width - px(sheet, 28), 12)),
    ...facts.map((fact, i) => row(60 + (i + 1) * FACT, shortened(sheet, fact, width - px(sheet, 28), 12))),
    drawScaleBar(sheet, { x: left, y: foot }),
    drawNorth(sheet, { x: at.x + width - px(sheet, 22), y: foot }),
  ]);
}

export function shortened(sheet: Sheet, text: string, width: number, size: number): string {
  const letters = [...text];
  const room = Math.floor(width / (textWidth(sheet, "x", size, "name") || 1));
  return letters.length <= room ? text : `${letters.slice(0, Math.max(1, room - 1)).join("")}…`;
}

/** Up the sheet is called north on plans of a room: the plan keeps no compass. */
function drawNorth(sheet: Sheet, at: Point): Markup {
  const up = px(sheet, 15);
  const d = `${paperLine({ x: at.x, y: at.y + up }, { x: at.x, y: at.y - up })}${paperLine({ x: at.x - up * 0.3, y: at.y - up * 0.35 }, { x: at.x, y: at.y - up }, { x: at.x + up * 0.3, y: at.y - up * 0.35 })}`;
  return (
    element("path", { d, fill: "none", stroke: sheet.palette.ink, "stroke-width": px(sheet, 0.9) }) +
    lettered(sheet, { x: at.x, y: at.y - up - px(sheet, 7) }, "N", {
      size: 12,
      colour: sheet.palette.ink,
      face: "name",
    })
  );
}

const FEET = [1, 2, 4, 8, 16, 40, 80, 160];
const METRES = [0.2, 0.5, 1, 2, 4, 10, 20, 40];
const BAR = 124;

/** The longest bar of round length that fits; half of it marked. */
function drawScaleBar(sheet: Sheet, at: Point): Markup {
  const imperial = sheet.plan.units === "imperial";
  const unit = imperial ? 304.8 : 1000;
  const steps = imperial ? FEET : METRES;
  const most = px(sheet, BAR) * sheet.scale;
  const inches = [6, 4, 2].map((n) => n / 12);
  const count =
    [...steps].reverse().find((n) => n * unit <= most) ??
    (imperial ? (inches.find((n) => n * unit <= most) ?? 1 / 12) : 0.05);
  const length = (count * unit) / sheet.scale;
  const tick = px(sheet, 4);
  const xs = [0, 0.25, 0.5, 1].map((part) => at.x + part * length);
  const d =
    paperLine(at, { x: at.x + length, y: at.y }) +
    xs.map((x) => paperLine({ x, y: at.y - tick }, { x, y: at.y + tick })).join("");
  const name = (n: number) =>
    imperial ? (n < 1 ? `${figure(n * 12)}″` : `${figure(n)}′`) : n < 1 ? `${figure(n * 1000)} mm` : `${figure(n)} m`;
  const text = (part: number, label: string) =>
    lettered(sheet, { x: at.x + part * length, y: at.y + px(sheet, 14) }, label, {
      size: 12,
      colour: sheet.palette.ink2,
    });
  return group({ "data-mark": "scale-bar", "data-length": figure(count * unit) }, [
    element("path", { d, fill: "none", stroke: sheet.palette.ink, "stroke-width": px(sheet, 0.9) }),
    text(0, "0"),
    // Millimetres in the middle would run into those at the end.
    imperial || count > 1 ? text(0.5, name(count / 2)) : "",
    text(1, name(count)),
  ]);
}
