/**
 * Which parts of a drawing are taken, so that a label is put where there is room, or left out. Plain cells, no order of
 * chance.
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

/** Cells to a column: two numbers in one, exact in double precision for drawings of up to 67 million cells each way. */
const COLUMN = 2 ** 26;

export function makeOccupancy(cell: number): Occupancy {
  const taken = new Set<number>();
  const at = (v: number): number => Math.floor(v / cell);
  const mark = (p: Point): void => void taken.add(at(p.x) * COLUMN + at(p.y));
  return {
    mark,
    markLine: (a, b) => {
      const n = Math.max(1, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / cell));
      for (let i = 0; i <= n; i++) mark({ x: a.x + ((b.x - a.x) * i) / n, y: a.y + ((b.y - a.y) * i) / n });
    },
    markBox: (box) => {
      for (const p of pointsOver(box, 0, cell)) mark(p);
    },
    isFree: (box, margin) => {
      if (box.turn === 0) {
        const [w, h] = [box.width / 2 + margin, box.height / 2 + margin];
        for (let i = at(box.x - w); i <= at(box.x + w); i++) {
          for (let j = at(box.y - h); j <= at(box.y + h); j++) if (taken.has(i * COLUMN + j)) return false;
        }
        return true;
      }
      for (const p of pointsOver(box, margin, cell)) if (taken.has(at(p.x) * COLUMN + at(p.y))) return false;
      return true;
    },
  };
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
