/**
 * Passes of one line by another: for every sample of a the feet, the places where b comes nearest, each followed from
 * sample to sample. Where b goes by several times (a helix over itself), each time is a pass of its own.
 */
import type { Millimetres } from "../geometry/units.js";
import type { Line, Samples } from "./line.js";
import { alongChord, alongFor, apartFrom, nearestChord } from "./meetings-chords.js";
import { nearRanges, RUN, runsOf } from "./meetings-runs.js";
import { beginPass, extendPass, type Pass, type Tracing } from "./meetings-stretches.js";

/** Feet of one sample, the first `count` of each column. */
interface Feet {
  count: number;
  readonly chord: number[];
  readonly along: number[];
  readonly apart: number[];
}

/** How far b must draw away and come back to count as going by once more; well above what chords are off the curve. */
const DRAWN_AWAY: Millimetres = 0.5;
/**
 * Between samples the nearest place on b may move this many times farther than a does (on the inside of a sharp
 * curve), and a step of b besides; beyond that it is another pass.
 */
const FOOT_SPEED = 4;

/** At one place no more passes than this are followed, the first along b; more laps than any helix has, so that no file can exhaust the program. */
const MOST_FEET = 64;
/** From this many times the limit (of squares) on, samples are left out by reckoning how soon they could be near. */
const FAR = 1.5;

/** How places on one and the same line are told from places beside one another. */
export interface SelfRule {
  /** Least distance along the line. */
  readonly apart: Millimetres;
  /** Length of the way round where the line is closed on itself, else infinite. */
  readonly round: Millimetres;
}

/**
 * The stretches on which b passes a within reach. Feet are looked for a step beyond reach, so that where the lines come
 * within it lies between two of them.
 */
export function tracePasses<Place>(a: Line, b: Line, tracing: Tracing<Place>, self?: SelfRule): Place[][] {
  const runsA = runsOf(a);
  const runsB = runsOf(b);
  const { count, x, y } = a.samples;
  if (count < 2 || b.samples.count < 2) return tracing.stretches;
  const within = tracing.reach + runsA.step;
  const grow = within + runsB.step / 2;
  const jump = FOOT_SPEED * runsA.step + runsB.step;
  const ranges: number[] = [];
  const feet: Feet = { count: 0, chord: [], along: [], apart: [] };
  let open: Pass<Place>[] = [];
  for (let r = 0; r < runsA.count; r++) {
    const n = nearRanges(runsA, r, runsB, b.samples.count, grow, ranges);
    if (n === 0) continue;
    // The last sample of a run is the first of the next.
    const last = r === runsA.count - 1 ? count - 1 : (r + 1) * RUN - 1;
    for (let i = r * RUN; i <= last; i++) {
      feet.count = 0;
      for (let k = 0; k < n; k += 2) {
        const first = Math.max(ranges[k] as number, self ? i : 0);
        scan(b.samples, first, ranges[k + 1] as number, x[i] as number, y[i] as number, grow, within, runsB.step, feet);
      }
      if (feet.count > 0) open = follow(open, feet, i, jump, tracing, self);
    }
  }
  return tracing.stretches;
}

/**
 * Finds where the samples first..last of b, no more than `step` apart, come nearest to a point: the least of each
 * approach, within `grow`.
 */
function scan(
  b: Samples,
  first: number,
  last: number,
  px: number,
  py: number,
  grow: Millimetres,
  within: Millimetres,
  step: Millimetres,
  feet: Feet,
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
      if (nearest >= 0) addFoot(b, nearest, px, py, within, feet);
      nearest = -1;
      least = Number.POSITIVE_INFINITY;
      leaving = false;
      // No sample can be back within before b has come so far.
      if (d > FAR * limit) j += Math.floor((Math.sqrt(d) - grow) / step);
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
      addFoot(b, nearest, px, py, within, feet);
      nearest = -1;
      leaving = true;
      farthest = d;
    }
  }
  if (nearest >= 0) addFoot(b, nearest, px, py, within, feet);
}

/** Adds the nearest place on the chords before and after a sample of b. */
function addFoot(b: Samples, nearest: number, px: number, py: number, within: Millimetres, feet: Feet): void {
  const chord = nearestChord(b, Math.max(0, nearest - 1), Math.min(b.count - 2, nearest), px, py);
  const along = alongFor(b, chord, px, py);
  const apart = apartFrom(b, chord, along, px, py);
  if (apart > within || feet.count >= MOST_FEET) return;
  const n = feet.count++;
  feet.chord[n] = chord;
  feet.along[n] = along;
  feet.apart[n] = apart;
}

/** Joins each foot of a sample to the pass it continues, or begins a pass with it; returns the passes that go on from here. */
function follow<Place>(
  open: Pass<Place>[],
  feet: Feet,
  sample: number,
  jump: Millimetres,
  tracing: Tracing<Place>,
  self: SelfRule | undefined,
): Pass<Place>[] {
  const before = open.length;
  for (let n = 0; n < feet.count; n++) {
    const chord = feet.chord[n] as number;
    const along = feet.along[n] as number;
    const apart = feet.apart[n] as number;
    const at = alongChord(tracing.b, chord, along);
    if (self) {
      const way = at - (tracing.a.s[sample] as number);
      if (way <= self.apart || self.round - way <= self.apart) continue;
    }
    let best: Pass<Place> | undefined;
    let least = jump;
    for (let k = 0; k < before; k++) {
      const pass = open[k] as Pass<Place>;
      if (pass.sample !== sample - 1) continue;
      const moved = Math.abs(pass.at - at);
      if (moved <= least) {
        least = moved;
        best = pass;
      }
    }
    if (best) extendPass(tracing, best, sample, chord, along, apart, at);
    else open.push(beginPass(tracing, sample, chord, along, apart, at));
  }
  // Passes that ended are let go once they are more than those that go on.
  return open.length > 2 * feet.count + 4 ? open.filter((pass) => pass.sample === sample) : open;
}
