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
  /** Least height over itself where it lies within `near` of itself in plan; of places nearer in height than `level` none. */
  readonly gap: number;
  /** Least distance to the edge of the benches and to the room's walls, of points inside; negative outside. */
  readonly bench: number;
  readonly wall: number;
  readonly start: { readonly point: Point; readonly height: number };
  readonly end: { readonly point: Point; readonly height: number };
}

const STEP = 15;

/** `benches` and `room` as outlines; a place is on the benches where it is within any of them. */
export function sampleRoute(
  layout: Layout,
  track: string,
  drag: number,
  near: number,
  benches: readonly (readonly Point[])[],
  room: readonly Point[],
): Sampled {
  const line = layout.lines.get(`track:${track}`);
  const profile = layout.profiles.get(`track:${track}`);
  if (!line || !profile) throw new Error("the route was not laid");
  const { path } = line;
  const count = Math.ceil(path.length / STEP);
  const s = Array.from({ length: count + 1 }, (_, i) => (path.length * i) / count);
  const points = s.map((at) => poseAt(path, at));
  const bends = s.map((at) => curvatureAt(path, at));
  // Heights with parabolas of their own, from the straight grades and the curves' lengths.
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
  const result = { curvature: 0, sharpness: 0, grade: 0, felt: 0, gap: Infinity, bench: Infinity, wall: Infinity };
  const ds = path.length / count;
  for (let i = 0; i <= count; i++) {
    const k = bends[i] ?? 0;
    result.curvature = Math.max(result.curvature, Math.abs(k));
    const p = points[i] ?? { x: 0, y: 0 };
    result.bench = Math.min(result.bench, distanceInside(p, benches));
    result.wall = Math.min(result.wall, distanceInside(p, [room]));
    if (i === 0) continue;
    result.sharpness = Math.max(result.sharpness, Math.abs(k - (bends[i - 1] ?? 0)) / ds);
    const grade = (100 * Math.abs((heights[i] ?? 0) - (heights[i - 1] ?? 0))) / ds;
    result.grade = Math.max(result.grade, grade);
    result.felt = Math.max(result.felt, grade + drag * Math.min(Math.abs(k), Math.abs(bends[i - 1] ?? 0)));
  }
  for (let i = 0; i <= count; i++) {
    for (let j = i + Math.ceil(400 / ds); j <= count; j++) {
      const [p, q] = [points[i], points[j]];
      if (!p || !q || Math.hypot(p.x - q.x, p.y - q.y) > near) continue;
      result.gap = Math.min(result.gap, Math.abs((heights[j] ?? 0) - (heights[i] ?? 0)));
    }
  }
  const end = (i: number) => ({ point: points[i] ?? { x: 0, y: 0 }, height: heights[i] ?? 0 });
  return { ...result, length: path.length, start: end(0), end: end(count) };
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
