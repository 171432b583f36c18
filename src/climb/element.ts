/**
 * A piece of a route as the search has laid it, a straight along a lane or a turn, with the distance along the route at
 * each of its points; and how near a later piece comes to an earlier one.
 */
import type { Millimetres } from "../geometry/units.js";

export interface Element {
  /** x, y in turn. */
  readonly points: Float64Array;
  /** Distance from the element's beginning at every point. */
  readonly stations: Float64Array;
  readonly box: Float64Array;
  /** Distance along the route at which it begins. */
  readonly begins: Millimetres;
  readonly curved: boolean;
}

/** Points of a straight lie no farther apart than this where it is held against others: less than tracks lie apart. */
const STEP: Millimetres = 80;

export function straightElement(
  x0: Millimetres,
  y0: Millimetres,
  x1: Millimetres,
  y1: Millimetres,
  begins: Millimetres,
): Element {
  const length = Math.hypot(x1 - x0, y1 - y0);
  const steps = Math.max(1, Math.ceil(length / STEP));
  const points = new Float64Array(2 * (steps + 1));
  const stations = new Float64Array(steps + 1);
  for (let i = 0; i <= steps; i++) {
    const t = i / steps;
    points[2 * i] = x0 + (x1 - x0) * t;
    points[2 * i + 1] = y0 + (y1 - y0) * t;
    stations[i] = length * t;
  }
  const box = Float64Array.of(Math.min(x0, x1), Math.min(y0, y1), Math.max(x0, x1), Math.max(y0, y1));
  return { points, stations, box, begins, curved: false };
}

/** The same piece with points no farther apart than `step`, for a last look. */
export function finer(element: Element, step: Millimetres): Element {
  const points: number[] = [];
  const stations: number[] = [];
  const count = element.stations.length;
  for (let i = 0; i < count; i++) {
    const [x0, y0, s0] = [n(element.points, 2 * i), n(element.points, 2 * i + 1), n(element.stations, i)];
    points.push(x0, y0);
    stations.push(s0);
    if (i + 1 === count) break;
    const [x1, y1, s1] = [n(element.points, 2 * i + 2), n(element.points, 2 * i + 3), n(element.stations, i + 1)];
    const steps = Math.ceil((s1 - s0) / step);
    for (let k = 1; k < steps; k++) {
      const t = k / steps;
      points.push(x0 + (x1 - x0) * t, y0 + (y1 - y0) * t);
      stations.push(s0 + (s1 - s0) * t);
    }
  }
  return { ...element, points: Float64Array.from(points), stations: Float64Array.from(stations) };
}

/**
 * Tells every point of the later element that comes within `reach` of the earlier one, and where on it, as distances
 * along the route; places less than `apart` along the way from one another are not told. Stops when `tell` says so.
 */
export function nearPlaces(
  earlier: Element,
  later: Element,
  reach: Millimetres,
  apart: Millimetres,
  tell: (earlier: Millimetres, later: Millimetres) => boolean,
): boolean {
  const a = earlier.box;
  const b = later.box;
  if (n(a, 0) > n(b, 2) + reach || n(b, 0) > n(a, 2) + reach) return false;
  if (n(a, 1) > n(b, 3) + reach || n(b, 1) > n(a, 3) + reach) return false;
  const p = earlier.points;
  const q = later.points;
  // A straight is one segment, from its first point to its last.
  const stride = earlier.curved ? 2 : Math.max(2, p.length - 2);
  for (let j = 0; j < q.length; j += 2) {
    const x = n(q, j);
    const y = n(q, j + 1);
    if (x < n(a, 0) - reach || x > n(a, 2) + reach || y < n(a, 1) - reach || y > n(a, 3) + reach) continue;
    const sLater = later.begins + n(later.stations, j / 2);
    for (let i = 0; i + stride < p.length; i += stride) {
      const x0 = n(p, i);
      const y0 = n(p, i + 1);
      const dx = n(p, i + stride) - x0;
      const dy = n(p, i + stride + 1) - y0;
      const square = dx * dx + dy * dy;
      const t = square > 0 ? Math.min(1, Math.max(0, ((x - x0) * dx + (y - y0) * dy) / square)) : 0;
      const ex = x0 + t * dx - x;
      const ey = y0 + t * dy - y;
      if (ex * ex + ey * ey > reach * reach) continue;
      const k = i / 2;
      const sEarlier = earlier.begins + n(earlier.stations, k) * (1 - t) + n(earlier.stations, k + stride / 2) * t;
      if (sLater - sEarlier < apart) continue;
      if (tell(sEarlier, sLater)) return true;
    }
  }
  return false;
}

const n = (values: Float64Array, i: number): number => values[i] as number;
