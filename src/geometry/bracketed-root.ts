/**
 * The root of a continuous function between two places where its signs differ.
 * Always holds: the result lies within the bracket; the function is asked at most `MOST_STEPS` times.
 */

/** A function as an object, so that a caller may keep what else it worked out at the same place. */
export interface Crossing {
  cross(x: number): number;
}

/** Halving alone shrinks any bracket of angles to the spacing of doubles in this many steps. */
const MOST_STEPS = 60;

/** A bracket is as narrow as doubles allow at about this many times x. */
const NARROWEST = 2 * Number.EPSILON;

/**
 * Inverse quadratic interpolation safeguarded by halving: T. R. Chandrupatla, "A new hybrid quadratic/bisection
 * algorithm for finding the zero of a nonlinear function without using derivatives", Advances in Engineering
 * Software 28 (1997). `fa` and `fb` are the values at a and b and differ in sign; a value within `near` of zero will do.
 */
export function bracketedRoot(f: Crossing, a: number, b: number, fa: number, fb: number, near: number): number {
  let [x1, f1, x2, f2] = [b, fb, a, fa];
  let t = 0.5;
  for (let step = 0; step < MOST_STEPS; step++) {
    const x = x1 + t * (x2 - x1);
    const fx = f.cross(x);
    let x3: number;
    let f3: number;
    if (fx > 0 === f1 > 0) [x3, f3] = [x1, f1];
    else [x3, f3, x2, f2] = [x2, f2, x1, f1];
    [x1, f1] = [x, fx];
    const best = Math.abs(f2) < Math.abs(f1) ? x2 : x1;
    const least = (NARROWEST * Math.abs(best)) / Math.max(Math.abs(x2 - x1), Number.MIN_VALUE);
    if (least > 0.5 || Math.min(Math.abs(f1), Math.abs(f2)) <= near) return best;
    const xi = (x1 - x2) / (x3 - x2);
    const phi = (f1 - f2) / (f3 - f2);
    const bend = phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi;
    t = bend
      ? (f1 / (f2 - f1)) * (f3 / (f2 - f3)) + ((x3 - x1) / (x2 - x1)) * (f1 / (f3 - f1)) * (f2 / (f3 - f2))
      : 0.5;
    t = Math.min(Math.max(t, least), 1 - least);
  }
  return Math.abs(f2) < Math.abs(f1) ? x2 : x1;
}
