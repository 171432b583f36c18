/**
 * Rings made from few numbers: discs, and outlines whose corners are rounded.
 *
 * Always holds: corners of a disc lie on its circle and chords within ARC_TOLERANCE of it; rounding leaves a ring on
 * the inner side of its sharp corners, tangent to the edges, and a ring with nothing to round as it is.
 */
import { ARC_TOLERANCE, type Ring } from "./areas.js";
import { distance, type Point } from "./pose.js";
import type { Millimetres, Radians } from "./units.js";

/** A corner, with the radius it is rounded with; sharp where there is none. */
export interface Corner extends Point {
  readonly round?: Millimetres | undefined;
}

/** Corners nearer to one another than this are one. */
const SAME_CORNER: Millimetres = 1e-6;
/** Turns less than this (or this close to turning back) have no corner to round: the arc would be lost in rounding. */
const NO_TURN: Radians = 1e-6;
/** Even an arc with a huge radius needs no more chords than this. */
const MOST_CHORDS = 720;

/** Chords that keep an arc within ARC_TOLERANCE. */
function chordsFor(radius: Millimetres, turn: Radians): number {
  const ratio = Math.min(1, ARC_TOLERANCE / radius);
  const step = 2 * Math.acos(1 - ratio);
  return Math.min(MOST_CHORDS, Math.max(1, Math.ceil(Math.abs(turn) / Math.max(step, 1e-9))));
}

/** A disc, anticlockwise; a radius of nothing or less gives a ring of nothing. */
export function discRing(centre: Point, radius: Millimetres): Ring {
  if (!(radius > 0)) return [];
  const n = Math.max(3, chordsFor(radius, 2 * Math.PI));
  return Array.from({ length: n }, (_, i) => {
    const angle = (2 * Math.PI * i) / n;
    return { x: centre.x + radius * Math.cos(angle), y: centre.y + radius * Math.sin(angle) };
  });
}

/**
 * The ring with its corners cut by arcs tangent to both edges. Where two arcs want more of an edge than there is, both
 * are made smaller in proportion.
 */
export function roundCorners(corners: readonly Corner[]): Ring {
  const ring = corners.filter((p, i) => {
    const before = corners[i > 0 ? i - 1 : corners.length - 1];
    return corners.length < 2 || !before || distance(before, p) > SAME_CORNER;
  });
  const n = ring.length;
  if (n < 3) return ring.map(({ x, y }) => ({ x, y }));
  const at = (i: number): Corner => ring[(i + n) % n] as Corner;
  const edge = (i: number): Millimetres => distance(at(i), at(i + 1));
  const turns = ring.map((p, i) => turnAt(at(i - 1), p, at(i + 1)));
  // Distance from the corner to where the arc begins: radius times the tangent of half the turn.
  const wanted = ring.map((p, i) => {
    const turn = Math.abs(turns[i] ?? 0);
    return turn < NO_TURN || Math.PI - turn < NO_TURN ? 0 : Math.max(0, p.round ?? 0) * Math.tan(turn / 2);
  });
  const share = (i: number): number => {
    const sum = (wanted[(i + n) % n] ?? 0) + (wanted[(i + 1) % n] ?? 0);
    return sum > edge(i) ? edge(i) / sum : 1;
  };
  return ring.flatMap((p, i) => {
    const cut = (wanted[i] ?? 0) * Math.min(share(i - 1 + n), share(i));
    return cut > SAME_CORNER ? arcAt(at(i - 1), p, cut, turns[i] ?? 0) : [{ x: p.x, y: p.y }];
  });
}

/** Change of direction at p coming from a and going to b, left positive. */
function turnAt(a: Point, p: Point, b: Point): Radians {
  const [ux, uy, vx, vy] = [p.x - a.x, p.y - a.y, b.x - p.x, b.y - p.y];
  return Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy);
}

/** Points of the arc that leaves the edge from a at `cut` before p and ends on the next edge at `cut` after it. */
function arcAt(a: Point, p: Point, cut: Millimetres, turn: Radians): Point[] {
  const before = distance(a, p);
  const ux = (p.x - a.x) / before;
  const uy = (p.y - a.y) / before;
  const radius = cut / Math.tan(Math.abs(turn) / 2);
  const side = Math.sign(turn);
  const [sx, sy] = [p.x - cut * ux, p.y - cut * uy];
  const [cx, cy] = [sx - side * radius * uy, sy + side * radius * ux];
  const n = chordsFor(radius, turn);
  return Array.from({ length: n + 1 }, (_, i) => {
    const angle = (turn * i) / n;
    const [dx, dy] = [sx - cx, sy - cy];
    return { x: cx + dx * Math.cos(angle) - dy * Math.sin(angle), y: cy + dx * Math.sin(angle) + dy * Math.cos(angle) };
  });
}
