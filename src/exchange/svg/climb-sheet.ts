/**
 * The climb sheet's picture, true to scale: the helix cut through its axis, and under it the climb laid out straight at a
 * scale of its own. As a document of its own on paper, or to fit a screen.
 *
 * Always holds: equal input gives equal text; names appear only as escaped text; both scales are written on it.
 */
import type { ClimbSheet } from "../../climb/climb-sheet.js";
import { type ClimbLook, type Extent, helixExtent, helixLayers } from "../../drafting/climb-sheet-helix.js";
import { rampExtent, rampLayers } from "../../drafting/climb-sheet-ramp.js";
import { lengthText, percentText, type Units } from "../../drafting/figures.js";
import type { SectionLayer } from "../../drafting/section-marks.js";
import type { Plan } from "../../plan/schema.js";
import { element, escapeText, figure, type Markup } from "./markup.js";
import { PALETTES, type Theme } from "./palette.js";
import { hatchDefs, paintLayers } from "./section-paint.js";
import { lettered, PEN_ON_SCREEN, px, type Sheet, textWidth } from "./sheet.js";

export interface ClimbSheetLook {
  readonly theme?: Theme;
  readonly units?: Units;
}

export interface Box {
  readonly width: number;
  readonly height: number;
}

/** px of the heading on paper, and the least that a drawing is given on a screen. */
const HEAD = 44;
const LEAST = 40;
/** px between the two drawings. */
const APART = 20;
/** Most height of a screen the climb laid straight takes, its dimensions included, px. */
const RAMP_MOST = 150;
/** Field of the drawings on a sheet of A4, px of the drafting rules at 0.25 mm. */
const PAPER: Box = { width: 760, height: 900 };

interface Drawing {
  readonly sheet: Sheet;
  readonly layers: readonly SectionLayer[];
  readonly box: Box;
}

/** Scales drawn on paper; a screen takes what fits. */
const SCALES = [
  1, 2, 2.5, 5, 10, 12.5, 15, 20, 25, 30, 40, 50, 75, 100, 150, 200, 250, 300, 400, 500, 750, 1000, 2000, 5000,
];

const sizeOf = ({ left, right, bottom, top }: Extent): Box => ({ width: right - left, height: top - bottom });
const roundOf = ({ margin }: Extent): Box => ({
  width: margin.left + margin.right,
  height: margin.top + margin.bottom,
});

/** Millimetres of the room to one of paper, so that an extent fits so many px; a plain scale where there is one. */
function scaleFor(extent: Extent, room: Box, plain: boolean): number {
  const size = sizeOf(extent);
  const round = roundOf(extent);
  const least = Math.max(
    size.width / (Math.max(room.width - round.width, LEAST) * PEN_ON_SCREEN),
    size.height / (Math.max(room.height - round.height, LEAST) * PEN_ON_SCREEN),
  );
  return plain ? (SCALES.find((scale) => scale >= least) ?? least) : least;
}

/** A drawing in a box whose top left corner is at so many px; centred across it. */
function laidOut(
  look: Omit<ClimbLook, "scale">,
  theme: Theme,
  extent: Extent,
  layersOf: (look: ClimbLook) => readonly SectionLayer[],
  { room, top, plain }: { readonly room: Box; readonly top: number; readonly plain: boolean },
): Drawing {
  const scale = scaleFor(extent, room, plain);
  const pen = PEN_ON_SCREEN;
  const perPx = scale * pen;
  const size = sizeOf(extent);
  const round = roundOf(extent);
  const box = { width: size.width / perPx + round.width, height: size.height / perPx + round.height };
  const origin = {
    x: ((room.width - box.width) / 2 + extent.margin.left - extent.left / perPx) * pen,
    y: (top + extent.margin.top + extent.top / perPx) * pen,
  };
  const sheet: Sheet = { plan: look.plan, scale, pen, palette: PALETTES[theme], origin };
  return { sheet, box, layers: layersOf({ ...look, scale: 1 / perPx }) };
}

/** Both drawings, one under the other; `top` px are left free above them. */
function drawings(
  plan: Plan,
  sheet: ClimbSheet,
  { theme = "light", units = plan.units }: ClimbSheetLook,
  room: Box,
  plain: boolean,
  top = 0,
) {
  const look = { plan, sheet, units };
  const ramp = rampExtent(look);
  const rampRoom = { width: room.width, height: Math.min(RAMP_MOST, room.height / 2) };
  const rampScale = scaleFor(ramp, rampRoom, plain);
  const rampHeight = sizeOf(ramp).height / (rampScale * PEN_ON_SCREEN) + roundOf(ramp).height;
  const helixRoom = { width: room.width, height: room.height - rampHeight - APART };
  const helix = laidOut(look, theme, helixExtent(look), helixLayers, { room: helixRoom, top, plain });
  const under = top + helix.box.height + APART;
  const straight = laidOut(look, theme, ramp, rampLayers, { room: rampRoom, top: under, plain });
  return { helix, straight, height: under + straight.box.height };
}

/** For a screen: markup in the paper's millimetres, `PEN_ON_SCREEN` to a px. */
export function climbSheetMarkup(plan: Plan, sheet: ClimbSheet, fit: Box, look: ClimbSheetLook = {}): Markup {
  const { helix, straight } = drawings(plan, sheet, look, fit, false);
  return hatchDefs(helix.sheet) + paintLayers(helix.sheet, helix.layers) + paintLayers(straight.sheet, straight.layers);
}

/** The viewBox of that markup. */
export const climbSheetViewBox = ({ width, height }: Box): string =>
  `0 0 ${figure(width * PEN_ON_SCREEN)} ${figure(height * PEN_ON_SCREEN)}`;

/** The picture as a document of its own, at plain scales, no larger than a sheet of A4. */
export function drawClimbSheetSvg(plan: Plan, sheet: ClimbSheet, look: ClimbSheetLook = {}): string {
  const { helix, straight, height } = drawings(plan, sheet, look, PAPER, true, HEAD);
  const paper = { width: PAPER.width * PEN_ON_SCREEN, height: height * PEN_ON_SCREEN };
  const title = titleOf(sheet, look.units ?? plan.units);
  const attributes = {
    xmlns: "http://www.w3.org/2000/svg",
    width: `${figure(paper.width)}mm`,
    height: `${figure(paper.height)}mm`,
    viewBox: `0 0 ${figure(paper.width)} ${figure(paper.height)}`,
    role: "img",
    "stroke-linejoin": "round",
    "data-scale": figure(helix.sheet.scale),
    "data-run-scale": figure(straight.sheet.scale),
  };
  return `${element(
    "svg",
    attributes,
    element("title", {}, escapeText(title)),
    element("rect", { ...paper, fill: helix.sheet.palette.paper }),
    hatchDefs(helix.sheet),
    heading(helix.sheet, title, straight.sheet.scale),
    paintLayers(helix.sheet, helix.layers),
    paintLayers(straight.sheet, straight.layers),
  )}\n`;
}

const titleOf = ({ sums: { rise, grade, radius } }: ClimbSheet, units: Units): string =>
  `Climb of ${lengthText(rise, units)} at ${percentText(grade)} on ${lengthText(radius, units)} radius`;

function heading(sheet: Sheet, title: string, runScale: number): Markup {
  const y = px(sheet, 24);
  const x = px(sheet, 18);
  const facts = `${sheet.plan.scale.name}   ·   helix 1:${figure(sheet.scale)}   ·   run 1:${figure(runScale)}`;
  return element(
    "g",
    { "data-layer": "heading" },
    lettered(sheet, { x, y }, title, { size: 17, colour: sheet.palette.ink, face: "name", anchor: "start" }),
    lettered(sheet, { x: x + textWidth(sheet, title, 17, "name") + px(sheet, 16), y }, facts, {
      size: 12,
      colour: sheet.palette.ink2,
      anchor: "start",
    }),
  );
}
