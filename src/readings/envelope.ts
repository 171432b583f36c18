/** How far the longest car reaches beyond its width to either side of a line, along the line's samples. */
import { type Path, reversePath, slicePath } from "../geometry/path.js";
import { sweptThrows } from "../geometry/throw.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Line, Samples } from "../layout/line.js";
import type { Car } from "../plan/schema.js";
import { joinedEnds } from "./joined-ends.js";
import { perLine } from "./per-line.js";
import { rememberBeside } from "./remember.js";

export interface Throws {
  /** To the left at each sample, mm, at least 0. */
  readonly left: Float64Array;
  readonly right: Float64Array;
  /** The greatest of all. */
  readonly most: Millimetres;
}

/** A car that stands on the line reaches no further along what joins it, in lengths of its body. */
const CAR_REACH = 1.5;

/** The throws of the longest car on a line, with what it goes on as at its ends; the same object as long as these stay. */
export const throwsOf = perLine((layout, line): Throws => {
  const car = layout.plan.standards.longestCar.value;
  const before = beyond(layout, line, "start");
  const after = beyond(layout, line, "end");
  return swept(line, car, before?.line, before?.s, before?.way, after?.line, after?.s, after?.way);
});

const swept = rememberBeside(
  (
    line: Line,
    car: Car,
    before: Line | undefined,
    beforeS: Millimetres | undefined,
    beforeWay: 1 | -1 | undefined,
    after: Line | undefined,
    afterS: Millimetres | undefined,
    afterWay: 1 | -1 | undefined,
  ): Throws => {
    const lead = before && onward(before, beforeS ?? 0, beforeWay ?? 1, car);
    const tail = after && onward(after, afterS ?? 0, afterWay ?? 1, car);
    const { left, right } = sweptThrows(line.path, car, line.samples.s, {
      ...(lead && isCurved(lead) && { before: reversePath(lead) }),
      ...(tail && isCurved(tail) && { after: tail }),
    });
    const most = Math.max(left.reduce(greater, 0), right.reduce(greater, 0));
    return { left, right, most };
  },
);

const greater = (a: number, b: number): number => (a > b ? a : b);

/** Straight track is what a line goes on as where nothing is said. */
const isCurved = ({ segments }: Path): boolean => segments.some((g) => g.k0 !== 0 || g.k1 !== 0);

/** As much of a line from s on, or back from it, as a car can stand on. */
function onward({ path }: Line, s: Millimetres, way: 1 | -1, car: Car): Path {
  const reach = CAR_REACH * car.length;
  return way === 1 ? slicePath(path, s, s + reach) : reversePath(slicePath(path, s - reach, s));
}

/** Where a car comes out past an end of a line: the first of several; from a turnout's route on its host before the points. */
function beyond(
  layout: Layout,
  line: Line,
  end: "start" | "end",
): { readonly line: Line; readonly s: Millimetres; readonly way: 1 | -1 } | undefined {
  const turnout = line.kind === "turnout" && end === "start" ? layout.turnouts.get(line.id) : undefined;
  const host = turnout && layout.lines.get(turnout.host);
  if (turnout && host) return { line: host, s: turnout.departs, way: turnout.direction === 1 ? -1 : 1 };
  const joined = joinedEnds(layout, line).filter((j) => j.end === end);
  const [first] = joined.sort((p, q) => (p.other.key < q.other.key ? -1 : 1));
  if (!first) return undefined;
  const { other, otherEnd } = first;
  return otherEnd === "start" ? { line: other, s: 0, way: 1 } : { line: other, s: other.path.length, way: -1 };
}

/** Lines no farther apart lie to no side of one another, mm. */
const NO_SIDE = 0.5;

/** Throw at `s` of a line toward a place on another one, between samples in proportion. */
export function throwToward(line: Line, throws: Throws, s: Millimetres, other: Line, so: Millimetres): Millimetres {
  const { samples } = line;
  const i = sampleBefore(samples, s);
  const t = shareBeyond(samples, i, s);
  const j = sampleBefore(other.samples, so);
  const u = shareBeyond(other.samples, j, so);
  const dx = between(other.samples.x, j, u) - between(samples.x, i, t);
  const dy = between(other.samples.y, j, u) - between(samples.y, i, t);
  if (Math.hypot(dx, dy) < NO_SIDE) return Math.max(between(throws.left, i, t), between(throws.right, i, t));
  const heading = between(samples.heading, i, t);
  const left = Math.cos(heading) * dy - Math.sin(heading) * dx > 0;
  return between(left ? throws.left : throws.right, i, t);
}

/** Number of the last sample at or before s, one before the last at most. */
function sampleBefore({ count, s: stations }: Samples, s: Millimetres): number {
  let low = 0;
  let high = count - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((stations[middle] ?? 0) <= s) low = middle;
    else high = middle;
  }
  return low;
}

function shareBeyond({ s: stations }: Samples, i: number, s: Millimetres): number {
  const from = stations[i] ?? 0;
  const step = (stations[i + 1] ?? from) - from;
  return step > 0 ? Math.min(1, Math.max(0, (s - from) / step)) : 0;
}

const between = (values: Float64Array, i: number, share: number): number => {
  const from = values[i] ?? 0;
  return share === 0 ? from : from + share * ((values[i + 1] ?? from) - from);
};
