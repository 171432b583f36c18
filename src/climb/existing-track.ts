/**
 * The track that is there already, as the climb must pass it: well beside it, over it or under it. Near its own two ends
 * a climb lies beside what it leaves and joins; there the readings alone judge.
 */
import { type Path, poseAt } from "../geometry/path.js";
import type { Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import { heightAt } from "../layout/profile.js";
import type { ClimbLimits } from "./limits.js";

/** Side of the squares places are sorted into; no less than what is looked for, mm. */
const SQUARE: Millimetres = 120;
/** What the climb leaves or joins is not in its way so near to that end. */
const ENDS: Millimetres = 600;
/** Places of lines are looked at so close together. */
const STEP: Millimetres = 20;

interface Spot extends Point {
  readonly height: Millimetres;
  /** Railhead under railhead where the climb passes under it. */
  readonly under: Millimetres;
  /** The end of the climb at which it belongs to what is left or joined; -1 for neither. */
  readonly end: number;
}

/** A band of heights of the climb's railhead that existing track stands in the way of. */
export interface Band {
  readonly from: Millimetres;
  readonly to: Millimetres;
}

const squareOf = (u: number, v: number): number => u * 65_536 + v;

export class ExistingTrack {
  private readonly squares = new Map<number, Spot[]>();

  constructor(
    layout: Layout,
    private readonly limits: ClimbLimits,
    private readonly ends: readonly (Point & { readonly height: Millimetres })[],
    low: Millimetres,
    high: Millimetres,
  ) {
    for (const line of layout.lines.values()) {
      const profile = layout.profiles.get(line.key);
      if (!profile) continue;
      const under = limits.gapUnder(layout.plan.decks[line.deck]?.thickness ?? 0);
      const places = placesOf(line.path);
      const reach = limits.centres + limits.throws;
      const own = ends.findIndex((end) =>
        places.some(
          ({ x, y, s }) =>
            Math.hypot(x - end.x, y - end.y) < reach && Math.abs(heightAt(profile, s) - end.height) < limits.level,
        ),
      );
      for (const { x, y, s } of places) {
        const height = heightAt(profile, s);
        if (height + limits.gap > low && height - under < high) this.put({ x, y, height, under, end: own });
      }
    }
  }

  /**
   * The heights a place of the climb may not have, in bands; none where no track is near. Beside track on its level it
   * may be nearer than over or under it, where roadbed and cars want their width.
   */
  bandsAt(x: Millimetres, y: Millimetres, throws: Millimetres): readonly Band[] {
    if (this.squares.size === 0) return NONE;
    const { centres, apart, gap, level } = this.limits;
    let bands: Band[] | undefined;
    const i = Math.floor(x / SQUARE);
    const j = Math.floor(y / SQUARE);
    for (let u = i - 1; u <= i + 1; u++) {
      for (let v = j - 1; v <= j + 1; v++) {
        for (const spot of this.squares.get(squareOf(u, v)) ?? NO_SPOTS) {
          const off = Math.hypot(spot.x - x, spot.y - y);
          if (off >= apart + throws || this.atEnd(spot, x, y)) continue;
          const { height, under } = spot;
          bands ??= [];
          if (off < centres + throws) bands.push({ from: height - under, to: height + gap });
          else bands.push({ from: height - under, to: height - level }, { from: height + level, to: height + gap });
        }
      }
    }
    return bands ?? NONE;
  }

  private atEnd({ end }: Spot, x: Millimetres, y: Millimetres): boolean {
    const at = this.ends[end];
    return at !== undefined && Math.hypot(at.x - x, at.y - y) < ENDS;
  }

  private put(spot: Spot): void {
    const key = squareOf(Math.floor(spot.x / SQUARE), Math.floor(spot.y / SQUARE));
    const own = this.squares.get(key);
    if (own) own.push(spot);
    else this.squares.set(key, [spot]);
  }
}

const NONE: readonly Band[] = [];
const NO_SPOTS: readonly Spot[] = [];

/** Places along a line, its ends among them. */
function placesOf(path: Path): (Point & { readonly s: Millimetres })[] {
  const steps = Math.max(1, Math.ceil(path.length / STEP));
  return Array.from({ length: steps + 1 }, (_, i) => {
    const s = (path.length * i) / steps;
    const { x, y } = poseAt(path, s);
    return { x, y, s };
  });
}

/**
 * Least way gone at which a climb from `low` may be at a place with such bands: none where it still passes under or
 * beside, else what the limit grade needs to come over them.
 */
export function goneToPass(bands: readonly Band[], low: Millimetres, { gradeOn }: ClimbLimits): Millimetres {
  let height = low;
  // Bands that overlap are passed over together, whichever comes first.
  for (let again = true; again; ) {
    again = false;
    for (const { from, to } of bands) if (height > from && height < to) [height, again] = [to, true];
  }
  return (height - low) / gradeOn(Number.POSITIVE_INFINITY);
}
