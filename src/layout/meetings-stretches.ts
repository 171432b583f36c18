/**
 * From the feet of a pass to its stretches within reach: the place where the lines are nearest is found between samples
 * where it lies there, and so are the places where they come within reach and leave it.
 */
import type { Millimetres } from "../geometry/units.js";
import type { Samples } from "./line.js";
import { distanceAlong, type Foot, footOn, type Pass } from "./meetings-passes.js";

/** A place of a stretch: distances along a and b, and how far apart. */
export interface Nearness {
  readonly sa: Millimetres;
  readonly sb: Millimetres;
  readonly apart: Millimetres;
}

/** A place between samples is told only where it is nearer than the samples beside it by more than this. */
const WORTH_TELLING: Millimetres = 0.01;
/** Apart by less than this the direction from one line to the other is lost in rounding. */
const NO_DIRECTION: Millimetres = 1e-6;
/** Halvings of a step of 25 mm: borders are within 0.001 mm. */
const HALVINGS = 15;

/** A foot between samples: `beyond` is how far along a's chord from the sample. */
interface PlacedFoot extends Foot {
  readonly beyond: number;
}

/** The stretches of a pass on which the lines are within reach, in order along a, their ends exactly at reach where they are not ends of the pass. */
export function stretchesOf(pass: Pass, a: Samples, b: Samples, reach: Millimetres): Nearness[][] {
  const feet = withNearest(pass, a, b);
  const stretches: Nearness[][] = [];
  let stretch: Nearness[] | undefined;
  feet.forEach((foot, k) => {
    const before = feet[k - 1];
    if (foot.apart <= reach) {
      if (!stretch) {
        stretch = before ? [tell(borderOf(before, foot, a, b, reach), a, b)] : [];
        stretches.push(stretch);
      }
      stretch.push(tell(foot, a, b));
    } else {
      if (stretch && before) stretch.push(tell(borderOf(foot, before, a, b, reach), a, b));
      stretch = undefined;
    }
  });
  return stretches;
}

function tell(foot: PlacedFoot, a: Samples, b: Samples): Nearness {
  return { sa: alongA(foot, a), sb: distanceAlong(b, foot), apart: foot.apart };
}

function alongA({ sample, beyond }: PlacedFoot, { s }: Samples): Millimetres {
  const from = s[sample] as number;
  return beyond === 0 ? from : from + beyond * ((s[sample + 1] as number) - from);
}

/** The feet of a pass, and between them the places where the lines are nearest. */
function withNearest(pass: Pass, a: Samples, b: Samples): PlacedFoot[] {
  const feet: PlacedFoot[] = [];
  pass.forEach((foot, k) => {
    const before = pass[k - 1];
    const nearest = before && mayDip(before, foot, a, b) ? nearestBetween(before, foot, a, b) : undefined;
    if (nearest) feet.push(nearest);
    feet.push({ ...foot, beyond: 0 });
  });
  return feet;
}

/** Whether the distance falls from one foot on and rises toward the next so much that it may be less between them. */
function mayDip(from: Foot, to: Foot, a: Samples, b: Samples): boolean {
  const { sample: i } = from;
  const j = to.sample;
  const ux = (a.x[j] as number) - (a.x[i] as number);
  const uy = (a.y[j] as number) - (a.y[i] as number);
  const step = Math.hypot(ux, uy);
  const g0 = slopeAt(from, a, b, ux / step, uy / step);
  const g1 = slopeAt(to, a, b, ux / step, uy / step);
  if (!(g0 < 0 && g1 > 0)) return false;
  // Where the two slopes, drawn on, would meet: the distance is no less than that.
  const t = (to.apart - g1 * step - from.apart) / (g0 - g1);
  return Math.min(from.apart, to.apart) - (from.apart + g0 * t) > WORTH_TELLING;
}

/** Change of the distance per millimetre along a. */
function slopeAt(foot: Foot, a: Samples, b: Samples, ux: number, uy: number): number {
  if (foot.apart < NO_DIRECTION) return 0;
  const { chord, along, sample } = foot;
  const qx = (b.x[chord] as number) + along * ((b.x[chord + 1] as number) - (b.x[chord] as number));
  const qy = (b.y[chord] as number) + along * ((b.y[chord + 1] as number) - (b.y[chord] as number));
  return (((a.x[sample] as number) - qx) * ux + ((a.y[sample] as number) - qy) * uy) / foot.apart;
}

/** Chords of b round two feet, one more to either side. */
const chordsRound = (p: Foot, q: Foot, b: Samples): [number, number] => [
  Math.max(0, Math.min(p.chord, q.chord) - 1),
  Math.min(b.count - 2, Math.max(p.chord, q.chord) + 1),
];

/** Where a's chord between two feet and the chords of b round them are nearest, if nearer than at the feet. */
function nearestBetween(from: Foot, to: Foot, a: Samples, b: Samples): PlacedFoot | undefined {
  const i = from.sample;
  const [first, last] = chordsRound(from, to, b);
  const ax = a.x[i] as number;
  const ay = a.y[i] as number;
  const ux = (a.x[i + 1] as number) - ax;
  const uy = (a.y[i + 1] as number) - ay;
  const square = ux * ux + uy * uy;
  let best: PlacedFoot | undefined;
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
      const px = bx + u * vx;
      const py = by + u * vy;
      const t = Math.min(1, Math.max(0, ((px - ax) * ux + (py - ay) * uy) / square));
      offer(t, j, u, Math.hypot(ax + t * ux - px, ay + t * uy - py));
    }
  }
  if (!best || best.beyond <= 0 || best.beyond >= 1) return undefined;
  return best.apart < Math.min(from.apart, to.apart) - WORTH_TELLING ? best : undefined;
}

/** Where between a foot out of reach and one within it the distance is just the reach. */
function borderOf(out: PlacedFoot, inside: PlacedFoot, a: Samples, b: Samples, reach: Millimetres): PlacedFoot {
  const sample = Math.min(out.sample, inside.sample);
  const [first, last] = chordsRound(out, inside, b);
  const ax = a.x[sample] as number;
  const ay = a.y[sample] as number;
  const ux = (a.x[sample + 1] as number) - ax;
  const uy = (a.y[sample + 1] as number) - ay;
  let near = inside.beyond + (inside.sample - sample);
  let far = out.beyond + (out.sample - sample);
  let border: PlacedFoot = inside;
  for (let k = 0; k < HALVINGS; k++) {
    const beyond = (near + far) / 2;
    const foot = footOn(b, first, last, ax + beyond * ux, ay + beyond * uy, sample);
    if (foot.apart <= reach) {
      near = beyond;
      border = { ...foot, beyond };
    } else far = beyond;
  }
  return border;
}
