/**
 * The heights of one line: straight grades between stations, and vertical curves laid into the breaks between them.
 * Offsets of a parabola are the same seen from either end, so a curve is simply written on every line it reaches.
 *
 * Always holds: stations and curves are in order along the line; the curves of a line do not overlap; `slopeAt` is the
 * derivative of `heightAt`, and neither jumps within a line but the slope at a break without a curve.
 */
import type { Millimetres } from "../geometry/units.js";

export interface VerticalCurve {
  /**
   * Distance of the grade break along the line: 0 or the line's length where the break is at a joint, before 0 or
   * beyond the length where it is on another line and the curve reaches this one.
   */
  readonly at: Millimetres;
  /** Whole length of the curve, half of it on each side of the break; 0 where there is no room for any. */
  readonly length: Millimetres;
  /** Length the change of grade asks for; `length` is less where the curve would not fit. */
  readonly wanted: Millimetres;
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

/** The vertical curve that s lies in: as curves do not overlap, the last that begins before s, or none. */
export function curveAt(profile: Profile, s: Millimetres): VerticalCurve | undefined {
  const { curves } = profile;
  let low = -1;
  let high = curves.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    const curve = curves[middle];
    if (curve && curve.at - curve.length / 2 < s) low = middle;
    else high = middle - 1;
  }
  const curve = curves[low];
  return curve && s < curve.at + curve.length / 2 ? curve : undefined;
}

/** Height of the straight grades at s, as if there were no vertical curves; s outside continues the grade there. */
export function straightHeightAt(profile: Profile, s: Millimetres): Millimetres {
  const i = gradeIndexAt(profile, s);
  const s0 = profile.stations[i] ?? 0;
  const s1 = profile.stations[i + 1] ?? s0;
  const h0 = profile.heights[i] ?? 0;
  const h1 = profile.heights[i + 1] ?? h0;
  return s1 > s0 ? h0 + ((h1 - h0) * (s - s0)) / (s1 - s0) : h0;
}

/** Railhead above the floor, mm, vertical curves included; s outside continues the grade there. */
export function heightAt(profile: Profile, s: Millimetres): Millimetres {
  const straight = straightHeightAt(profile, s);
  const curve = curveAt(profile, s);
  if (!curve) return straight;
  const reach = curve.length / 2 - Math.abs(s - curve.at);
  return straight + (curve.change * reach * reach) / (2 * curve.length);
}

/**
 * Slope at s as a ratio, up along the line positive, vertical curves included. At a station without a curve that of
 * the later grade, at the line's end that of the last.
 */
export function slopeAt(profile: Profile, s: Millimetres): number {
  const i = gradeIndexAt(profile, s);
  const s0 = profile.stations[i] ?? 0;
  const s1 = profile.stations[i + 1] ?? s0;
  const straight = s1 > s0 ? ((profile.heights[i + 1] ?? 0) - (profile.heights[i] ?? 0)) / (s1 - s0) : 0;
  const curve = curveAt(profile, s);
  if (!curve) return straight;
  const reach = curve.length / 2 - Math.abs(s - curve.at);
  // At the break itself the straight part is the later grade, unless the break is where the line ends.
  const past = s > curve.at || (s === curve.at && s < (profile.stations.at(-1) ?? 0));
  return straight - ((past ? 1 : -1) * curve.change * reach) / curve.length;
}
