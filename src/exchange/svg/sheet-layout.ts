/** How a drawing is laid out on its paper: scale, size, where each deck's panel lies, and the column beside them. */
import type { Point } from "../../geometry/pose.js";
import type { Layout } from "../../layout/layout.js";
import type { Plan } from "../../plan/schema.js";
import { roomExtent } from "../../drafting/openings.js";
import { PEN_ON_SCREEN, penFor } from "./sheet.js";
import { COLUMN, FRAME, keyHeight, titleHeight } from "./title-block.js";

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
  /** Paper to fill at the scale, mm: what needs more of it comes out larger than this. */
  readonly paper?: Size;
  /** Where key and title block go; beside the drawing where left out. */
  readonly key?: KeyPlace;
  /** Rows the title block has besides its usual ones. */
  readonly facts?: number;
}

/** Where key and title block lie: in a column beside the drawing, in a band below it, or nowhere. */
export type KeyPlace = "beside" | "below" | "none";

interface Arrangement {
  readonly columns: number;
  readonly key: KeyPlace;
}

export interface SheetLayout {
  readonly scale: number;
  readonly pen: number;
  readonly paper: Size;
  /** Paper place of the room's origin in a panel. */
  readonly originOf: (panel: number) => Point;
  /** Upper left corners of the key's decks, of its lines (below the decks where left out), and of the title block. */
  readonly key?: { readonly decks: Point; readonly lines?: Point; readonly title: Point };
}

/** px round the room: above for the dimension (and a deck's title), left for the dimension, and breathing space. */
export const MARGIN = { top: 46, left: 46, right: 30, bottom: 34, title: 26 } as const;

/** Height of the band below, px. */
const BAND = 156;
/** px between the key and what bounds it. */
const KEY_GAP = 18;

/** Smallest drawing worth looking at, px. */
const LEAST_DRAWING = 160;

export function layOutSheet(plan: Plan, layout: Layout, wishes: SheetWishes): SheetLayout {
  const { panels, fit } = wishes;
  const extent = boundsOf([...roomExtent(plan.room), ...layoutExtent(layout)]);
  const room = { width: extent.maxX - extent.minX, height: extent.maxY - extent.minY };
  const arranged = fit ? fitted(room, wishes, fit) : { columns: 0, key: wishes.key ?? keyPlaces(wishes)[0] };
  const scale = fit ? scaleOf(arranged, room, wishes, fit) : wishes.scale;
  const pen = fit ? PEN_ON_SCREEN : penFor(scale);
  const above = (MARGIN.top + (wishes.titled ? MARGIN.title : 0)) * pen;
  const panel = {
    width: room.width / scale + (MARGIN.left + MARGIN.right) * pen,
    height: room.height / scale + MARGIN.bottom * pen + above,
  };
  const columns = arranged.columns || squareColumns(panels, panel);
  const drawn = { width: columns * panel.width, height: Math.ceil(panels / columns) * panel.height };
  const border = (FRAME.outer + FRAME.zone) * pen;
  const side = arranged.key === "beside" ? COLUMN * pen : 0;
  const titleBlock = titleHeight(wishes.facts ?? 0);
  const foot = arranged.key === "below" ? Math.max(BAND, titleBlock) * pen : 0;
  const classes = new Set([...layout.lines.values()].map((line) => line.class)).size;
  const least = side > 0 ? (keyHeight(Object.keys(plan.decks).length, classes) + titleBlock + MARGIN.top) * pen : 0;
  // Given its size, the paper fills it and the drawing lies in its middle.
  const given = fit ? { width: fit.width * pen, height: fit.height * pen } : wishes.paper;
  const paper = {
    width: Math.max(2 * border + drawn.width + side, given?.width ?? 0),
    height: Math.max(2 * border + Math.max(drawn.height + foot, least), given?.height ?? 0),
  };
  const spare = given
    ? {
        x: (paper.width - 2 * border - side - drawn.width) / 2,
        y: Math.max(0, paper.height - 2 * border - foot - drawn.height) / 2,
      }
    : { x: 0, y: 0 };
  const inner = { x: paper.width - border, y: paper.height - border };
  const title = { x: inner.x - COLUMN * pen, y: inner.y - titleBlock * pen };
  const gap = KEY_GAP * pen;
  const key =
    arranged.key === "beside"
      ? { decks: { x: title.x + gap, y: border + MARGIN.top * pen }, title }
      : {
          decks: { x: border + gap, y: inner.y - foot + gap },
          lines: { x: border + gap + COLUMN * pen, y: inner.y - foot + gap },
          title,
        };
  return {
    scale,
    pen,
    paper,
    originOf: (i) => ({
      x: border + spare.x + (i % columns) * panel.width + MARGIN.left * pen - extent.minX / scale,
      y: border + spare.y + Math.floor(i / columns) * panel.height + above + extent.maxY / scale,
    }),
    ...(arranged.key === "none" ? {} : { key }),
  };
}

/** So many columns that the sheet comes out about square. */
const squareColumns = (panels: number, panel: Size): number =>
  panels === 1 ? 1 : Math.max(1, Math.ceil(Math.sqrt((panels * panel.height) / panel.width)));

const keyPlaces = ({ margins }: SheetWishes): [KeyPlace, ...KeyPlace[]] => (margins ? ["beside", "below"] : ["none"]);

/** A room of no size is drawn at some scale or other. */
const LEAST_SCALE = 1e-3;

/** Scale at which panels so arranged fill a screen. */
function scaleOf({ columns, key }: Arrangement, room: Size, { panels, titled }: SheetWishes, fit: Size): number {
  const border = 2 * (FRAME.outer + FRAME.zone);
  const rows = Math.ceil(panels / columns);
  const wide = (fit.width - border - (key === "beside" ? COLUMN : 0)) / columns - MARGIN.left - MARGIN.right;
  const around = MARGIN.top + MARGIN.bottom + (titled ? MARGIN.title : 0);
  const high = (fit.height - border - (key === "below" ? BAND : 0)) / rows - around;
  return Math.max(
    room.width / (Math.max(wide, LEAST_DRAWING) * PEN_ON_SCREEN),
    room.height / (Math.max(high, LEAST_DRAWING) * PEN_ON_SCREEN),
    LEAST_SCALE,
  );
}

/** The arrangement in which the drawing comes out largest. */
function fitted(room: Size, wishes: SheetWishes, fit: Size): Arrangement {
  const all = keyPlaces(wishes).flatMap((key) =>
    Array.from({ length: wishes.panels }, (_, i): Arrangement => ({ columns: i + 1, key })),
  );
  return all.reduce((best, one) => (scaleOf(one, room, wishes, fit) < scaleOf(best, room, wishes, fit) ? one : best));
}

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
