/**
 * An area divided along its gaps into cells, and the widest ways among the cells.
 *
 * Always holds: the cells together are the area; both sides of a gap that joins two parts belong to cells; the width of
 * a way to a cell is the greatest, over all ways from any of the starts, of the narrowest gap passed.
 */
import { type Area, type Ring, signedSize } from "./areas.js";
import type { Gap, GapEnd } from "./gaps.js";
import type { Point } from "./pose.js";
import type { Millimetres } from "./units.js";

export interface Division {
  readonly gaps: readonly Gap[];
  /** The edge of each cell, anticlockwise: parts of the area's edge and gaps. */
  readonly cells: readonly Ring[];
  /** The cells on both sides of each gap; the same one twice where it can be gone round without another gap. */
  readonly sides: readonly (readonly [number, number])[];
}

/** Ends of gaps nearer together than this are one place. */
const ONE_PLACE: Millimetres = 1e-6;

/** A place on a ring where gaps end; they stand in the order met when turning left from the way the ring goes on. */
interface Stop {
  readonly end: GapEnd;
  readonly gaps: { readonly half: number; readonly turn: number }[];
}

/** Where one arrives over half a gap: the stop, and the gap's number among those there. */
interface Arrival {
  readonly ring: number;
  readonly stop: number;
  readonly at: number;
}

/** Gaps must not cross one another. */
export function divideByGaps(area: Area, gaps: readonly Gap[]): Division {
  const stops = stopsByRing(area, gaps);
  /** Half a gap is one way along it: 2n from a to b, 2n + 1 back. The cell that lies to its left, once known. */
  const cellOf = new Int32Array(2 * gaps.length).fill(-1);
  const arrival = new Map<number, Arrival>();
  stops.forEach((own, ring) => {
    own.forEach(({ gaps: leaving }, stop) => {
      leaving.forEach(({ half }, at) => arrival.set(half ^ 1, { ring, stop, at }));
    });
  });
  const cells: Ring[] = [];
  /** Over gaps, at each end over the gap before the one come by, as long as there is one: back at the first, or at the stop where the ring goes on. */
  const walkGaps = (points: Point[], first: number): Arrival | undefined => {
    let half = first;
    for (;;) {
      cellOf[half] = cells.length;
      const arrived = arrival.get(half);
      const stop = arrived && stops[arrived.ring]?.[arrived.stop];
      const next = arrived && stop?.gaps[arrived.at - 1]?.half;
      if (next === undefined) return arrived;
      if (stop) points.push(stop.end.point);
      if (next === first) return undefined;
      half = next;
    }
  };
  const walked = area.map((_, ring) => new Uint8Array(stops[ring]?.length ?? 0));
  const walk = (ring: number, stop: number): void => {
    const points: Point[] = [];
    let at: { readonly ring: number; readonly stop: number } | undefined = { ring, stop };
    while (at && walked[at.ring]?.[at.stop] === 0) {
      (walked[at.ring] as Uint8Array)[at.stop] = 1;
      const own: Stop[] = stops[at.ring] ?? [];
      const next: Stop | undefined = own[(at.stop + 1) % own.length];
      pushArc(points, area[at.ring] ?? [], own[at.stop]?.end, next?.end);
      at = walkGaps(points, next?.gaps.at(-1)?.half ?? -1);
    }
    cells.push(points);
  };
  area.forEach((points, ring) => {
    const own = stops[ring] ?? [];
    if (own.length > 0) own.forEach((_, stop) => walked[ring]?.[stop] === 0 && walk(ring, stop));
    else if (signedSize(points) > 0) cells.push(points);
  });
  // Cells with nothing but gaps round them.
  for (let half = 0; half < cellOf.length; half++) {
    if (cellOf[half] !== -1) continue;
    const points: Point[] = [];
    walkGaps(points, half);
    cells.push(points);
  }
  return { gaps, cells, sides: gaps.map((_, n) => [cellOf[2 * n] ?? -1, cellOf[2 * n + 1] ?? -1] as const) };
}

function stopsByRing(area: Area, gaps: readonly Gap[]): Stop[][] {
  const ends: { end: GapEnd; to: Point; half: number }[][] = area.map(() => []);
  gaps.forEach(({ a, b }, n) => {
    ends[a.ring]?.push({ end: a, to: b.point, half: 2 * n });
    ends[b.ring]?.push({ end: b, to: a.point, half: 2 * n + 1 });
  });
  return ends.map((own, ring) => {
    own.sort((p, q) => p.end.edge - q.end.edge || p.end.along - q.end.along);
    const stops: Stop[] = [];
    for (const { end, to, half } of own) {
      const last = stops.at(-1);
      const same = last?.end.edge === end.edge && end.along - last.end.along <= ONE_PLACE;
      const stop = last && same ? last : { end, gaps: [] };
      if (!same) stops.push(stop);
      stop.gaps.push({ half, turn: turnTo(area[ring] ?? [], stop.end, to) });
    }
    for (const { gaps: leaving } of stops) leaving.sort((p, q) => p.turn - q.turn);
    return stops;
  });
}

/** How far left one turns at a stop from the way the ring goes on to look at a point, 0 to a full turn. */
function turnTo(ring: Ring, { edge, point }: GapEnd, to: Point): number {
  const from = ring[edge] ?? point;
  const next = ring[edge + 1] ?? ring[0] ?? point;
  const turn = Math.atan2(to.y - point.y, to.x - point.x) - Math.atan2(next.y - from.y, next.x - from.x);
  return turn < 0 ? turn + 2 * Math.PI : turn;
}

/** The corners of a ring from one stop up to but without the next; all the way round where they are the same. */
function pushArc(points: Point[], ring: Ring, from: GapEnd | undefined, to: GapEnd | undefined): void {
  if (!from || !to) return;
  points.push(from.point);
  const onward = to.edge > from.edge || (to.edge === from.edge && to.along > from.along);
  const last = onward ? to.edge : to.edge + ring.length;
  for (let e = from.edge + 1; e <= last; e++) {
    // A corner the next stop lies on is that stop.
    const p = ring[e % ring.length];
    if (p && !(e === last && to.along <= ONE_PLACE)) points.push(p);
  }
  points.push(to.point);
}

export interface Ways {
  /** Width of the widest way to each cell: infinite at a start, 0 where there is none. */
  readonly width: Float64Array;
  /** The narrowest gap on it, -1 where there is none. */
  readonly narrowest: Int32Array;
  /** The gap each cell is entered by, -1 where it is a start or not reached. */
  readonly entered: Int32Array;
}

/** How wide a gap counts. */
export type WidthOf = (gap: Gap, n: number) => Millimetres;

const gapWidth: WidthOf = ({ width }) => width;

/** Widest ways from any of the starts; `widthOf` says how wide each gap counts. */
export function widestWays(
  { cells, gaps, sides }: Division,
  starts: Iterable<number>,
  widthOf: WidthOf = gapWidth,
): Ways {
  const width = new Float64Array(cells.length);
  const narrowest = new Int32Array(cells.length).fill(-1);
  const entered = new Int32Array(cells.length).fill(-1);
  const done = new Uint8Array(cells.length);
  const gapsOf: number[][] = cells.map(() => []);
  sides.forEach(([a, b], n) => {
    if (a === b) return;
    gapsOf[a]?.push(n);
    gapsOf[b]?.push(n);
  });
  for (const start of starts) width[start] = Number.POSITIVE_INFINITY;
  for (;;) {
    let cell = -1;
    for (let i = 0; i < cells.length; i++) {
      if (done[i] === 0 && (width[i] as number) > (cell < 0 ? 0 : (width[cell] as number))) cell = i;
    }
    if (cell < 0) break;
    done[cell] = 1;
    for (const n of gapsOf[cell] ?? []) {
      const [a, b] = sides[n] as readonly [number, number];
      const other = a === cell ? b : a;
      const own = widthOf(gaps[n] as Gap, n);
      const by = Math.min(width[cell] as number, own);
      if (done[other] === 1 || by <= (width[other] as number)) continue;
      width[other] = by;
      narrowest[other] = own < (width[cell] as number) ? n : (narrowest[cell] as number);
      entered[other] = n;
    }
  }
  return { width, narrowest, entered };
}

/** The gaps without which some cell that is reached from the starts would not be. */
export function onlyGaps({ cells, gaps, sides }: Division, starts: Iterable<number>, widthOf: WidthOf): Set<number> {
  const next: { gap: number; cell: number }[][] = cells.map(() => []);
  sides.forEach(([a, b], n) => {
    if (a === b || !(widthOf(gaps[n] as Gap, n) > 0)) return;
    next[a]?.push({ gap: n, cell: b });
    next[b]?.push({ gap: n, cell: a });
  });
  // Cells in the order met with; what lies beyond a gap and leads back before it makes another way round (R. Tarjan 1974).
  const order = new Int32Array(cells.length).fill(-1);
  const only = new Set<number>();
  const roots = new Set(starts);
  let count = 0;
  const visit = (cell: number, by: number): number => {
    let back = (order[cell] = count++);
    // One can come in by any of the starts.
    if (by >= 0 && roots.has(cell)) back = 0;
    for (const { gap, cell: other } of next[cell] ?? []) {
      if (gap === by) continue;
      if ((order[other] as number) >= 0) back = Math.min(back, order[other] as number);
      else {
        const beyond = visit(other, gap);
        if (beyond > (order[cell] as number)) only.add(gap);
        back = Math.min(back, beyond);
      }
    }
    return back;
  };
  for (const root of roots) if (order[root] === -1) visit(root, -1);
  return only;
}
