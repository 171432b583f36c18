/**
 * Passes of one line by another: for every sample of a the places where b comes nearest, each followed from sample to
 * sample. Where b goes by several times (a helix over itself), each time is a pass of its own.
 */
import type { Millimetres } from "../geometry/units.js";
import type { Line, Samples } from "./line.js";
import { nearRanges, RUN, runsOf } from "./meetings-runs.js";

/** One sample of a and the place on b nearest to it: on b's chord `chord`, `along` of it (0 to 1). */
export interface Foot {
  readonly sample: number;
  readonly chord: number;
  readonly along: number;
  readonly apart: Millimetres;
}
export type Pass = Foot[];

/** How far b must draw away and come back to count as going by once more; well above what chords are off the curve. */
const DRAWN_AWAY: Millimetres = 0.5;
/**
 * Between samples the nearest place on b may move this many times farther than a does (on the inside of a sharp
 * curve), and a step of b besides; beyond that it is another pass.
 */
const FOOT_SPEED = 4;

/** How places on one and the same line are told from places beside one another. */
export interface SelfRule {
  /** Least distance along the line. */
  readonly apart: Millimetres;
  /** Length of the way round where the line is closed on itself, else infinite. */
  readonly round: Millimetres;
}

/** All passes of b by a within reach and a step more, so that where they come within reach lies between two feet. */
export function passesOf(a: Line, b: Line, reach: Millimetres, self?: SelfRule): Pass[] {
  const runsA = runsOf(a);
  const runsB = runsOf(b);
  const { count, s, x, y } = a.samples;
  if (count < 2 || b.samples.count < 2) return [];
  const within = reach + runsA.step;
  const grow = within + runsB.step / 2;
  const jump = FOOT_SPEED * runsA.step + runsB.step;
  const passes: Pass[] = [];
  const ranges: number[] = [];
  let open: Pass[] = [];
  const feet: Foot[] = [];
  for (let r = 0; r < runsA.count; r++) {
    const n = nearRanges(runsA, r, runsB, b.samples.count, grow, ranges);
    if (n === 0) {
      open = [];
      continue;
    }
    // The last sample of a run is the first of the next.
    const last = r === runsA.count - 1 ? count - 1 : (r + 1) * RUN - 1;
    for (let i = r * RUN; i <= last; i++) {
      feet.length = 0;
      for (let k = 0; k < n; k += 2) {
        const first = Math.max(ranges[k] as number, self ? i : 0);
        scan(b.samples, first, ranges[k + 1] as number, x[i] as number, y[i] as number, grow, within, i, feet);
      }
      const kept = self ? feet.filter((foot) => beyond(self, distanceAlong(b.samples, foot) - (s[i] as number))) : feet;
      open = follow(open, kept, b.samples, jump, passes);
    }
  }
  return passes;
}

const beyond = ({ apart, round }: SelfRule, along: Millimetres): boolean => along > apart && round - along > apart;

/** Distance along b of a foot. */
export function distanceAlong({ s }: Samples, { chord, along }: Foot): Millimetres {
  const from = s[chord] as number;
  return from + along * ((s[chord + 1] as number) - from);
}

/** Finds where the samples first..last of b come nearest to a point: the least of each approach, within `grow`. */
function scan(
  b: Samples,
  first: number,
  last: number,
  px: number,
  py: number,
  grow: Millimetres,
  within: Millimetres,
  sample: number,
  feet: Foot[],
): void {
  const { x, y } = b;
  const limit = grow * grow;
  let nearest = -1;
  let least = Number.POSITIVE_INFINITY;
  let farthest = 0;
  let leaving = false;
  for (let j = first; j <= last; j++) {
    const dx = (x[j] as number) - px;
    const dy = (y[j] as number) - py;
    const d = dx * dx + dy * dy;
    if (d > limit) {
      if (nearest >= 0) emit(b, nearest, px, py, within, sample, feet);
      nearest = -1;
      least = Number.POSITIVE_INFINITY;
      leaving = false;
    } else if (leaving) {
      if (d > farthest) farthest = d;
      else if (Math.sqrt(farthest) - Math.sqrt(d) > DRAWN_AWAY) {
        leaving = false;
        nearest = j;
        least = d;
      }
    } else if (d < least) {
      nearest = j;
      least = d;
    } else if (Math.sqrt(d) - Math.sqrt(least) > DRAWN_AWAY) {
      emit(b, nearest, px, py, within, sample, feet);
      nearest = -1;
      leaving = true;
      farthest = d;
    }
  }
  if (nearest >= 0) emit(b, nearest, px, py, within, sample, feet);
}

/** The nearest place on the chords before and after a sample of b. */
function emit(
  b: Samples,
  nearest: number,
  px: number,
  py: number,
  within: Millimetres,
  sample: number,
  feet: Foot[],
): void {
  const before = Math.max(0, nearest - 1);
  const after = Math.min(b.count - 2, nearest);
  const foot = footOn(b, before, after, px, py, sample);
  if (foot.apart <= within) feet.push(foot);
}

/** The place nearest to a point on the chords first..last of b. */
export function footOn({ x, y }: Samples, first: number, last: number, px: number, py: number, sample: number): Foot {
  let chord = first;
  let along = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let j = first; j <= last; j++) {
    const x0 = x[j] as number;
    const y0 = y[j] as number;
    const ux = (x[j + 1] as number) - x0;
    const uy = (y[j + 1] as number) - y0;
    const square = ux * ux + uy * uy;
    const t = square > 0 ? Math.min(1, Math.max(0, ((px - x0) * ux + (py - y0) * uy) / square)) : 0;
    const dx = x0 + t * ux - px;
    const dy = y0 + t * uy - py;
    const d = dx * dx + dy * dy;
    if (d < least) {
      least = d;
      chord = j;
      along = t;
    }
  }
  return { sample, chord, along, apart: Math.sqrt(least) };
}

/** Joins each foot to the pass it continues, or begins a pass with it; returns the passes that are still going on. */
function follow(open: readonly Pass[], feet: readonly Foot[], b: Samples, jump: Millimetres, passes: Pass[]): Pass[] {
  if (feet.length === 0) return [];
  const going: Pass[] = [];
  const taken = new Set<Pass>();
  for (const foot of feet) {
    const at = distanceAlong(b, foot);
    let best: Pass | undefined;
    let least = jump;
    for (const pass of open) {
      const last = pass[pass.length - 1];
      if (!last || taken.has(pass)) continue;
      const moved = Math.abs(distanceAlong(b, last) - at);
      if (moved <= least) {
        least = moved;
        best = pass;
      }
    }
    if (best) {
      best.push(foot);
      taken.add(best);
    } else {
      best = [foot];
      passes.push(best);
    }
    going.push(best);
  }
  return going;
}
