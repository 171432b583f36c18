/**
 * How full-size templates are cut into sheets of paper: a grid of cells that meet edge to edge, each printed with an
 * overlap all round, so that sheets can be laid over one another by their registration crosses.
 *
 * Always holds: every point given lies in a cell of the tiles; a tile's window holds its cell and half the overlap beyond;
 * two tiles side by side show the same strip, one overlap wide; no tile is without a point in its cell.
 */
import type { Box } from "../../geometry/bounds.js";
import type { Point } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import type { Size } from "../svg/sheet-layout.js";
import type { PrintPaper } from "./papers.js";
import { EDGE } from "./sheet-frame.js";

/** Strips that two sheets side by side both show, mm. */
export const OVERLAP: Millimetres = 10;
/** Below the window: check scales, warning, the sheet's name. */
export const FOOT: Millimetres = 24;
/** A page of a PDF is no longer (14,400 points, ISO 32000-1 annex C), with some to spare, mm. */
const LONGEST: Millimetres = 5000;
/** Room for figures beside the outermost track on a roll cut to length, mm. */
const BESIDE: Millimetres = 40;
/** More sheets than this no one lays out; a plan that asks for them is refused. */
export const MOST_TILES = 2000;

export interface Tile {
  /** From the top and from the left, counting from 1. */
  readonly row: number;
  readonly column: number;
  /** The part of the room that is printed. */
  readonly window: Box;
  /** The cell without its overlap: what is left when sheets are trimmed. */
  readonly cell: Box;
  readonly page: Size;
}

export interface Tiling {
  readonly tiles: readonly Tile[];
  /** Grid lines of the cells, mm of the room. */
  readonly xs: readonly Millimetres[];
  readonly ys: readonly Millimetres[];
}

export const tileName = ({ row, column }: Pick<Tile, "row" | "column">): string => `R${row} C${column}`;

/** The cutting with the fewest sheets, of both ways the paper can lie; undefined where it takes too many. */
export function tilesFor(points: readonly Point[], box: Box, paper: PrintPaper): Tiling | undefined {
  const pages: Size[] =
    "roll" in paper
      ? [{ width: LONGEST, height: paper.roll }]
      : [
          { width: paper.width, height: paper.height },
          { width: paper.height, height: paper.width },
        ];
  let best: Tiling | undefined;
  for (const page of pages) {
    const tiling = tilesOf(points, box, page, "roll" in paper);
    if (tiling && (!best || tiling.tiles.length < best.tiles.length)) best = tiling;
  }
  return best;
}

function tilesOf(points: readonly Point[], box: Box, page: Size, roll: boolean): Tiling | undefined {
  const window = { width: page.width - 2 * EDGE, height: page.height - 2 * EDGE - FOOT };
  const cell = { width: window.width - OVERLAP, height: window.height - OVERLAP };
  const [columns, rows] = [cells(box.maxX - box.minX, cell.width), cells(box.maxY - box.minY, cell.height)];
  if (columns * rows > MOST_TILES * MOST_TILES) return undefined;
  // What is drawn lies in the middle of the grid; one cell of a roll begins where it begins.
  const left = (box.minX + box.maxX - columns * cell.width) / 2;
  const top = (box.minY + box.maxY + rows * cell.height) / 2;
  const held = new Map<number, { from: Millimetres; to: Millimetres }>();
  for (const { x, y } of points) {
    const column = Math.min(columns - 1, Math.max(0, Math.floor((x - left) / cell.width)));
    const row = Math.min(rows - 1, Math.max(0, Math.floor((top - y) / cell.height)));
    const key = row * columns + column;
    const span = held.get(key);
    if (!span) held.set(key, { from: x, to: x });
    else {
      span.from = Math.min(span.from, x);
      span.to = Math.max(span.to, x);
    }
  }
  if (held.size > MOST_TILES) return undefined;
  const half = OVERLAP / 2;
  const tiles = [...held]
    .sort(([a], [b]) => a - b)
    .map(([key, span]): Tile => {
      const [row, column] = [Math.floor(key / columns), key % columns];
      const minX = left + column * cell.width;
      const maxY = top - row * cell.height;
      const whole: Box = { minX, maxX: minX + cell.width, minY: maxY - cell.height, maxY };
      // A roll is cut where its track ends.
      const own = roll
        ? { ...whole, minX: Math.max(whole.minX, span.from - BESIDE), maxX: Math.min(whole.maxX, span.to + BESIDE) }
        : whole;
      const wide = Math.max(own.maxX - own.minX, ROLL_LEAST);
      const cut = roll ? { ...own, maxX: own.minX + wide } : own;
      return {
        row: row + 1,
        column: column + 1,
        cell: cut,
        window: { minX: cut.minX - half, maxX: cut.maxX + half, minY: cut.minY - half, maxY: cut.maxY + half },
        page: roll ? { width: cut.maxX - cut.minX + OVERLAP + 2 * EDGE, height: page.height } : page,
      };
    });
  return {
    tiles,
    xs: Array.from({ length: columns + 1 }, (_, i) => left + i * cell.width),
    ys: Array.from({ length: rows + 1 }, (_, i) => top - i * cell.height),
  };
}

/** Shorter pieces of a roll have no room for check scale and warning, mm. */
const ROLL_LEAST: Millimetres = 260;

const cells = (size: Millimetres, cell: Millimetres): number => Math.max(1, Math.ceil(size / cell - 1e-9));
