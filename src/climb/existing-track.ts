/**
 * The track that is there already, as the climb must pass it: well beside it, over it or under it. Near its own two ends
 * a climb lies beside what it leaves and joins; there the readings alone judge.
 */
import type { Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import { heightAt } from "../layout/profile.js";
import type { ClimbLimits } from "./limits.js";

/** Side of the squares places are sorted into; no less than what is looked for, mm. */
const SQUARE: Millimetres = 120;
/** Track nearer than this to an end of the climb is what it leaves or joins, or lies beside that in the same ladder. */
const ENDS: Millimetres = 600;
/** Places of lines are looked at no closer together than this, mm. */
const STEP: Millimetres = 20;

const squareOf = (u: number, v: number): number => u * 65_536 + v;

interface Spot extends Point {
  readonly height: Millimetres;
}

/** A band of heights of the climb's railhead that existing track stands in the way of. */
export interface Band {
  readonly from: Millimetres;
  readonly to: Millimetres;
}

export class ExistingTrack {
  private readonly squares = new Map<number, Spot[]>();

  constructor(
    layout: Layout,
    private readonly limits: ClimbLimits,
    private readonly ends: readonly Point[],
    low: Millimetres,
    high: Millimetres,
  ) {
    for (const { key, samples } of layout.lines.values()) {
      const profile = layout.profiles.get(key);
      if (!profile) continue;
      let last = Number.NEGATIVE_INFINITY;
      for (let i = 0; i < samples.count; i++) {
        const s = samples.s[i] ?? 0;
        if (s - last < STEP && i < samples.count - 1) continue;
        last = s;
        const height = heightAt(profile, s);
        if (height + limits.gap <= low || height - limits.gapUnder >= high) continue;
        this.put({ x: samples.x[i] ?? 0, y: samples.y[i] ?? 0, height });
      }
    }
  }

  /** The heights a place of the climb may not have; undefined where no track is near. */
  bandAt(x: Millimetres, y: Millimetres, reach: Millimetres): Band | undefined {
    let from = Number.POSITIVE_INFINITY;
    let to = Number.NEGATIVE_INFINITY;
    if (this.squares.size === 0 || this.atEnds(x, y)) return undefined;
    const i = Math.floor(x / SQUARE);
    const j = Math.floor(y / SQUARE);
    for (let u = i - 1; u <= i + 1; u++) {
      for (let v = j - 1; v <= j + 1; v++) {
        for (const spot of this.squares.get(squareOf(u, v)) ?? []) {
          if (Math.hypot(spot.x - x, spot.y - y) >= reach) continue;
          from = Math.min(from, spot.height - this.limits.gapUnder);
          to = Math.max(to, spot.height + this.limits.gap);
        }
      }
    }
    return to > from ? { from, to } : undefined;
  }

  private atEnds(x: Millimetres, y: Millimetres): boolean {
    return this.ends.some((end) => Math.hypot(end.x - x, end.y - y) < ENDS);
  }

  private put(spot: Spot): void {
    const key = squareOf(Math.floor(spot.x / SQUARE), Math.floor(spot.y / SQUARE));
    const own = this.squares.get(key);
    if (own) own.push(spot);
    else this.squares.set(key, [spot]);
  }
}

/**
 * Least way gone at which a climb from `low` may be at a place with such a band: none where it still passes under, else
 * what the limit grade needs to come over it.
 */
export const goneToPass = (band: Band | undefined, low: Millimetres, { gradeOn }: ClimbLimits): Millimetres =>
  band === undefined || band.from >= low ? 0 : (band.to - low) / gradeOn(Number.POSITIVE_INFINITY);
