/**
 * Gaps of an area: the places where what lies round it comes closest together, as two rocks do at a strait. Between a
 * corner that sticks into the area and another one, or the foot of the perpendicular on an edge, where a disc with the
 * gap as its diameter touches nothing else. These are the saddles of the distance to the edge: whatever is moved about in
 * the area passes its narrowest place at a gap and nowhere else.
 *
 * Always holds: a gap lies within the area; no gap crosses another; a disc wider than a gap cannot pass through it; the
 * widest disc that can be taken from one place to another is the narrowest gap it must pass, or what fits at the ends.
 */
import { prepareArea, type PreparedArea } from "./area-distance.js";
import { AREA_UNIT, type Area } from "./areas.js";
import type { Point } from "./pose.js";
import type { Millimetres } from "./units.js";

/** A place on the edge of an area: on edge n of a ring, so far from its corner n; 0 at the corner. */
export interface GapEnd {
  readonly ring: number;
  readonly edge: number;
  readonly along: Millimetres;
  readonly point: Point;
}

export interface Gap {
  readonly width: Millimetres;
  readonly a: GapEnd;
  readonly b: GapEnd;
}

/** Rounding in directions; a corner square to an edge still looks straight at it. */
const SQUARE = 1e-9;
/** A disc may be entered by no more than this: coordinates of areas are rounded to it. */
const TOUCH: Millimetres = AREA_UNIT;
/** So many of the nearest ends of a corner are tried as what stands in the way before all edges are asked. */
const FIRST_TRIED = 6;

/** Corners of all rings, each with the edge that leaves it; the inside lies to the left of every edge. */
interface Corners {
  readonly count: number;
  readonly ring: Int32Array;
  readonly edge: Int32Array;
  readonly before: Int32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Direction and length of the edge that leaves it. */
  readonly dx: Float64Array;
  readonly dy: Float64Array;
  readonly length: Float64Array;
}

/** All gaps, narrowest first. An area without corners that stick into it has none. */
export function findGaps(area: Area): Gap[] {
  const corners = cornersOf(area);
  const prepared = prepareArea(area);
  const sharp = Int32Array.from(Array.from({ length: corners.count }, (_, i) => i).filter((i) => sticksIn(corners, i)));
  const found: Gap[] = [];
  for (let n = 0; n < sharp.length; n++) {
    const v = sharp[n] as number;
    const candidates = [...cornerToEdges(corners, v), ...cornerToCorners(corners, v, sharp, n + 1)];
    candidates.sort((p, q) => p.width - q.width);
    candidates.forEach((gap, i) => {
      if (isOpen(gap, candidates, i, prepared)) found.push(gap);
    });
  }
  found.sort((p, q) => p.width - q.width);
  // Two that cross have all but the same width, and the ends of both lie on one circle: either will do.
  const kept: Gap[] = [];
  for (const gap of found) if (!kept.some((other) => cross(gap, other))) kept.push(gap);
  return kept;
}

function cornersOf(area: Area): Corners {
  const count = area.reduce((n, ring) => n + ring.length, 0);
  const [ring, edge, before] = [new Int32Array(count), new Int32Array(count), new Int32Array(count)];
  const [x, y, dx, dy, length] = [0, 1, 2, 3, 4].map(() => new Float64Array(count)) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  let first = 0;
  area.forEach((points, r) => {
    points.forEach((p, e) => {
      const i = first + e;
      const q = points[e + 1] ?? points[0] ?? p;
      const far = Math.hypot(q.x - p.x, q.y - p.y);
      ring[i] = r;
      edge[i] = e;
      before[i] = e > 0 ? i - 1 : first + points.length - 1;
      x[i] = p.x;
      y[i] = p.y;
      length[i] = far;
      dx[i] = far > 0 ? (q.x - p.x) / far : 0;
      dy[i] = far > 0 ? (q.y - p.y) / far : 0;
    });
    first += points.length;
  });
  return { count, ring, edge, before, x, y, dx, dy, length };
}

/** Whether the edge turns right at a corner, so that what is outside sticks into the area there. */
function sticksIn({ before, dx, dy }: Corners, i: number): boolean {
  const b = before[i] as number;
  return (dx[b] as number) * (dy[i] as number) - (dy[b] as number) * (dx[i] as number) < -SQUARE;
}

/** Whether a corner is the nearest place of both its edges to what lies that way, a direction of length 1. */
function looks({ before, dx, dy }: Corners, i: number, ux: number, uy: number): boolean {
  const b = before[i] as number;
  const [ax, ay, bx, by] = [dx[b] as number, dy[b] as number, dx[i] as number, dy[i] as number];
  if (ux * ax + uy * ay < -SQUARE || ux * bx + uy * by > SQUARE) return false;
  return ux * -(ay + by) + uy * (ax + bx) > 0;
}

const endAt = ({ ring, edge, x, y, dx, dy }: Corners, i: number, along: Millimetres): GapEnd => ({
  ring: ring[i] as number,
  edge: edge[i] as number,
  along,
  point: { x: (x[i] as number) + along * (dx[i] as number), y: (y[i] as number) + along * (dy[i] as number) },
});

function cornerToEdges(corners: Corners, v: number): Gap[] {
  const { count, x, y, dx, dy, length, before } = corners;
  const [vx, vy] = [x[v] as number, y[v] as number];
  const found: Gap[] = [];
  for (let e = 0; e < count; e++) {
    const [ex, ey] = [dx[e] as number, dy[e] as number];
    const [rx, ry] = [vx - (x[e] as number), vy - (y[e] as number)];
    const width = ex * ry - ey * rx;
    if (width <= TOUCH || e === v || e === before[v]) continue;
    const along = rx * ex + ry * ey;
    // At an edge's end it is that corner's gap.
    if (along <= TOUCH || along >= (length[e] as number) - TOUCH) continue;
    if (looks(corners, v, ey, -ex)) found.push({ width, a: endAt(corners, v, 0), b: endAt(corners, e, along) });
  }
  return found;
}

function cornerToCorners(corners: Corners, v: number, sharp: Int32Array, from: number): Gap[] {
  const { x, y } = corners;
  const found: Gap[] = [];
  for (let n = from; n < sharp.length; n++) {
    const w = sharp[n] as number;
    const [rx, ry] = [(x[w] as number) - (x[v] as number), (y[w] as number) - (y[v] as number)];
    const width = Math.hypot(rx, ry);
    if (width <= TOUCH) continue;
    const [ux, uy] = [rx / width, ry / width];
    if (looks(corners, v, ux, uy) && looks(corners, w, -ux, -uy))
      found.push({ width, a: endAt(corners, v, 0), b: endAt(corners, w, 0) });
  }
  return found;
}

/** Whether nothing lies in the disc with the gap as its diameter. */
function isOpen({ a, b, width }: Gap, nearer: readonly Gap[], n: number, area: PreparedArea): boolean {
  const centre = { x: (a.point.x + b.point.x) / 2, y: (a.point.y + b.point.y) / 2 };
  const radius = width / 2 - TOUCH;
  for (let i = 0; i < Math.min(n, FIRST_TRIED); i++) {
    const p = nearer[i]?.b.point;
    if (p && (p.x - centre.x) ** 2 + (p.y - centre.y) ** 2 < radius * radius) return false;
  }
  return radius <= 0 || area.nearestEdge(centre, radius) === undefined;
}

/** Whether two gaps cross one another; ends they share do not count. */
function cross({ a: { point: a }, b: { point: b } }: Gap, { a: { point: c }, b: { point: d } }: Gap): boolean {
  if (Math.max(a.x, b.x) < Math.min(c.x, d.x) || Math.max(c.x, d.x) < Math.min(a.x, b.x)) return false;
  if (Math.max(a.y, b.y) < Math.min(c.y, d.y) || Math.max(c.y, d.y) < Math.min(a.y, b.y)) return false;
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}

/** Which side of the line from p to q a point lies on; 0 where it is on it to within rounding. */
function side(p: Point, q: Point, r: Point): -1 | 0 | 1 {
  const across = (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
  const rounding = TOUCH * Math.hypot(q.x - p.x, q.y - p.y);
  return across > rounding ? 1 : across < -rounding ? -1 : 0;
}
