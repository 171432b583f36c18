/** Seeded random shapes for the tests of areas, spaces and meetings. */
import type { Ring } from "../../src/geometry/areas.js";
import type { Point } from "../../src/geometry/pose.js";

/** Mulberry32: a small generator of even numbers in [0, 1), the same ones for the same seed (public domain, T. Ettinger). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** A ring that does not cross itself: corners in order of direction round a centre, near and far by turns of chance. */
export function starRing(random: () => number, centre: Point, inner: number, outer: number, corners: number): Ring {
  return Array.from({ length: corners }, (_, i) => {
    const angle = (2 * Math.PI * (i + 0.8 * random())) / corners;
    const r = inner + (outer - inner) * random();
    return { x: centre.x + r * Math.cos(angle), y: centre.y + r * Math.sin(angle) };
  });
}

/** Corners anywhere: crosses itself more often than not. */
export const wildRing = (random: () => number, size: number, corners: number): Ring =>
  Array.from({ length: corners }, () => ({ x: size * (random() - 0.5), y: size * (random() - 0.5) }));
