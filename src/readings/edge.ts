/**
 * Edges: how near track comes to the edge of what carries it, and to walls, obstacles and backdrops. Beside a wall the
 * longest car's throw on curves is taken off, so one limit serves straight and curve.
 */
import { nearestEdge, type PreparedArea, prepareArea } from "../geometry/area-distance.js";
import { type Area, uniteAreas } from "../geometry/areas.js";
import type { Point } from "../geometry/pose.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import type { Space } from "../layout/space.js";
import type { Car, Plan } from "../plan/schema.js";
import { throwsOf } from "./envelope.js";
import { limitedReading, type Measured, type Rule, remember } from "./rule.js";

/** Rounding of heights, mm. */
const LEVEL = 1;

export const edge: Rule = {
  id: "edge",
  take({ plan, layout }) {
    const benches: Measured[] = [];
    const walls: Measured[] = [];
    for (const line of layout.lines.values()) {
      const { bench, wall } = worstOf(plan, layout, line);
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

interface Worst {
  readonly bench: Measured | undefined;
  readonly wall: Measured | undefined;
}

interface Known {
  readonly support: Area;
  readonly space: Space;
  readonly car: Car;
  readonly low: number;
  readonly high: number;
  readonly worst: Worst;
}
const known = new WeakMap<Line, Known>();

/** Worst places of a line; kept as long as what is round it stays. */
function worstOf(plan: Plan, layout: Layout, line: Line): Worst {
  const [low, high] = heightsOf(layout, line);
  const support = supportOf(plan, layout, line, high);
  const { space } = layout;
  const car = plan.standards.longestCar.value;
  const last = known.get(line);
  const same = last && last.support === support && last.car === car && last.low === low && last.high === high;
  if (same && sameSurroundings(last.space, space, line.deck)) return last.worst;
  const worst = { bench: nearestBenchEdge(line, support), wall: nearestWall(line, space, car, low, high) };
  known.set(line, { support, space, car, low, high, worst });
  return worst;
}

const sameSurroundings = (a: Space, b: Space, deck: string): boolean =>
  a.room === b.room && a.obstacles === b.obstacles && a.decks.get(deck)?.backdrops === b.decks.get(deck)?.backdrops;

function heightsOf(layout: Layout, line: Line): [number, number] {
  const heights = layout.profiles.get(line.key)?.heights ?? [];
  return heights.length > 0 ? [Math.min(...heights), Math.max(...heights)] : [0, 0];
}

/** The benches that can carry a line: its deck's, those of decks level with it, and of every deck it climbs to. */
function supportOf(plan: Plan, layout: Layout, line: Line, high: number): Area {
  const own = plan.decks[line.deck];
  const benches = Object.entries(plan.decks)
    .filter(
      ([id, deck]) => id === line.deck || (own && deck.height >= own.height - LEVEL && deck.height <= high + LEVEL),
    )
    .map(([id]) => layout.space.decks.get(id)?.bench)
    .filter((bench) => bench !== undefined);
  const [first, ...rest] = benches;
  return first === undefined ? NOTHING : rest.length === 0 ? first : united(first, rest);
}

const NOTHING: Area = [];
const unions = new WeakMap<Area, { readonly rest: readonly Area[]; readonly union: Area }>();

function united(first: Area, rest: readonly Area[]): Area {
  const last = unions.get(first);
  if (last && last.rest.length === rest.length && last.rest.every((area, i) => area === rest[i])) return last.union;
  const union = uniteAreas(first, ...rest);
  unions.set(first, { rest, union });
  return union;
}

const prepared = remember((area: Area): PreparedArea => prepareArea(area));

function nearestBenchEdge(line: Line, support: Area): Measured | undefined {
  const bench = prepared(support);
  return leastAlong(
    line,
    (p) => bench.distanceToEdge(p),
    (value) => (value < 0 ? "off the bench" : undefined),
  );
}

function nearestWall(line: Line, space: Space, car: Car, low: number, high: number): Measured | undefined {
  const room = prepared(space.room);
  const throws = throwsOf(line, car);
  const obstacles = space.obstacles.filter(({ from, to }) => from < high + car.height && to > low);
  const backdrops = space.decks.get(line.deck)?.backdrops ?? [];
  return leastAlong(line, (p, i) => {
    let clear = room.distanceToEdge(p);
    for (const { area } of obstacles) clear = Math.min(clear, -prepared(area).distanceToEdge(p));
    for (const backdrop of backdrops) clear = Math.min(clear, distanceToLine(backdrop.line, p));
    return clear - Math.max(throws.left[i] ?? 0, throws.right[i] ?? 0);
  });
}

function leastAlong(
  line: Line,
  distanceAt: (p: Point, i: number) => number,
  noteOf?: (value: number) => string | undefined,
): Measured | undefined {
  const { samples } = line;
  let least = Number.POSITIVE_INFINITY;
  let at = -1;
  for (let i = 0; i < samples.count; i++) {
    const value = distanceAt({ x: samples.x[i] ?? 0, y: samples.y[i] ?? 0 }, i);
    if (value < least || at < 0) [least, at] = [value, i];
  }
  if (at < 0) return undefined;
  const note = noteOf?.(least);
  return { value: least, line, s: samples.s[at] ?? 0, ...(note !== undefined && { note }) };
}

/** Distance to an open line of points. */
function distanceToLine(points: readonly Point[], p: Point): number {
  let least = Number.POSITIVE_INFINITY;
  points.slice(1).forEach((b, i) => {
    const a = points[i];
    if (!a) return;
    const place = nearestEdge([[a, b]], p);
    if (place) least = Math.min(least, place.distance);
  });
  return least;
}
