/**
 * Which parts of a drawing are taken, so that a label is put where there is room, or left out. Plain cells, no order of
 * chance; kept in tiles, so that what is far apart costs nothing between.
 *
 * Always holds: a place that was marked is not free under any box that holds it with a cell to spare.
 */
import type { Point } from "../geometry/pose.js";

/** A rectangle of the drawing about its middle, turned clockwise by `turn` degrees. */
export interface PaperBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly turn: number;
}

export interface Occupancy {
  readonly mark: (p: Point) => void;
  /** Marks a straight line of the drawing. */
  readonly markLine: (a: Point, b: Point) => void;
  readonly markBox: (box: PaperBox) => void;
  /** Whether the box, grown by `margin` all round, touches nothing marked. */
  readonly isFree: (box: PaperBox, margin: number) => boolean;
}

/** Cells to the side of a tile, a power of two. */
const TILE = 64;
/** Tiles to a column: two numbers in one, exact in double precision. */
const COLUMN = 2 ** 26;

export function makeOccupancy(cell: number): Occupancy {
  const tiles = new Map<number, Uint8Array>();
  const at = (v: number): number => Math.floor(v / cell);
  const tileOf = (i: number, j: number): number => Math.floor(i / TILE) * COLUMN + Math.floor(j / TILE);
  const within = (i: number, j: number): number => (((i % TILE) + TILE) % TILE) * TILE + (((j % TILE) + TILE) % TILE);
  const markCell = (i: number, j: number): void => {
    const key = tileOf(i, j);
    let tile = tiles.get(key);
    if (!tile) tiles.set(key, (tile = new Uint8Array(TILE * TILE)));
    tile[within(i, j)] = 1;
  };
  const isTaken = (i: number, j: number): boolean => tiles.get(tileOf(i, j))?.[within(i, j)] === 1;

  /** Whether any cell of an upright rectangle of cells is taken; empty tiles are passed over whole. */
  const anyTaken = (i0: number, j0: number, i1: number, j1: number): boolean => {
    for (let i = i0; i <= i1; i++) {
      for (let j = j0; j <= j1; ) {
        const tile = tiles.get(tileOf(i, j));
        const end = Math.min(j1, (Math.floor(j / TILE) + 1) * TILE - 1);
        if (tile) {
          const from = within(i, j);
          for (let k = from; k <= from + end - j; k++) if (tile[k] === 1) return true;
        }
        j = end + 1;
      }
    }
    return false;
  };

  const mark = (p: Point): void => markCell(at(p.x), at(p.y));
  return {
    mark,
    markLine: (a, b) => {
      const n = Math.max(1, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / cell));
      for (let i = 0; i <= n; i++) mark({ x: a.x + ((b.x - a.x) * i) / n, y: a.y + ((b.y - a.y) * i) / n });
    },
    markBox: (box) => {
      if (box.turn % 90 !== 0) {
        for (const p of pointsOver(box, 0, cell)) mark(p);
        return;
      }
      const [w, h] = halfExtent(box, 0);
      const [i1, j1] = [at(box.x + w), at(box.y + h)];
      for (let i = at(box.x - w); i <= i1; i++) for (let j = at(box.y - h); j <= j1; j++) markCell(i, j);
    },
    isFree: (box, margin) => {
      const [w, h] = halfExtent(box, margin);
      const clear = !anyTaken(at(box.x - w), at(box.y - h), at(box.x + w), at(box.y + h));
      if (clear || box.turn % 90 === 0) return clear;
      for (const p of pointsOver(box, margin, cell)) if (isTaken(at(p.x), at(p.y))) return false;
      return true;
    },
  };
}

/** Half the width and height of the upright rectangle round a box grown by a margin. */
function halfExtent(box: PaperBox, margin: number): readonly [number, number] {
  const angle = (box.turn * Math.PI) / 180;
  const [c, s] = [Math.abs(Math.cos(angle)), Math.abs(Math.sin(angle))];
  const [w, h] = [box.width / 2 + margin, box.height / 2 + margin];
  return [w * c + h * s, w * s + h * c];
}

/** Points no more than half a cell apart that cover a box. */
function* pointsOver(box: PaperBox, margin: number, cell: number): Generator<Point> {
  const angle = (box.turn * Math.PI) / 180;
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  const nx = Math.max(1, Math.ceil((2 * (box.width + 2 * margin)) / cell));
  const ny = Math.max(1, Math.ceil((2 * (box.height + 2 * margin)) / cell));
  for (let i = 0; i <= nx; i++) {
    const u = (i / nx - 0.5) * (box.width + 2 * margin);
    for (let j = 0; j <= ny; j++) {
      const v = (j / ny - 0.5) * (box.height + 2 * margin);
      yield { x: box.x + u * c - v * s, y: box.y + u * s + v * c };
    }
  }
}

/** Corners of a box, one after another. */
export function cornersOf(box: PaperBox): Point[] {
  const angle = (box.turn * Math.PI) / 180;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return [
    [-0.5, -0.5],
    [0.5, -0.5],
    [0.5, 0.5],
    [-0.5, 0.5],
  ].map(([u = 0, v = 0]) => ({
    x: box.x + u * box.width * c - v * box.height * s,
    y: box.y + u * box.width * s + v * box.height * c,
  }));
}
