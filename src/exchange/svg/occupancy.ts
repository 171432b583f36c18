/** Which parts of the paper are taken, so that a label is put where there is room, or left out. Plain cells, no order of chance. */
import type { Point } from "../../geometry/pose.js";

/** A rectangle of paper about its middle, turned clockwise by `turn` degrees. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly turn: number;
}

export interface Occupancy {
  readonly mark: (p: Point) => void;
  /** Marks a straight line of paper. */
  readonly markLine: (a: Point, b: Point) => void;
  readonly markBox: (box: Box) => void;
  /** Whether the box, grown by `margin` all round, touches nothing marked. */
  readonly isFree: (box: Box, margin: number) => boolean;
}

export function makeOccupancy(cell: number): Occupancy {
  const taken = new Set<string>();
  const key = (x: number, y: number) => `${Math.floor(x / cell)},${Math.floor(y / cell)}`;
  const mark = (p: Point) => void taken.add(key(p.x, p.y));
  return {
    mark,
    markLine: (a, b) => {
      const n = Math.max(1, Math.ceil(Math.hypot(b.x - a.x, b.y - a.y) / cell));
      for (let i = 0; i <= n; i++) mark({ x: a.x + ((b.x - a.x) * i) / n, y: a.y + ((b.y - a.y) * i) / n });
    },
    markBox: (box) => {
      for (const p of cellsOf(box, 0, cell)) mark(p);
    },
    isFree: (box, margin) => {
      for (const p of cellsOf(box, margin, cell)) if (taken.has(key(p.x, p.y))) return false;
      return true;
    },
  };
}

export function cornersOf(box: Box): Point[] {
  const angle = (box.turn * Math.PI) / 180;
  const c = Math.cos(angle);
  const s = Math.sin(angle);
  return [-0.5, 0.5].flatMap((u) =>
    [-0.5, 0.5].map((v) => ({
      x: box.x + u * box.width * c - v * box.height * s,
      y: box.y + u * box.width * s + v * box.height * c,
    })),
  );
}

/** Points no more than half a cell apart that cover a box. */
function* cellsOf(box: Box, margin: number, cell: number): Generator<Point> {
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
