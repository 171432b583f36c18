/**
 * Full-size templates: chosen track at 1:1 on sheets of paper or a roll, to be laid on the benchwork and cut along, with
 * a key sheet that shows which sheet lies where.
 *
 * Always holds: a millimetre of track is a millimetre of paper; only sheets that hold track are printed; every sheet
 * carries its check scale and the warning to measure it.
 */
import { pointsBox } from "../../drafting/boxes.js";
import { poseAt } from "../../geometry/path.js";
import { offsetPoint, type Point } from "../../geometry/pose.js";
import type { Box } from "../../geometry/bounds.js";
import type { Millimetres } from "../../geometry/units.js";
import type { Layout } from "../../layout/layout.js";
import type { Line } from "../../layout/line.js";
import { INCH } from "../../plan/parse-length.js";
import type { Plan } from "../../plan/schema.js";
import { lengthText } from "../../drafting/figures.js";
import { element, type Markup } from "../svg/markup.js";
import { lineData, trackData } from "../svg/shapes.js";
import { lettered, type Sheet } from "../svg/sheet.js";
import type { Size } from "../svg/sheet-layout.js";
import type { PdfResult } from "./drawing-set.js";
import type { PrintPaper } from "./papers.js";
import { insideEdge, pageOf, paperSheet } from "./sheet-frame.js";
import { drawFoot, drawLine, drawMarks, drawName, drawRegistration, halfTie } from "./template-drawing.js";
import { FOOT, MOST_TILES, OVERLAP, type Tile, tileName, tilesFor, type Tiling } from "./template-tiles.js";
import { chosenLines, marksOn, type TrackChoice } from "./template-track.js";
import { type PdfPage, writePdf } from "./write-pdf.js";

export interface TemplateOptions extends TrackChoice {
  readonly paper: PrintPaper;
  /** Between marks of height along each track; the usual spacing where left out. */
  readonly riserEvery?: Millimetres;
  readonly date: Date;
}

/** Risers stand about 16 in apart, as studs do (common practice, no source), mm. */
export const riserSpacing = (units: Plan["units"]): Millimetres => (units === "imperial" ? 16 * INCH : 400);
/** Nearer together their figures would cover one another, mm. */
export const LEAST_RISER: Millimetres = 20;

/** The foot's matter from the left of what is printed, mm. */
const FOOT_INSET: Millimetres = 1;

/** Steps in which track is looked at for the sheets it needs, mm. */
const LOOK: Millimetres = 4;
/** More track than this no one prints at full size; it is refused before it is looked at, mm. */
const MOST_TRACK: Millimetres = 2_000_000;

/** Refused where no track is chosen, or it takes more sheets than anyone would lay. */
export async function templatesPdf(layout: Layout, options: TemplateOptions): Promise<PdfResult> {
  const { plan } = layout;
  const every = options.riserEvery ?? riserSpacing(plan.units);
  if (!(every >= LEAST_RISER)) return { ok: false, message: `risers stand ${LEAST_RISER} mm apart or more` };
  const lines = chosenLines(layout, options);
  if (lines.length === 0) return { ok: false, message: "no track is chosen to print" };
  if (lines.reduce((sum, { path }) => sum + path.length, 0) > MOST_TRACK) {
    return { ok: false, message: `that is more than ${MOST_TRACK / 1e6} km of track; choose fewer tracks` };
  }
  const points = lines.flatMap((line) => groundOf(line, halfTie(layout)));
  const tiling = tilesFor(points, pointsBox(points), options.paper);
  if (!tiling)
    return { ok: false, message: `that would be more than ${MOST_TILES} sheets; choose fewer tracks or larger paper` };
  const marks = marksOn(layout, lines, every);
  const names = new Set(tiling.tiles.map(tileName));
  const day = options.date.toISOString().slice(0, 10);
  const facts = `${tiling.tiles.length} sheets, overlap ${OVERLAP} mm · risers every ${lengthText(every, plan.units)} · ${day}`;
  const tiles = tiling.tiles.map((tile): PdfPage => {
    const sheet = tileSheet(plan, tile);
    const { window, cell, page } = tile;
    const inside = insideEdge(page);
    const frame = { width: inside.width, height: inside.height - FOOT };
    const body = [
      drawRegistration(sheet, cell, tiling.xs, tiling.ys),
      ...lines.map((line) => drawLine(sheet, layout, line, window)),
      ...lines.map((line) => drawName(sheet, layout, line, window)),
      drawMarks(sheet, layout, marks, window),
      drawNeighbours(sheet, tile, frame, names),
    ];
    const what = [`Sheet ${tileName(tile)}`, plan.title, `full size 1:1 · ${day}`];
    const foot = drawFoot(sheet, { x: FOOT_INSET, y: frame.height }, what);
    return pageOf(page, sheet, [element("svg", { x: 0, y: 0, ...frame }, ...body), foot]);
  });
  const key = keyPage(layout, lines, tiling, options.paper, [plan.title, `key to ${facts}`]);
  return {
    ok: true,
    bytes: await writePdf([key, ...tiles], { title: `${plan.title}: templates`, date: options.date }),
    pages: tiles.length + 1,
  };
}

/** Points of the ground a line covers with its ties. */
function groundOf({ path }: Line, half: Millimetres): Point[] {
  const count = Math.max(1, Math.ceil(path.length / LOOK));
  return Array.from({ length: count + 1 }, (_, i) => poseAt(path, (path.length * i) / count)).flatMap((pose) => [
    pose,
    offsetPoint(pose, 0, half),
    offsetPoint(pose, 0, -half),
  ]);
}

const tileSheet = (plan: Plan, { window }: Tile): Sheet => ({
  ...paperSheet(plan),
  origin: { x: -window.minX, y: window.maxY },
});

/** At each edge the sheet that lies beyond it, where one does. */
function drawNeighbours(
  sheet: Sheet,
  { row, column }: Tile,
  { width, height }: Size,
  names: ReadonlySet<string>,
): Markup {
  const words = (name: string, at: Point, turn: number): Markup =>
    names.has(name)
      ? lettered(sheet, at, name, { size: 10, colour: sheet.palette.ink2, turn, halo: sheet.palette.paper })
      : "";
  const off = 2.5;
  return [
    words(tileName({ row: row - 1, column }), { x: width / 3, y: off }, 0),
    words(tileName({ row: row + 1, column }), { x: width / 3, y: height - off }, 0),
    words(tileName({ row, column: column - 1 }), { x: off, y: height / 3 }, -90),
    words(tileName({ row, column: column + 1 }), { x: width - off, y: height / 3 }, 90),
  ].join("");
}

/** The plan small, with every sheet where it lies. A roll's key is on a sheet as long as it is wide. */
function keyPage(
  layout: Layout,
  lines: readonly Line[],
  { tiles }: Tiling,
  paper: PrintPaper,
  what: readonly string[],
): PdfPage {
  const { plan } = layout;
  const box = pointsBox([
    ...plan.room.outline,
    ...tiles.flatMap(({ cell }) => [
      { x: cell.minX, y: cell.minY },
      { x: cell.maxX, y: cell.maxY },
    ]),
  ]);
  const lying = box.maxX - box.minX > box.maxY - box.minY;
  const page =
    "roll" in paper
      ? { width: Math.max(paper.roll, 297), height: paper.roll }
      : lying
        ? { width: paper.height, height: paper.width }
        : paper;
  const size = { width: page.width, height: page.height };
  const inside = insideEdge(size);
  const field = { width: inside.width, height: inside.height - FOOT - 4 };
  const scale = Math.max((box.maxX - box.minX) / field.width, (box.maxY - box.minY) / field.height, 1) * 1.02;
  const flat = paperSheet(plan);
  const middle = { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
  const sheet: Sheet = {
    ...flat,
    scale,
    origin: { x: field.width / 2 - middle.x / scale, y: field.height / 2 + middle.y / scale },
  };
  const outline = (d: string, weight: number, colour: string): Markup =>
    element("path", { d, fill: "none", stroke: colour, "stroke-width": weight });
  const corners = ({ minX, maxX, minY, maxY }: Box): Point[] => [
    { x: minX, y: minY },
    { x: maxX, y: minY },
    { x: maxX, y: maxY },
    { x: minX, y: maxY },
  ];
  const { palette } = sheet;
  return pageOf(size, flat, [
    outline(lineData(sheet, plan.room.outline, true), 0.5, palette.wall),
    ...tiles.map(({ cell }) => outline(lineData(sheet, corners(cell), true), 0.2, palette.carmine)),
    ...lines.map((line) => outline(trackData(sheet, line.path), 0.35, palette.ink)),
    ...tiles.map((tile) => {
      const at = {
        x: sheet.origin.x + (tile.cell.minX + tile.cell.maxX) / 2 / scale,
        y: sheet.origin.y - (tile.cell.minY + tile.cell.maxY) / 2 / scale,
      };
      return lettered(sheet, at, tileName(tile), {
        size: Math.min(12, (tile.cell.maxX - tile.cell.minX) / scale / 0.25 / 4),
        colour: palette.carmine,
        halo: palette.paper,
      });
    }),
    drawFoot(flat, { x: FOOT_INSET, y: inside.height - FOOT }, what),
  ]);
}
