/**
 * Edges: how near track comes to the edge of what carries it, and to walls, obstacles and backdrops at its height.
 * Beside a wall the longest car's throw toward it is taken off, so one limit serves straight and curve. Where a deck has
 * no benches yet there is no edge to keep from.
 */
import type { PreparedArea } from "../geometry/area-distance.js";
import type { Point } from "../geometry/pose.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import type { Profile } from "../layout/profile.js";
import type { Car, Plan } from "../plan/schema.js";
import { benchUnder } from "./bench-under.js";
import { type Throws, throwsOf } from "./envelope.js";
import { rememberBeside } from "./remember.js";
import { limitedReading, type Measured, type Rule } from "./rule.js";
import { type Barriers, barriersOf, type Nearness, nearestBarrier } from "./barriers.js";

export const edge: Rule = {
  id: "edge",
  take({ plan, layout }) {
    const benches: Measured[] = [];
    const walls: Measured[] = [];
    const barriers = barriersOf(layout);
    for (const line of layout.lines.values()) {
      const bench = benchEdgeOf(plan, layout, line);
      const wall = wallOf(plan, layout, barriers, line);
      if (bench) benches.push(bench);
      if (wall) walls.push(wall);
    }
    const { benchEdge, wall } = plan.standards;
    const head = { id: "edge", unit: "mm", bound: "least" } as const;
    return [
      limitedReading(plan, { ...head, scope: "bench", label: "Track to bench edge", limit: benchEdge }, benches),
      limitedReading(plan, { ...head, scope: "wall", label: "Track to wall or backdrop", limit: wall }, walls),
    ].filter((reading) => reading.value !== undefined);
  },
};

function benchEdgeOf(plan: Plan, layout: Layout, line: Line): Measured | undefined {
  const bench = benchUnder(plan, layout, line);
  return bench && nearestBenchEdge(line, bench);
}

const nearestBenchEdge = rememberBeside((line: Line, bench: PreparedArea): Measured | undefined =>
  leastAlong(
    line,
    0,
    (p) => {
      const distance = bench.distanceToEdge(p);
      return { clear: distance, any: distance };
    },
    (value) => (value < 0 ? "off the bench" : undefined),
  ),
);

function wallOf(plan: Plan, layout: Layout, barriers: Barriers, line: Line): Measured | undefined {
  const heights = layout.profiles.get(line.key);
  const car = plan.standards.longestCar.value;
  return heights && nearestWall(line, heights, barriers, throwsOf(layout, line, car), car);
}

const nearestWall = rememberBeside(
  (line: Line, heights: Profile, barriers: Barriers, throws: Throws, car: Car): Measured | undefined =>
    leastAlong(line, mostThrow(throws), (p, i) => nearestBarrier(barriers, line, heights, car, throws, p, i)),
);

const mostThrow = ({ left, right }: Throws): number =>
  Math.max(
    left.reduce((a, b) => Math.max(a, b), 0),
    right.reduce((a, b) => Math.max(a, b), 0),
  );

/**
 * The place of a line where what is clear is least. From one place to another the distance to anything changes by no more
 * than the way between them, and what is taken off it by no more than `jump`: places that cannot have less are passed over.
 */
function leastAlong(
  line: Line,
  jump: number,
  nearnessAt: (p: Point, i: number) => Nearness,
  noteOf?: (value: number) => string | undefined,
): Measured | undefined {
  const { samples } = line;
  let least = Number.POSITIVE_INFINITY;
  let at = -1;
  let sure = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < samples.count; i++) {
    const s = samples.s[i] ?? 0;
    if (s < sure) continue;
    const { clear, any } = nearnessAt({ x: samples.x[i] ?? 0, y: samples.y[i] ?? 0 }, i);
    if (clear < least) [least, at] = [clear, i];
    sure = s + any - jump - least;
  }
  if (at < 0 || !Number.isFinite(least)) return undefined;
  const note = noteOf?.(least);
  return { value: least, line, s: samples.s[at] ?? 0, ...(note !== undefined && { note }) };
}
