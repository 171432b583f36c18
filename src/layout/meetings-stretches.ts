/**
 * From the feet of a pass, one after the other, to its stretches within reach: the place where the lines are nearest is
 * found between samples where it lies there, and so are the places where they come within reach and leave it.
 */
import type { Millimetres } from "../geometry/units.js";
import type { Samples } from "./line.js";
import { alongChord, alongFor, apartFrom, nearestChord } from "./meetings-chords.js";

/** A place between samples is told only where it is nearer than the samples beside it by more than this. */
const WORTH_TELLING: Millimetres = 0.01;
/** Apart by less than this the direction from one line to the other is lost in rounding. */
const NO_DIRECTION: Millimetres = 1e-6;
/** Halvings of a step of 25 mm: borders are within 0.001 mm. */
const HALVINGS = 15;

/** A place on chord `sample` of a, `beyond` of it along (0 to 1), and its foot on b. */
interface Foot {
  readonly sample: number;
  readonly beyond: number;
  readonly chord: number;
  readonly along: number;
  readonly apart: Millimetres;
}

/** What is traced: two lines' samples, the reach, how a place is made, and the stretches found so far. */
export interface Tracing<Place> {
  readonly a: Samples;
  readonly b: Samples;
  readonly reach: Millimetres;
  /** A place from distances along a and b and how far apart they are. */
  readonly make: (sa: Millimetres, sb: Millimetres, apart: Millimetres) => Place;
  readonly stretches: Place[][];
}

/** A pass as far as it has been followed: its last foot, and the stretch it is on where it is within reach. */
export interface Pass<Place> extends Foot {
  sample: number;
  chord: number;
  along: number;
  apart: Millimetres;
  /** Distance along b. */
  at: Millimetres;
  stretch: Place[] | undefined;
}

export function beginPass<Place>(
  tracing: Tracing<Place>,
  sample: number,
  chord: number,
  along: number,
  apart: Millimetres,
  at: Millimetres,
): Pass<Place> {
  const pass: Pass<Place> = { sample, beyond: 0, chord, along, apart, at, stretch: undefined };
  if (apart <= tracing.reach) {
    pass.stretch = beginStretch(tracing, tracing.make(tracing.a.s[sample] as number, at, apart));
  }
  return pass;
}

/** Follows a pass to the foot of the next sample. A stretch begins and ends exactly at reach, unless the pass ends before. */
export function extendPass<Place>(
  tracing: Tracing<Place>,
  pass: Pass<Place>,
  sample: number,
  chord: number,
  along: number,
  apart: Millimetres,
  at: Millimetres,
): void {
  const { a, b, reach, make } = tracing;
  const within = apart <= reach;
  const dips = mayDip(pass, chord, along, apart, a, b);
  if (within && pass.stretch && !dips) pass.stretch.push(make(a.s[sample] as number, at, apart));
  else if (within || pass.stretch || dips) {
    const foot: Foot = { sample, beyond: 0, chord, along, apart };
    const nearest = dips ? nearestBetween(pass, foot, a, b) : undefined;
    const inside = nearest && nearest.apart <= reach ? nearest : undefined;
    if (!pass.stretch && (inside || within)) {
      pass.stretch = beginStretch(tracing, tell(tracing, borderOf(pass, inside ?? foot, a, b, reach)));
    }
    if (inside) pass.stretch?.push(tell(tracing, inside));
    if (within) pass.stretch?.push(make(a.s[sample] as number, at, apart));
    else {
      pass.stretch?.push(tell(tracing, borderOf(foot, inside ?? pass, a, b, reach)));
      pass.stretch = undefined;
    }
  }
  pass.sample = sample;
  pass.chord = chord;
  pass.along = along;
  pass.apart = apart;
  pass.at = at;
}

function beginStretch<Place>({ stretches }: Tracing<Place>, place: Place): Place[] {
  const stretch = [place];
  stretches.push(stretch);
  return stretch;
}

function tell<Place>({ a, b, make }: Tracing<Place>, { sample, beyond, chord, along, apart }: Foot): Place {
  return make(alongChord(a, sample, beyond), alongChord(b, chord, along), apart);
}

/** Whether the distance falls from one foot on and rises toward the next so much that it may be less between them. */
function mayDip(from: Foot, chord: number, along: number, apart: Millimetres, a: Samples, b: Samples): boolean {
  const i = from.sample;
  const ux = (a.x[i + 1] as number) - (a.x[i] as number);
  const uy = (a.y[i + 1] as number) - (a.y[i] as number);
  const step = Math.sqrt(ux * ux + uy * uy);
  const g0 = slopeAt(a, i, b, from.chord, from.along, from.apart, ux / step, uy / step);
  if (!(g0 < 0)) return false;
  const g1 = slopeAt(a, i + 1, b, chord, along, apart, ux / step, uy / step);
  if (!(g1 > 0)) return false;
  // Where the two slopes, drawn on, would meet: the distance is no less than that.
  const t = (apart - g1 * step - from.apart) / (g0 - g1);
  return Math.min(from.apart, apart) - (from.apart + g0 * t) > WORTH_TELLING;
}

/** Change of the distance between a sample of a and its foot on b, per millimetre along a, whose direction is (ux, uy). */
function slopeAt(
  a: Samples,
  sample: number,
  b: Samples,
  chord: number,
  along: number,
  apart: Millimetres,
  ux: number,
  uy: number,
): number {
  if (apart < NO_DIRECTION) return 0;
  const x0 = b.x[chord] as number;
  const y0 = b.y[chord] as number;
  const dx = (a.x[sample] as number) - x0 - along * ((b.x[chord + 1] as number) - x0);
  const dy = (a.y[sample] as number) - y0 - along * ((b.y[chord + 1] as number) - y0);
  return (dx * ux + dy * uy) / apart;
}

/** Where a's chord between two feet and the chords of b round them are nearest, if nearer than at the feet. */
function nearestBetween(from: Foot, to: Foot, a: Samples, b: Samples): Foot | undefined {
  const i = from.sample;
  const [first, last] = chordsRound(from.chord, to.chord, b);
  const ax = a.x[i] as number;
  const ay = a.y[i] as number;
  const ux = (a.x[i + 1] as number) - ax;
  const uy = (a.y[i + 1] as number) - ay;
  let best: Foot | undefined;
  const offer = (beyond: number, chord: number, along: number, apart: number): void => {
    if (!best || apart < best.apart) best = { sample: i, beyond, chord, along, apart };
  };
  for (let j = first; j <= last; j++) {
    const bx = b.x[j] as number;
    const by = b.y[j] as number;
    const vx = (b.x[j + 1] as number) - bx;
    const vy = (b.y[j + 1] as number) - by;
    const across = ux * vy - uy * vx;
    if (across !== 0) {
      const t = ((bx - ax) * vy - (by - ay) * vx) / across;
      const u = ((bx - ax) * uy - (by - ay) * ux) / across;
      if (t >= 0 && t <= 1 && u >= 0 && u <= 1) offer(t, j, u, 0);
    }
    // Two chords that do not cross are nearest at an end of one of them; ends of a's are feet already.
    for (const u of [0, 1]) {
      const t = alongFor(a, i, bx + u * vx, by + u * vy);
      offer(t, j, u, apartFrom(a, i, t, bx + u * vx, by + u * vy));
    }
  }
  if (!best || best.beyond <= 0 || best.beyond >= 1) return undefined;
  return best.apart < Math.min(from.apart, to.apart) - WORTH_TELLING ? best : undefined;
}

/** Chords of b round two of them, one more to either side. */
const chordsRound = (p: number, q: number, b: Samples): [number, number] => [
  Math.max(0, Math.min(p, q) - 1),
  Math.min(b.count - 2, Math.max(p, q) + 1),
];

/** Where between a foot out of reach and one within it, on the same chord of a, the distance is just the reach. */
function borderOf(out: Foot, inside: Foot, a: Samples, b: Samples, reach: Millimetres): Foot {
  const sample = Math.min(out.sample, inside.sample);
  const [first, last] = chordsRound(out.chord, inside.chord, b);
  const ax = a.x[sample] as number;
  const ay = a.y[sample] as number;
  const ux = (a.x[sample + 1] as number) - ax;
  const uy = (a.y[sample + 1] as number) - ay;
  let near = inside.beyond + (inside.sample - sample);
  let far = out.beyond + (out.sample - sample);
  let border = inside;
  for (let k = 0; k < HALVINGS; k++) {
    const beyond = (near + far) / 2;
    const px = ax + beyond * ux;
    const py = ay + beyond * uy;
    const chord = nearestChord(b, first, last, px, py);
    const along = alongFor(b, chord, px, py);
    const apart = apartFrom(b, chord, along, px, py);
    if (apart <= reach) {
      near = beyond;
      border = { sample, beyond, chord, along, apart };
    } else far = beyond;
  }
  return border;
}
