/** Places on the chords between a line's samples: where on one a point is nearest, how far off, and how far along the line. */
import type { Millimetres } from "../geometry/units.js";
import type { Samples } from "./line.js";

/** Distance along a line of a place on one of its chords. */
export function alongChord({ s }: Samples, chord: number, along: number): Millimetres {
  const from = s[chord] as number;
  return along === 0 ? from : from + along * ((s[chord + 1] as number) - from);
}

/** Of the chords first..last of a line the one nearest to a point. */
export function nearestChord(b: Samples, first: number, last: number, px: number, py: number): number {
  let chord = first;
  let least = Number.POSITIVE_INFINITY;
  for (let j = first; j <= last; j++) {
    const d = apartFrom(b, j, alongFor(b, j, px, py), px, py);
    if (d < least) {
      least = d;
      chord = j;
    }
  }
  return chord;
}

/** How far along a chord, 0 to 1, the place nearest to a point is. */
export function alongFor({ x, y }: Samples, chord: number, px: number, py: number): number {
  const x0 = x[chord] as number;
  const y0 = y[chord] as number;
  const ux = (x[chord + 1] as number) - x0;
  const uy = (y[chord + 1] as number) - y0;
  const square = ux * ux + uy * uy;
  const t = square > 0 ? ((px - x0) * ux + (py - y0) * uy) / square : 0;
  return t < 0 ? 0 : t > 1 ? 1 : t;
}

/** Distance of a point from a place on a chord. */
export function apartFrom({ x, y }: Samples, chord: number, along: number, px: number, py: number): Millimetres {
  const x0 = x[chord] as number;
  const y0 = y[chord] as number;
  const dx = x0 + along * ((x[chord + 1] as number) - x0) - px;
  const dy = y0 + along * ((y[chord + 1] as number) - y0) - py;
  return Math.sqrt(dx * dx + dy * dy);
}
