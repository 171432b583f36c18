/**
 * How far places are from the nearest of many edges, asked for hundreds of thousands of times: at the corners of squares
 * the distance is kept, once it was asked for, with the edges that can be nearest anywhere in the square.
 *
 * Always holds: `exact` is the distance to the nearest edge, negative where the place is not inside; `rough` differs from it
 * by no more than `OFF`.
 */
import type { Area } from "../geometry/areas.js";
import type { Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";

const SQUARE: Millimetres = 25;
/** The farthest a place lies from the corner it is counted to. */
export const OFF: Millimetres = SQUARE * Math.SQRT1_2;

interface Corner {
  readonly distance: Millimetres;
  /** Edges that can be the nearest within the square. */
  readonly near: Int32Array;
}

export class EdgeField {
  /** x, y of an edge's beginning, and where it leads from there. */
  private readonly edges: Float64Array;
  private readonly count: number;
  private readonly left: Millimetres;
  private readonly bottom: Millimetres;
  private readonly columns: number;
  private readonly rows: number;
  private readonly distances: Float64Array;
  private readonly corners = new Map<number, Corner>();

  /** `within`: the area that is asked about; everywhere else is out. */
  constructor(
    areas: readonly Area[],
    within: Area,
    private readonly inside: (p: Point) => boolean,
  ) {
    const flat: number[] = [];
    for (const area of areas) {
      for (const ring of area) {
        ring.forEach((p, i) => {
          const q = ring[i + 1] ?? ring[0] ?? p;
          flat.push(p.x, p.y, q.x - p.x, q.y - p.y);
        });
      }
    }
    this.edges = Float64Array.from(flat);
    this.count = flat.length / 4;
    let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
    for (const ring of within) {
      for (const { x, y } of ring) {
        [minX, minY] = [Math.min(minX, x), Math.min(minY, y)];
        [maxX, maxY] = [Math.max(maxX, x), Math.max(maxY, y)];
      }
    }
    this.left = minX;
    this.bottom = minY;
    this.columns = maxX > minX ? Math.ceil((maxX - minX) / SQUARE) + 1 : 0;
    this.rows = maxY > minY ? Math.ceil((maxY - minY) / SQUARE) + 1 : 0;
    this.distances = new Float64Array(this.columns * this.rows).fill(Number.NaN);
  }

  rough(x: Millimetres, y: Millimetres): Millimetres {
    const n = this.cornerAt(x, y);
    if (n < 0) return Number.NEGATIVE_INFINITY;
    const known = this.distances[n] as number;
    return Number.isNaN(known) ? this.measure(n) : known;
  }

  exact(x: Millimetres, y: Millimetres): Millimetres {
    const n = this.cornerAt(x, y);
    if (n < 0) return Number.NEGATIVE_INFINITY;
    const { distance, near } = this.cornerOf(n);
    let least = Number.POSITIVE_INFINITY;
    for (const i of near) least = Math.min(least, this.squareTo(i, x, y));
    least = Math.sqrt(least);
    const isIn = Math.abs(distance) > OFF ? distance > 0 : this.inside({ x, y });
    return isIn ? least : -least;
  }

  private cornerAt(x: Millimetres, y: Millimetres): number {
    const i = Math.round((x - this.left) / SQUARE);
    const j = Math.round((y - this.bottom) / SQUARE);
    return i >= 0 && j >= 0 && i < this.columns && j < this.rows ? j * this.columns + i : -1;
  }

  private place(n: number): Point {
    const i = n % this.columns;
    return { x: this.left + i * SQUARE, y: this.bottom + ((n - i) / this.columns) * SQUARE };
  }

  private measure(n: number): Millimetres {
    const p = this.place(n);
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i < this.count; i++) least = Math.min(least, this.squareTo(i, p.x, p.y));
    const distance = this.inside(p) ? Math.sqrt(least) : -Math.sqrt(least);
    this.distances[n] = distance;
    return distance;
  }

  private cornerOf(n: number): Corner {
    const known = this.corners.get(n);
    if (known) return known;
    const kept = this.distances[n] as number;
    const distance = Number.isNaN(kept) ? this.measure(n) : kept;
    const reach = (Math.abs(distance) + 2 * OFF + 1e-6) ** 2;
    const { x, y } = this.place(n);
    const near: number[] = [];
    for (let i = 0; i < this.count; i++) if (this.squareTo(i, x, y) <= reach) near.push(i);
    const corner = { distance, near: Int32Array.from(near) };
    this.corners.set(n, corner);
    return corner;
  }

  /** Square of the distance to an edge. */
  private squareTo(i: number, x: Millimetres, y: Millimetres): number {
    const { edges } = this;
    const px = x - (edges[4 * i] as number);
    const py = y - (edges[4 * i + 1] as number);
    const dx = edges[4 * i + 2] as number;
    const dy = edges[4 * i + 3] as number;
    const square = dx * dx + dy * dy;
    const t = square > 0 ? Math.min(1, Math.max(0, (px * dx + py * dy) / square)) : 0;
    const ex = px - t * dx;
    const ey = py - t * dy;
    return ex * ex + ey * ey;
  }
}
