/**
 * The area an owner's outline encloses, with its corners rounded; what is wrong with one that encloses nothing or
 * crosses itself, and the best that can be made of it.
 *
 * Always holds: the outline's direction makes no difference; a trouble is named exactly where the outline crosses
 * itself, goes round more than once, or encloses nothing.
 */
import {
  type Area,
  AREA_UNIT,
  areaSize,
  edgeLength,
  fillRing,
  NO_AREA,
  type Ring,
  signedSize,
} from "../geometry/areas.js";
import type { Point } from "../geometry/pose.js";
import { type Corner, roundCorners } from "../geometry/rings.js";

/** What is the matter with a shape, and where. */
export interface ShapeTrouble {
  readonly note: string;
  readonly point: Point;
}

export interface Shaped {
  readonly area: Area;
  readonly trouble?: ShapeTrouble;
}

const ORIGIN: Point = { x: 0, y: 0 };

/**
 * The area inside an outline. One that crosses itself gives all it goes round, and the place where it does; one that
 * encloses nothing gives no area.
 */
export function outlineArea(corners: readonly Corner[]): Shaped {
  const ring = roundCorners(corners);
  const area = fillRing(ring);
  const size = areaSize(area);
  // Rounding to units shifts every edge by no more than one, so twice that along the whole outline is no crossing.
  const rounding = 2 * AREA_UNIT * edgeLength([ring]);
  if (size <= rounding)
    return { area: NO_AREA, trouble: { note: "the outline encloses nothing", point: ring[0] ?? ORIGIN } };
  // At a crossing the outline goes round the four sides of it a different number of times, so what it encloses and what
  // the surveyor's formula makes of it are no longer the same.
  if (Math.abs(Math.abs(signedSize(ring)) - size) <= rounding) return { area };
  return { area, trouble: { note: "the outline crosses itself", point: crossingOf(ring) ?? ring[0] ?? ORIGIN } };
}

/** The first place where two edges of a ring cross; undefined where none do (an outline gone round twice). */
function crossingOf(ring: Ring): Point | undefined {
  const n = ring.length;
  for (let i = 0; i < n; i++) {
    for (let j = i + 2; j < n; j++) {
      const [a, b, c, d] = [ring[i], ring[i + 1], ring[j], ring[(j + 1) % n]];
      const p = a && b && c && d && crossing(a, b, c, d);
      if (p) return p;
    }
  }
  return undefined;
}

/** Where two edges properly cross, each going from one side of the other to the other side. */
function crossing(a: Point, b: Point, c: Point, d: Point): Point | undefined {
  const [ux, uy, vx, vy] = [b.x - a.x, b.y - a.y, d.x - c.x, d.y - c.y];
  const across = ux * vy - uy * vx;
  if (across === 0) return undefined;
  const t = ((c.x - a.x) * vy - (c.y - a.y) * vx) / across;
  const s = ((c.x - a.x) * uy - (c.y - a.y) * ux) / across;
  return t > 0 && t < 1 && s > 0 && s < 1 ? { x: a.x + t * ux, y: a.y + t * uy } : undefined;
}
