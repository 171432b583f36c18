/**
 * The heights of one line: straight grades between stations, and vertical curves laid into the breaks between them.
 * Offsets of a parabola are the same seen from either end, so a break at a joint is simply written on both lines.
 */
import type { Millimetres } from "../geometry/units.js";

export interface VerticalCurve {
  /** Distance of the grade break along the line; may be 0 or the line's length where the break is at a joint. */
  readonly at: Millimetres;
  /** Whole length of the curve, half of it on each side of the break. */
  readonly length: Millimetres;
  /** Grade after minus grade before, as a ratio (0.02 is 2 %), going either way. */
  readonly change: number;
}

export interface Profile {
  /** Distances along the line where the straight grades meet, ends among them. */
  readonly stations: readonly Millimetres[];
  /** Railhead above the floor at each station, before vertical curves. */
  readonly heights: readonly Millimetres[];
  readonly curves: readonly VerticalCurve[];
}

/** Index of the straight grade that holds s; s outside is taken to the nearer end. */
export function gradeIndexAt(profile: Profile, s: Millimetres): number {
  let low = 0;
  let high = profile.stations.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((profile.stations[middle] ?? 0) <= s) low = middle;
    else high = middle - 1;
  }
  return Math.max(0, low);
}

/** Railhead above the floor, mm, vertical curves included. */
export function heightAt(profile: Profile, s: Millimetres): Millimetres {
  const i = gradeIndexAt(profile, s);
  const s0 = profile.stations[i] ?? 0;
  const s1 = profile.stations[i + 1] ?? s0;
  const h0 = profile.heights[i] ?? 0;
  const h1 = profile.heights[i + 1] ?? h0;
  let h = s1 > s0 ? h0 + ((h1 - h0) * (s - s0)) / (s1 - s0) : h0;
  for (const curve of profile.curves) {
    const reach = curve.length / 2 - Math.abs(s - curve.at);
    if (reach > 0) h += (curve.change * reach * reach) / (2 * curve.length);
  }
  return h;
}

/** Slope at s as a ratio, up along the line positive, vertical curves included; at a station that of the later grade. */
export function slopeAt(profile: Profile, s: Millimetres): number {
  const i = gradeIndexAt(profile, s);
  const s0 = profile.stations[i] ?? 0;
  const s1 = profile.stations[i + 1] ?? s0;
  let slope = s1 > s0 ? ((profile.heights[i + 1] ?? 0) - (profile.heights[i] ?? 0)) / (s1 - s0) : 0;
  for (const curve of profile.curves) {
    const reach = curve.length / 2 - Math.abs(s - curve.at);
    if (reach > 0) slope -= (Math.sign(s - curve.at || 1) * curve.change * reach) / curve.length;
  }
  return slope;
}
