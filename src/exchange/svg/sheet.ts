/**
 * From the room to the paper: one drawing's scale, pen and place. Paper coordinates are millimetres of paper, y down.
 * Weights, dashes and lettering are given in `px` of the drafting rules and become paper millimetres through the pen.
 */
import { deckTone } from "../../drafting/decks.js";
import { type Face, textWidth as widthInRules } from "../../drafting/label.js";
import type { Point } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import type { Plan } from "../../plan/schema.js";
import { element, escapeText, figure, type Markup } from "./markup.js";
import { type DeckInk, FACES, type Palette } from "./palette.js";

export interface Sheet {
  readonly plan: Plan;
  /** Millimetres of room to one of paper: 20 at 1:20. */
  readonly scale: number;
  /** Millimetres of paper to one px of the drafting rules. */
  readonly pen: number;
  readonly palette: Palette;
  /** Where the room's origin lies on the paper. */
  readonly origin: Point;
}

/** 12 px lettering comes out 3 mm high, the usual least height on a drafting sheet (common practice, no source). */
const PEN_ON_PAPER = 0.25;
/** Drawn larger than 1:10 the sheet is looked at from further away, so its pen grows with it. */
const PEN_AT_FULL_SIZE = 2.5;

/** On a screen the sheet is stretched until one px of the rules is one of the screen; only the ratio matters. */
export const PEN_ON_SCREEN = PEN_ON_PAPER;

export const penFor = (scale: number): Millimetres => Math.max(PEN_ON_PAPER, PEN_AT_FULL_SIZE / scale);

export const onPaper = (sheet: Sheet, p: Point): Point => ({
  x: sheet.origin.x + p.x / sheet.scale,
  y: sheet.origin.y - p.y / sheet.scale,
});

export const px = (sheet: Sheet, count: number): Millimetres => count * sheet.pen;

/** A dash pattern of the drafting rules in paper millimetres. */
export const dash = (sheet: Sheet, pattern: readonly number[]): string =>
  pattern.map((n) => figure(px(sheet, n))).join(" ");

export interface Lettering {
  readonly size: number;
  readonly colour: string;
  readonly face?: keyof typeof FACES;
  readonly italic?: boolean;
  readonly bold?: boolean;
  readonly anchor?: "start" | "middle" | "end";
  /** Clockwise on the paper, degrees, about the text's own place. */
  readonly turn?: number;
  /** Paper colour laid round the letters, so that lines under them give way. */
  readonly halo?: string;
}

/** Part of the size by which a line of capitals and figures is let down to stand centred on its height. */
const CENTRE = 0.35;

/** A line of text centred on its height at a place of the paper. */
export function lettered(sheet: Sheet, at: Point, text: string, style: Lettering): Markup {
  const size = px(sheet, style.size);
  return element(
    "text",
    {
      x: at.x,
      y: at.y + size * CENTRE,
      "font-family": FACES[style.face ?? "draw"],
      "font-size": size,
      "font-style": style.italic ? "italic" : undefined,
      "font-weight": style.bold ? "bold" : undefined,
      "text-anchor": style.anchor === "start" ? undefined : (style.anchor ?? "middle"),
      fill: style.colour,
      stroke: style.halo,
      "stroke-width": style.halo ? px(sheet, 3) : undefined,
      "stroke-linejoin": style.halo ? "round" : undefined,
      "paint-order": style.halo ? "stroke" : undefined,
      transform: style.turn ? `rotate(${figure(style.turn)} ${figure(at.x)} ${figure(at.y)})` : undefined,
    },
    escapeText(text),
  );
}

export const textWidth = (sheet: Sheet, text: string, size: number, face: Face = "draw"): Millimetres =>
  px(sheet, widthInRules(text, size, face));

export const deckInk = (sheet: Sheet, deck: string): DeckInk => sheet.palette[deckTone(sheet.plan, deck)];
