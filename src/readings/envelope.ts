/** How far the longest car reaches beyond its width to either side of a line, along the line's samples. */
import { type Path, reversePath, slicePath } from "../geometry/path.js";
import { sweptThrows } from "../geometry/throw.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Line, Samples } from "../layout/line.js";
import type { SlipRoute } from "../layout/slip.js";
import type { Car } from "../plan/schema.js";
import { type JoinedEnd, joinedEnds } from "./joined-ends.js";
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
export function throwsOf(layout: Layout, line: Line): Throws {
  const car = layout.plan.standards.longestCar.value;
  const turnout = line.kind === "turnout" ? layout.turnouts.get(line.id) : undefined;
  const host = turnout && layout.lines.get(turnout.host);
  if (line.kind === "slip") return sweptInSlip(line, car, ...slipHosts(layout, line));
  return swept(line, car, joinedEnds(layout, line), turnout?.departs, turnout?.direction, host);
}

/** The tracks a slip's curve comes off and goes on as, with where and which way. */
type SlipHosts = readonly [on: Line | undefined, across: Line | undefined, route: SlipRoute | undefined];

function slipHosts(layout: Layout, line: Line): SlipHosts {
  const slip = layout.slips.get(line.id);
  const route = slip?.routes.find((r) => r.line === line.key);
  return [slip && layout.lines.get(slip.on.line), slip && layout.lines.get(slip.across.line), route];
}

const sweptInSlip = rememberBeside(
  (line: Line, car: Car, on: Line | undefined, across: Line | undefined, route: SlipRoute | undefined): Throws => {
    const before = on && route && onward(on, route.start.s, route.startWay === 1 ? -1 : 1, car);
    const after = across && route && onward(across, route.end.s, route.endWay, car);
    return throwsBetween(line, car, before, after);
  },
);

const swept = rememberBeside(
  (
    line: Line,
    car: Car,
    joined: readonly JoinedEnd[],
    departs: Millimetres | undefined,
    direction: 1 | -1 | undefined,
    host: Line | undefined,
  ): Throws => {
    // A car that stands on a turnout's route comes off its host before the points.
    const before = host ? onward(host, departs ?? 0, direction === 1 ? -1 : 1, car) : beyond(joined, "start", car);
    const after = beyond(joined, "end", car);
    return throwsBetween(line, car, before, after);
  },
);

/** Throws on a line between what a car comes out on past its start and past its end. */
function throwsBetween(line: Line, car: Car, before: Path | undefined, after: Path | undefined): Throws {
  const { left, right } = sweptThrows(line.path, car, line.samples.s, {
    ...(before && isCurved(before) && { before: reversePath(before) }),
    ...(after && isCurved(after) && { after }),
  });
  const most = Math.max(left.reduce(greater, 0), right.reduce(greater, 0));
  return { left, right, most };
}

const greater = (a: number, b: number): number => (a > b ? a : b);

/** Straight track is what a line goes on as where nothing is said. */
const isCurved = ({ segments }: Path): boolean => segments.some((g) => g.k0 !== 0 || g.k1 !== 0);

/** As much of a line from s on, or back from it, as a car can stand on. */
function onward({ path }: Line, s: Millimetres, way: 1 | -1, car: Car): Path {
  const reach = CAR_REACH * car.length;
  return way === 1 ? slicePath(path, s, s + reach) : reversePath(slicePath(path, s - reach, s));
}

/** What a car comes out on past an end of a line: the first by name of several. */
function beyond(joined: readonly JoinedEnd[], end: "start" | "end", car: Car): Path | undefined {
  const [first] = joined.filter((j) => j.end === end).sort((p, q) => (p.other.key < q.other.key ? -1 : 1));
  if (!first) return undefined;
  const { other, otherEnd } = first;
  return otherEnd === "start" ? onward(other, 0, 1, car) : onward(other, other.path.length, -1, car);
}

/** Lines no farther apart lie to no side of one another, mm. */
const NO_SIDE = 0.5;

/** Throw at `s` of a line toward a place on another one, between samples in proportion. */
export function throwToward(
  samples: Samples,
  throws: Throws,
  s: Millimetres,
  other: Samples,
  so: Millimetres,
): Millimetres {
  const i = sampleBefore(samples, s);
  const t = shareBeyond(samples, i, s);
  const j = sampleBefore(other, so);
  const u = shareBeyond(other, j, so);
  const dx = between(other.x, j, u) - between(samples.x, i, t);
  const dy = between(other.y, j, u) - between(samples.y, i, t);
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
