/**
 * Where a point stands to an area: inside or out, how far from the edge, and which edge is nearest. `prepareArea` does
 * the work once for many questions: few edges are gone through one by one, many lie in a tree of boxes.
 *
 * Always holds: the signed distance is positive inside, negative outside, and changes by no more than the point moves;
 * the nearest place is on its edge, as far away as it says; prepared and unprepared answers are the same.
 */
import type { Area } from "./areas.js";
import type { Point } from "./pose.js";
import { type BoxIndex, indexBoxes } from "./search.js";
import type { Millimetres } from "./units.js";

/** A place on an area's edge: edge n of a ring runs from its corner n to the next. */
export interface EdgePlace {
  readonly ring: number;
  readonly edge: number;
  readonly point: Point;
  readonly distance: Millimetres;
}

export interface PreparedArea {
  readonly area: Area;
  /** Whether the point is inside. A point on an edge, to within rounding, may fall either way: ask the distance where it matters. */
  contains(p: Point): boolean;
  /** The nearest place on any edge, or undefined where there is none within reach. */
  nearestEdge(p: Point, within?: Millimetres): EdgePlace | undefined;
  /** Distance to the nearest edge, positive inside and negative outside; -Infinity for an area of nothing. */
  distanceToEdge(p: Point): Millimetres;
}

/** Up to so many edges, going through all of them is quicker than a tree. */
const FEW_EDGES = 24;
/** So many boxes are measured for a first bound on the distance before the tree is asked for all within it. */
const FIRST_LOOK = 3;

interface Edges {
  readonly count: number;
  /** x, y of the corner an edge starts from and of the one it leads to, four numbers an edge. */
  readonly ends: Float64Array;
  readonly ring: Int32Array;
  readonly edge: Int32Array;
}

function edgesOf(area: Area): Edges {
  const count = area.reduce((n, ring) => n + ring.length, 0);
  const ends = new Float64Array(4 * count);
  const ringOf = new Int32Array(count);
  const edgeOf = new Int32Array(count);
  let i = 0;
  area.forEach((ring, r) => {
    ring.forEach((p, e) => {
      const q = ring[e + 1] ?? ring[0] ?? p;
      ends.set([p.x, p.y, q.x, q.y], 4 * i);
      ringOf[i] = r;
      edgeOf[i] = e;
      i++;
    });
  });
  return { count, ends, ring: ringOf, edge: edgeOf };
}

/** Windings a ray towards +x gains from one edge: +1 where it goes up across, -1 where down; each corner belongs to one edge only. */
function windingOf({ ends }: Edges, i: number, x: number, y: number): number {
  const y0 = ends[4 * i + 1] as number;
  const y1 = ends[4 * i + 3] as number;
  if (y0 <= y === y1 <= y) return 0;
  const x0 = ends[4 * i] as number;
  const x1 = ends[4 * i + 2] as number;
  const left = (x1 - x0) * (y - y0) - (x - x0) * (y1 - y0);
  if (y1 > y0) return left > 0 ? 1 : 0;
  return left < 0 ? -1 : 0;
}

/** How far along an edge, 0 to 1, the place nearest to the point is; 0 on an edge without length. */
function alongEdge({ ends }: Edges, i: number, x: number, y: number): number {
  const x0 = ends[4 * i] as number;
  const y0 = ends[4 * i + 1] as number;
  const dx = (ends[4 * i + 2] as number) - x0;
  const dy = (ends[4 * i + 3] as number) - y0;
  const square = dx * dx + dy * dy;
  return square > 0 ? Math.min(1, Math.max(0, ((x - x0) * dx + (y - y0) * dy) / square)) : 0;
}

function pointAlong({ ends }: Edges, i: number, t: number): Point {
  const x0 = ends[4 * i] as number;
  const y0 = ends[4 * i + 1] as number;
  return { x: x0 + t * ((ends[4 * i + 2] as number) - x0), y: y0 + t * ((ends[4 * i + 3] as number) - y0) };
}

function distanceTo(edges: Edges, i: number, x: number, y: number): Millimetres {
  const p = pointAlong(edges, i, alongEdge(edges, i, x, y));
  return Math.hypot(p.x - x, p.y - y);
}

function indexEdges({ count, ends }: Edges): BoxIndex {
  const boxes = new Float64Array(4 * count);
  for (let i = 0; i < 4 * count; i += 4) {
    const [x0, y0, x1, y1] = ends.subarray(i, i + 4) as unknown as [number, number, number, number];
    boxes.set([Math.min(x0, x1), Math.min(y0, y1), Math.max(x0, x1), Math.max(y0, y1)], i);
  }
  return indexBoxes(boxes);
}

/** The area made ready for many questions. The area itself is not copied and must not change. */
export function prepareArea(area: Area): PreparedArea {
  const edges = edgesOf(area);
  const index = edges.count > FEW_EDGES ? indexEdges(edges) : undefined;

  function contains({ x, y }: Point): boolean {
    let winding = 0;
    if (index) {
      index.visit(x, y, Number.POSITIVE_INFINITY, y, (i) => {
        winding += windingOf(edges, i, x, y);
      });
    } else for (let i = 0; i < edges.count; i++) winding += windingOf(edges, i, x, y);
    return winding !== 0;
  }

  function nearestEdge({ x, y }: Point, within: Millimetres = Number.POSITIVE_INFINITY): EdgePlace | undefined {
    let best = -1;
    let least = within;
    const measure = (i: number): void => {
      const d = distanceTo(edges, i, x, y);
      if (d < least || (d === least && (best < 0 || i < best))) {
        least = d;
        best = i;
      }
    };
    if (index) {
      if (least === Number.POSITIVE_INFINITY) for (const i of index.nearest(x, y, FIRST_LOOK)) measure(i);
      if (least < Number.POSITIVE_INFINITY) index.visit(x - least, y - least, x + least, y + least, measure);
    } else for (let i = 0; i < edges.count; i++) measure(i);
    if (best < 0) return undefined;
    const point = pointAlong(edges, best, alongEdge(edges, best, x, y));
    return { ring: edges.ring[best] ?? 0, edge: edges.edge[best] ?? 0, point, distance: least };
  }

  function distanceToEdge(p: Point): Millimetres {
    const place = nearestEdge(p);
    if (!place) return Number.NEGATIVE_INFINITY;
    return contains(p) ? place.distance : -place.distance;
  }

  return { area, contains, nearestEdge, distanceToEdge };
}

/** Whether the point is inside; for a question or two. */
export const containsPoint = (area: Area, p: Point): boolean => prepareArea(area).contains(p);

/** The nearest place on any edge, or undefined for an area of nothing; for a question or two. */
export const nearestEdge = (area: Area, p: Point): EdgePlace | undefined => prepareArea(area).nearestEdge(p);

/** Distance to the nearest edge, positive inside and negative outside; for a question or two. */
export const distanceToEdge = (area: Area, p: Point): Millimetres => prepareArea(area).distanceToEdge(p);
