/** What stands beside track and stops a car: the room's walls, obstacles and backdrops, each over a range of heights. */
import { type PreparedArea, prepareArea } from "../geometry/area-distance.js";
import type { Area } from "../geometry/areas.js";
import type { Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import { heightAt, type Profile } from "../layout/profile.js";
import type { Car } from "../plan/schema.js";
import type { Throws } from "./envelope.js";
import { remember, sameItems } from "./remember.js";

interface Standing {
  readonly edges: PreparedArea;
  readonly from: Millimetres;
  readonly to: Millimetres;
}

export interface Barriers {
  readonly room: PreparedArea;
  readonly standing: readonly Standing[];
}

const prepared = remember((area: Area): PreparedArea => prepareArea(area));

/** A line of points made ready as an area of nothing: there and back. */
const preparedLine = remember(
  (points: readonly Point[]): PreparedArea => prepareArea([[...points, ...points.slice(1, -1).reverse()]]),
);

const lists = new WeakMap<Area, { readonly parts: readonly unknown[]; readonly barriers: Barriers }>();

/** The same object for layouts whose room, obstacles and backdrops are the same. */
export function barriersOf({ space: { room, obstacles, decks } }: Layout): Barriers {
  const backdrops = [...decks.values()].flatMap((deck) => deck.backdrops);
  const parts = [
    ...obstacles.flatMap(({ area, from, to }) => [area, from, to]),
    ...backdrops.flatMap(({ line, from, to }) => [line, from, to]),
  ];
  const last = lists.get(room);
  if (last && sameItems(last.parts, parts)) return last.barriers;
  const standing = [
    ...obstacles.map(({ area, from, to }) => ({ edges: prepared(area), from, to })),
    ...backdrops.map(({ line, from, to }) => ({ edges: preparedLine(line), from, to })),
  ];
  const barriers = { room: prepared(room), standing };
  lists.set(room, { parts, barriers });
  return barriers;
}

/** How near barriers come to a place: those at a car's height there, less the throw toward them, and any at all. */
export interface Nearness {
  readonly clear: Millimetres;
  readonly any: Millimetres;
}

/** From sample i of a line. Negative beyond the room's walls or within an obstacle, infinite where nothing stands. */
export function nearestBarrier(
  { room, standing }: Barriers,
  line: Line,
  heights: Profile,
  car: Car,
  throws: Throws,
  i: number,
): Nearness {
  const p = { x: line.samples.x[i] ?? 0, y: line.samples.y[i] ?? 0 };
  let clear = Number.POSITIVE_INFINITY;
  let any = Number.POSITIVE_INFINITY;
  const height = standing.length > 0 ? heightAt(heights, line.samples.s[i] ?? 0) : 0;
  const offer = (edges: PreparedArea, within: 1 | -1, atHeight: boolean): void => {
    const place = edges.nearestEdge(p);
    if (!place) return;
    const inside = edges.contains(p) ? within : -within;
    const heading = line.samples.heading[i] ?? 0;
    const left = Math.cos(heading) * (place.point.y - p.y) - Math.sin(heading) * (place.point.x - p.x) > 0;
    // Beyond a wall the car has the wall on its other side.
    const reach = (left === inside > 0 ? throws.left[i] : throws.right[i]) ?? 0;
    const distance = inside * place.distance;
    any = Math.min(any, distance);
    if (atHeight) clear = Math.min(clear, distance - reach);
  };
  offer(room, 1, true);
  for (const { edges, from, to } of standing) offer(edges, -1, from < height + car.height && to > height);
  return { clear, any };
}
