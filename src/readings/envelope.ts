/** How far the longest car reaches beyond its width to either side of a line, along the line's samples. */
import type { Millimetres } from "../geometry/units.js";
import { sweptThrows } from "../geometry/throw.js";
import type { Line } from "../layout/line.js";
import type { Car } from "../plan/schema.js";
import { rememberPair } from "./rule.js";

export interface Throws {
  /** To the left at each sample, mm, at least 0. */
  readonly left: Float64Array;
  readonly right: Float64Array;
}

export const throwsOf = rememberPair((line: Line, car: Car): Throws => sweptThrows(line.path, car, line.samples.s));

/** Throw at `s` of a line toward a place on another one. */
export function throwToward(line: Line, car: Car, s: Millimetres, other: Line, so: Millimetres): Millimetres {
  const i = sampleAt(line, s);
  const j = sampleAt(other, so);
  const { samples } = line;
  const dx = (other.samples.x[j] ?? 0) - (samples.x[i] ?? 0);
  const dy = (other.samples.y[j] ?? 0) - (samples.y[i] ?? 0);
  const heading = samples.heading[i] ?? 0;
  const left = Math.cos(heading) * dy - Math.sin(heading) * dx > 0;
  const throws = throwsOf(line, car);
  return (left ? throws.left : throws.right)[i] ?? 0;
}

/** Number of the sample nearest to s. */
function sampleAt({ samples: { count, s: stations } }: Line, s: Millimetres): number {
  let low = 0;
  let high = count - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((stations[middle] ?? 0) <= s) low = middle;
    else high = middle;
  }
  return s - (stations[low] ?? 0) <= (stations[high] ?? 0) - s ? low : high;
}
