/**
 * The ground a climb may be laid on: benches of its decks and of those between, and what is allowed besides, within
 * the room; and how far a centre line is clear of the edges of the one and of walls, obstacles and backdrops.
 *
 * Always holds: what is to spare at a place changes by no more than the place moves, so that a way is walked in steps as
 * long as what is to spare.
 * Not modelled: a backdrop or obstacle the climb passes over or under; it stops the climb whatever the height.
 */
import { type PreparedArea, prepareArea } from "../geometry/area-distance.js";
import { type Area, intersectAreas, uniteAreas } from "../geometry/areas.js";
import type { Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { ClimbLimits } from "./limits.js";

/** Steps never shorter than this; an edge's sharp corner is passed too near by less than a quarter of a millimetre. */
const SHORTEST_STEP: Millimetres = 8;
/** Rounding allowed of a place exactly as far from an edge as it must be. */
const EXACT: Millimetres = 0.005;
/** Decks this near an end's height are its deck. */
const LEVEL: Millimetres = 1;

export interface Ground {
  readonly area: Area;
  /** What is clear beyond what must be, negative where too little; `throws` is added to the distance from walls. */
  spare(x: number, y: number, throws: Millimetres): Millimetres;
  /** Whether an edge's middle lies on a wall. */
  onWall(p: Point): boolean;
}

export function climbGround(
  { plan, space }: Layout,
  low: Millimetres,
  high: Millimetres,
  allow: readonly Area[],
  limits: ClimbLimits,
): Ground {
  const top = high + plan.standards.longestCar.value.height;
  const benches = Object.entries(plan.decks).flatMap(([id, { height }]) =>
    height >= low - LEVEL && height <= high + LEVEL ? [space.decks.get(id)?.bench ?? []] : [],
  );
  const area = intersectAreas(uniteAreas(...benches, ...allow), space.room);
  const edge = prepareArea(area);
  const room = prepareArea(space.room);
  const standing: PreparedArea[] = [];
  for (const { area: obstacle, from, to } of space.obstacles)
    if (from < top && to > low) standing.push(prepareArea(obstacle));
  for (const { backdrops } of space.decks.values()) {
    for (const { line, from, to } of backdrops)
      if (from < top && to > low) standing.push(prepareArea([[...line, ...line.slice(1, -1).reverse()]]));
  }
  return {
    area,
    spare(x, y, throws) {
      const p = { x, y };
      let least = edge.distanceToEdge(p) - limits.bench;
      if (least < -EXACT) return least;
      const need = limits.wall + throws;
      least = Math.min(least, room.distanceToEdge(p) - need);
      for (const thing of standing) least = Math.min(least, -thing.distanceToEdge(p) - need);
      return least;
    },
    onWall: (p) => Math.abs(room.distanceToEdge(p)) < LEVEL,
  };
}

/** Whether a way is clear from one distance along it to another. */
export function clearAlong(spareAt: (s: Millimetres) => Millimetres, from: Millimetres, to: Millimetres): boolean {
  for (let s = from; ; ) {
    const spare = spareAt(s);
    if (spare < -EXACT) return false;
    if (s >= to) return true;
    s = Math.min(to, s + Math.max(spare, SHORTEST_STEP));
  }
}

/** The clear stretches of a way, their ends found to a tenth of a millimetre. */
export function clearStretches(
  spareAt: (s: Millimetres) => Millimetres,
  from: Millimetres,
  to: Millimetres,
): (readonly [Millimetres, Millimetres])[] {
  const stretches: (readonly [number, number])[] = [];
  let begin: number | undefined;
  let last = from;
  for (let s = from; ; ) {
    const spare = spareAt(s);
    const clear = spare >= -EXACT;
    if (clear !== (begin !== undefined)) {
      const border = s > from ? between(spareAt, last, s, clear) : s;
      if (begin === undefined) begin = border;
      else {
        if (border > begin) stretches.push([begin, border]);
        begin = undefined;
      }
    }
    if (s >= to) break;
    last = s;
    s = Math.min(to, s + Math.max(Math.abs(spare), SHORTEST_STEP));
  }
  if (begin !== undefined && to > begin) stretches.push([begin, to]);
  return stretches;
}

/** The border between a clear and an unclear place, on the clear side. */
function between(spareAt: (s: number) => number, from: number, to: number, clearAfter: boolean): number {
  let [a, b] = [from, to];
  while (b - a > 0.1) {
    const middle = (a + b) / 2;
    if (spareAt(middle) >= -EXACT === clearAfter) b = middle;
    else a = middle;
  }
  return clearAfter ? b : a;
}
