/** How a drawing is laid out on its paper: scale, size, where each deck's panel lies, and the column beside them. */
import type { Point } from "../../geometry/pose.js";
import type { Layout } from "../../layout/layout.js";
import type { Plan } from "../../plan/schema.js";
import { roomExtent } from "./room.js";
import { PEN_ON_SCREEN, penFor } from "./sheet.js";
import { COLUMN, FRAME, keyHeight, TITLE_HEIGHT } from "./title-block.js";

export interface Size {
  readonly width: number;
  readonly height: number;
}

export interface SheetWishes {
  readonly panels: number;
  /** Panels carry a title of their own. */
  readonly titled: boolean;
  /** The column of key and title block is drawn. */
  readonly margins: boolean;
  readonly scale: number;
  /** In px; the scale then follows from it. */
  readonly fit: Size | undefined;
}

export interface SheetLayout {
  readonly scale: number;
  readonly pen: number;
  readonly paper: Size;
  /** Paper place of the room's origin in a panel. */
  readonly originOf: (panel: number) => Point;
  /** Upper left corner of the column, and its width. */
  readonly column: Point & { readonly width: number };
  /** Inner edge of the frame. */
  readonly border: number;
}

/** px round the room: above for the dimension (and a deck's title), left for the dimension, and breathing space. */
export const MARGIN = { top: 46, left: 46, right: 30, bottom: 34, title: 26 } as const;

/** Smallest drawing worth looking at, px. */
const LEAST_DRAWING = 160;

export function layOutSheet(plan: Plan, layout: Layout, wishes: SheetWishes): SheetLayout {
  const { panels, fit } = wishes;
  const extent = boundsOf([...roomExtent(plan.room), ...layoutExtent(layout)]);
  const room = { width: extent.maxX - extent.minX, height: extent.maxY - extent.minY };
  const scale = fit ? fitted(room, wishes, fit) : wishes.scale;
  const pen = fit ? PEN_ON_SCREEN : penFor(scale);
  const above = (MARGIN.top + (wishes.titled ? MARGIN.title : 0)) * pen;
  const panel = {
    width: room.width / scale + (MARGIN.left + MARGIN.right) * pen,
    height: room.height / scale + MARGIN.bottom * pen + above,
  };
  const columns = fit ? fittedColumns(room, wishes, fit) : squareColumns(panels, panel);
  const rows = Math.ceil(panels / columns);
  const border = (FRAME.outer + FRAME.zone) * pen;
  const beside = wishes.margins ? COLUMN * pen : 0;
  const classes = new Set([...layout.lines.values()].map((line) => line.class)).size;
  const key = keyHeight(Object.keys(plan.decks).length, classes);
  const least = wishes.margins ? (key + TITLE_HEIGHT + MARGIN.top) * pen : 0;
  const needed = {
    width: 2 * border + columns * panel.width + beside,
    height: 2 * border + Math.max(rows * panel.height, least),
  };
  // On a screen the paper fills what it is given and the drawing lies in its middle.
  const paper = {
    width: Math.max(needed.width, (fit?.width ?? 0) * pen),
    height: Math.max(needed.height, (fit?.height ?? 0) * pen),
  };
  const spare = fit
    ? { x: (paper.width - needed.width) / 2, y: (paper.height - 2 * border - rows * panel.height) / 2 }
    : { x: 0, y: 0 };
  return {
    scale,
    pen,
    paper,
    border,
    originOf: (i) => ({
      x: border + spare.x + (i % columns) * panel.width + MARGIN.left * pen - extent.minX / scale,
      y: border + Math.max(0, spare.y) + Math.floor(i / columns) * panel.height + above + extent.maxY / scale,
    }),
    column: { x: paper.width - border - beside, y: border, width: beside },
  };
}

/** So many columns that the sheet comes out about square. */
const squareColumns = (panels: number, panel: Size): number =>
  panels === 1 ? 1 : Math.max(1, Math.ceil(Math.sqrt((panels * panel.height) / panel.width)));

/** Scale at which the panels in so many columns fill a screen. */
function scaleIn(columns: number, room: Size, { panels, titled, margins }: SheetWishes, fit: Size): number {
  const border = 2 * (FRAME.outer + FRAME.zone);
  const rows = Math.ceil(panels / columns);
  const wide = (fit.width - border - (margins ? COLUMN : 0)) / columns - MARGIN.left - MARGIN.right;
  const high = (fit.height - border) / rows - MARGIN.top - MARGIN.bottom - (titled ? MARGIN.title : 0);
  return Math.max(
    room.width / (Math.max(wide, LEAST_DRAWING) * PEN_ON_SCREEN),
    room.height / (Math.max(high, LEAST_DRAWING) * PEN_ON_SCREEN),
    LEAST_SCALE,
  );
}

/** A room of no size is drawn at some scale or other. */
const LEAST_SCALE = 1e-3;

function fittedColumns(room: Size, wishes: SheetWishes, fit: Size): number {
  const counts = Array.from({ length: wishes.panels }, (_, i) => i + 1);
  return counts.reduce((best, columns) =>
    scaleIn(columns, room, wishes, fit) < scaleIn(best, room, wishes, fit) ? columns : best,
  );
}

const fitted = (room: Size, wishes: SheetWishes, fit: Size): number =>
  scaleIn(fittedColumns(room, wishes, fit), room, wishes, fit);

/** Track and benches may lie outside the room; they are drawn all the same. */
function layoutExtent(layout: Layout): Point[] {
  const points: Point[] = [];
  for (const line of layout.lines.values()) {
    const { count, x, y } = line.samples;
    for (let i = 0; i < count; i++) points.push({ x: x[i] ?? 0, y: y[i] ?? 0 });
  }
  for (const space of layout.space.decks.values()) for (const ring of space.bench) points.push(...ring);
  return points;
}

interface Bounds {
  readonly minX: number;
  readonly maxX: number;
  readonly minY: number;
  readonly maxY: number;
}

function boundsOf(points: readonly Point[]): Bounds {
  let bounds: Bounds | undefined;
  for (const p of points) {
    if (!Number.isFinite(p.x) || !Number.isFinite(p.y)) continue;
    bounds = {
      minX: Math.min(bounds?.minX ?? p.x, p.x),
      maxX: Math.max(bounds?.maxX ?? p.x, p.x),
      minY: Math.min(bounds?.minY ?? p.y, p.y),
      maxY: Math.max(bounds?.maxY ?? p.y, p.y),
    };
  }
  return bounds ?? { minX: 0, maxX: 0, minY: 0, maxY: 0 };
}
