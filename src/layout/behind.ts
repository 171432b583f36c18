/**
 * Places where people stand and work that they do not reach upright with every gate closed: what they must open, or duck
 * under, and how high it is.
 *
 * Always holds: a piece of floor is named once; behind a gate only what is reached when the gates are open; what can be walked
 * round to is not named.
 */
import { type PreparedArea, prepareArea } from "../geometry/area-distance.js";
import { type Area, type Ring, signedSize } from "../geometry/areas.js";
import type { Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { AislePart, Aisles } from "./aisles.js";
import type { Barrier, Floor } from "./floor.js";

export interface PlaceBehind {
  /** gate: a closed gate. under: something one must duck under. none: nothing one could duck under leads there. */
  readonly how: "gate" | "under" | "none";
  /** Where one opens, ducks, or stands before a wall. */
  readonly point: Point;
  /** The gate, or the lowest thing passed under. */
  readonly barrier: Barrier | undefined;
}

/** So many places between here and there are asked what stands on them. */
const STEPS = 16;

/** `closed` are the aisles with every gate closed, where there are gates. */
export function placesBehind(floor: Floor, open: Aisles, closed: Aisles | undefined): PlaceBehind[] {
  const gates = floor.barriers.filter(({ kind }) => kind === "gate");
  const walls = prepareArea(floor.space.room);
  const reached = prepareArea(open.reached);
  const ducked = open.parts.filter(({ width }) => width === 0);
  const gated = (closed?.parts ?? []).filter(({ width, spot }) => width === 0 && reached.contains(spot));
  return [
    ...(closed ? pieces(closed.floor.area, gated) : []).map((parts) => behindGate(parts, gates)),
    ...pieces(open.floor.area, ducked).map((parts) => behindBench(parts, open.reached, reached, floor.barriers, walls)),
  ];
}

/** Parts by the piece of floor they are of. */
function pieces(floor: Area, parts: readonly AislePart[]): AislePart[][] {
  const outer = floor.filter((ring) => signedSize(ring) > 0).map((ring) => prepareArea([ring]));
  const found = new Map<number, AislePart[]>();
  for (const part of parts) {
    // No piece lies within another's hole and has a part of that one in it.
    const piece = outer.findLastIndex((ring) => ring.contains(part.spot));
    const own = found.get(piece);
    if (own) own.push(part);
    else found.set(piece, [part]);
  }
  return [...found.values()];
}

function behindGate(parts: readonly AislePart[], gates: readonly Barrier[]): PlaceBehind {
  let least = Number.POSITIVE_INFINITY;
  let found: PlaceBehind = { how: "gate", point: parts[0]?.spot ?? { x: 0, y: 0 }, barrier: gates[0] };
  for (const barrier of gates) {
    const gate = prepareArea(barrier.area);
    for (const { ring } of parts) {
      const { distance, from } = closest(ring, gate, barrier.area);
      if (distance < least) [least, found] = [distance, { how: "gate", point: from, barrier }];
    }
  }
  return found;
}

/** By the shortest way from the floor that is reached. */
function behindBench(
  parts: readonly AislePart[],
  rings: readonly Ring[],
  reached: PreparedArea,
  barriers: readonly Barrier[],
  walls: PreparedArea,
): PlaceBehind {
  const ways = parts.map(({ ring }) => closest(ring, reached, rings));
  const { from, to } = ways.reduce((a, b) => (b.distance < a.distance ? b : a));
  const spot = parts[0]?.spot ?? from;
  const way = Array.from({ length: STEPS }, (_, i) => (i + 0.5) / STEPS).map((t) => ({
    x: from.x + t * (to.x - from.x),
    y: from.y + t * (to.y - from.y),
  }));
  const passed = barriers.filter(({ area, kind }) => {
    const prepared = prepareArea(area);
    return kind !== "gate" && way.some((p) => prepared.contains(p));
  });
  const lowest = passed.reduce<Barrier | undefined>((a, b) => (a && a.under <= b.under ? a : b), undefined);
  const blocked = rings.length === 0 || lowest?.under === 0 || way.some((p) => !walls.contains(p));
  const point = way[STEPS >> 1] ?? spot;
  return blocked ? { how: "none", point: spot, barrier: undefined } : { how: "under", point, barrier: lowest };
}

/** The closest places of a ring and an area's edge: one of them is a corner. */
function closest(ring: Ring, other: PreparedArea, rings: Area): { distance: Millimetres; from: Point; to: Point } {
  const [first = { x: 0, y: 0 }] = ring;
  let best = { distance: Number.POSITIVE_INFINITY, from: first, to: first };
  for (const from of ring) {
    const place = other.nearestEdge(from, best.distance);
    if (place && place.distance < best.distance) best = { distance: place.distance, from, to: place.point };
  }
  const own = prepareArea([ring]);
  for (const to of rings.flat()) {
    const place = own.nearestEdge(to, best.distance);
    if (place && place.distance < best.distance) best = { distance: place.distance, from: place.point, to };
  }
  return best;
}
