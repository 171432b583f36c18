/**
 * An independent look at a route: its line walked in steps of a few millimetres, with sums of its own for curvature,
 * easement, heights, distances to edges and to itself. Uses nothing of the search, nor of the readings.
 */
import { poseAt, curvatureAt } from "../../src/geometry/path.js";
import type { Layout } from "../../src/layout/layout.js";
import type { Point } from "../../src/geometry/pose.js";

export interface Sampled {
  readonly length: number;
  /** Greatest curvature, and greatest change of it per mm. */
  readonly curvature: number;
  readonly sharpness: number;
  /** Steepest grade over 20 mm, percent, and with drag / radius. */
  readonly grade: number;
  readonly felt: number;
  /**
   * Least height over or under itself and other track where they lie within `near` of one another in plan, and least
   * distance in plan where they lie within `level` of one height. Where it joins other track that is left out.
   */
  readonly gap: number;
  readonly spacing: number;
  /** Least distance to the edge of the benches and to the room's walls, of points inside; negative outside. */
  readonly bench: number;
  readonly wall: number;
  readonly start: { readonly point: Point; readonly height: number };
  readonly end: { readonly point: Point; readonly height: number };
}

/** What a route is held against. */
export interface Surroundings {
  readonly drag: number;
  readonly near: number;
  readonly level: number;
  /** A place is on the benches where it is within any of them. */
  readonly benches: readonly (readonly Point[])[];
  readonly room: readonly Point[];
}

const STEP = 15;
/** Places of one line nearer than this along it are one place; so are those about a joint. */
const APART = 400;

interface Walked {
  readonly ds: number;
  readonly points: readonly Point[];
  readonly bends: readonly number[];
  readonly heights: readonly number[];
}

/** A line in even steps, its heights with parabolas worked out here from the straight grades and the curves' lengths. */
function walk(layout: Layout, key: string): Walked | undefined {
  const line = layout.lines.get(key as never);
  const profile = layout.profiles.get(key as never);
  if (!line || !profile) return undefined;
  const { path } = line;
  const count = Math.max(1, Math.ceil(path.length / STEP));
  const s = Array.from({ length: count + 1 }, (_, i) => (path.length * i) / count);
  const heights = s.map((at) => {
    const i = Math.max(
      0,
      profile.stations.findLastIndex((station) => station <= at),
    );
    const j = Math.min(i, profile.stations.length - 2);
    const [s0, s1, h0, h1] = [profile.stations[j], profile.stations[j + 1], profile.heights[j], profile.heights[j + 1]];
    let h = (h0 ?? 0) + (((h1 ?? 0) - (h0 ?? 0)) * (at - (s0 ?? 0))) / ((s1 ?? 1) - (s0 ?? 0));
    for (const curve of profile.curves) {
      const d = Math.abs(at - curve.at);
      if (d < curve.length / 2) h += (curve.change * (curve.length / 2 - d) ** 2) / (2 * curve.length);
    }
    return h;
  });
  return {
    ds: path.length / count,
    points: s.map((at) => poseAt(path, at)),
    bends: s.map((at) => curvatureAt(path, at)),
    heights,
  };
}

export function sampleRoute(layout: Layout, track: string, around: Surroundings): Sampled {
  const own = walk(layout, `track:${track}`);
  if (!own) throw new Error("the route was not laid");
  const { points, bends, heights, ds } = own;
  const count = points.length - 1;
  const result = { curvature: 0, sharpness: 0, grade: 0, felt: 0, bench: Infinity, wall: Infinity };
  for (let i = 0; i <= count; i++) {
    const k = bends[i] ?? 0;
    result.curvature = Math.max(result.curvature, Math.abs(k));
    const p = points[i] ?? { x: 0, y: 0 };
    result.bench = Math.min(result.bench, distanceInside(p, around.benches));
    result.wall = Math.min(result.wall, distanceInside(p, [around.room]));
    if (i === 0) continue;
    result.sharpness = Math.max(result.sharpness, Math.abs(k - (bends[i - 1] ?? 0)) / ds);
    const grade = (100 * Math.abs((heights[i] ?? 0) - (heights[i - 1] ?? 0))) / ds;
    result.grade = Math.max(result.grade, grade);
    result.felt = Math.max(result.felt, grade + around.drag * Math.min(Math.abs(k), Math.abs(bends[i - 1] ?? 0)));
  }
  const pass = { gap: Infinity, spacing: Infinity };
  const meet = (other: Walked, i: number, j: number): void => {
    const [p, q] = [points[i], other.points[j]];
    if (!p || !q) return;
    const apart = Math.hypot(p.x - q.x, p.y - q.y);
    if (apart > 2 * around.near) return;
    // Beyond the end of a line there is nothing beside it.
    const inner = other.points[j === 0 ? 1 : j - 1];
    const ends = j === 0 || j === other.points.length - 1;
    if (ends && inner && (p.x - q.x) * (q.x - inner.x) + (p.y - q.y) * (q.y - inner.y) > 0) return;
    const rise = Math.abs((other.heights[j] ?? 0) - (heights[i] ?? 0));
    if (rise <= around.level) pass.spacing = Math.min(pass.spacing, apart);
    else if (apart <= around.near) pass.gap = Math.min(pass.gap, rise);
  };
  const [first, last] = [points[0], points[count]];
  for (let i = 0; i <= count; i++) {
    for (let j = i + Math.ceil(APART / ds); j <= count; j++) meet(own, i, j);
  }
  for (const key of layout.lines.keys()) {
    const other = key === `track:${track}` ? undefined : walk(layout, key);
    if (!other) continue;
    for (let i = 0; i <= count; i++) {
      const p = points[i];
      const atEnd = (end: Point | undefined): boolean => !!p && !!end && Math.hypot(p.x - end.x, p.y - end.y) < APART;
      if (!atEnd(first) && !atEnd(last)) for (let j = 0; j < other.points.length; j++) meet(other, i, j);
    }
  }
  const end = (i: number) => ({ point: points[i] ?? { x: 0, y: 0 }, height: heights[i] ?? 0 });
  return { ...result, ...pass, length: ds * count, start: end(0), end: end(count) };
}

/** Distance to the border of the union of outlines, by rays and segments; an edge inside another outline is no border. */
function distanceInside(p: Point, outlines: readonly (readonly Point[])[]): number {
  let least = Infinity;
  for (const [n, outline] of outlines.entries()) {
    outline.forEach((a, i) => {
      const b = outline[(i + 1) % outline.length] ?? a;
      const length = Math.hypot(b.x - a.x, b.y - a.y);
      const t = Math.min(1, Math.max(0, ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length ** 2));
      // Only the parts of an edge that are a border count: looked for in steps of 5 mm near the nearest place.
      const steps = Math.ceil(length / 5);
      const nearest = Math.hypot(a.x + t * (b.x - a.x) - p.x, a.y + t * (b.y - a.y) - p.y);
      if (nearest >= least) return;
      const foot = { x: a.x + t * (b.x - a.x), y: a.y + t * (b.y - a.y) };
      const others = outlines.filter((_, m) => m !== n);
      if (!others.some((other) => within(foot, other))) {
        least = nearest;
        return;
      }
      for (let k = 0; k <= steps; k++) {
        const q = { x: a.x + (k / steps) * (b.x - a.x), y: a.y + (k / steps) * (b.y - a.y) };
        const d = Math.hypot(q.x - p.x, q.y - p.y);
        if (d < least && !others.some((other) => within(q, other))) least = d;
      }
    });
  }
  return outlines.some((outline) => within(p, outline)) ? least : -least;
}

function within(p: Point, outline: readonly Point[]): boolean {
  let inside = false;
  outline.forEach((a, i) => {
    const b = outline[(i + 1) % outline.length] ?? a;
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) * (b.x - a.x)) / (b.y - a.y)) inside = !inside;
  });
  return inside;
}
