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
import { freeOf, type Stretch, takenBy } from "./clear-line.js";
import { EdgeField, OFF } from "./edge-field.js";
import type { ClimbLimits } from "./limits.js";

/** Steps never shorter than this; an edge's sharp corner is passed too near by less than a quarter of a millimetre. */
const SHORTEST_STEP: Millimetres = 8;
/** Rounding allowed of a place exactly as far from an edge as it must be. */
const EXACT: Millimetres = 0.005;
/** Decks this near an end's height are its deck. */
const LEVEL: Millimetres = 1;
/** Nearer to what decides than this the distance itself is asked for. */
const FINE: Millimetres = 10;

export interface Ground {
  readonly area: Area;
  /**
   * What is clear beyond what must be, negative where too little; `throws` is added to the distance from walls. Away from
   * edges a figure nearer to none than the true one, of the same sign.
   */
  spare(x: number, y: number, throws: Millimetres): Millimetres;
  /** The clear stretches of a straight line from (x, y) along (ux, uy), between two distances along it. */
  clearLine(x: number, y: number, ux: number, uy: number, from: Millimetres, to: Millimetres): Stretch[];
  /** Whether an edge's middle lies on a wall. */
  onWall(p: Point): boolean;
}

/** What the ground is asked to keep: distances of a centre line from edges and from walls. */
export type GroundLimits = Pick<ClimbLimits, "bench" | "wall">;

export function climbGround(
  { plan, space }: Layout,
  low: Millimetres,
  high: Millimetres,
  allow: readonly Area[],
  limits: GroundLimits,
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
  const walls = [space.room, ...standing.map((thing) => thing.area)];
  const offWalls = (p: Point): boolean => room.contains(p) && !standing.some((thing) => thing.contains(p));
  const edges = new EdgeField([area], area, (p) => edge.contains(p));
  const fromWalls = new EdgeField(walls, area, offWalls);
  return {
    area,
    spare(x, y, throws) {
      const need = limits.wall + throws;
      const rough = Math.min(edges.rough(x, y) - limits.bench, fromWalls.rough(x, y) - need);
      if (rough > OFF + FINE) return rough - OFF;
      if (rough < -OFF - FINE) return rough + OFF;
      const least = edges.exact(x, y) - limits.bench;
      return least < -EXACT ? least : Math.min(least, fromWalls.exact(x, y) - need);
    },
    clearLine(x, y, ux, uy, from, to) {
      const taken = [
        ...takenBy([area], limits.bench - EXACT, x, y, ux, uy),
        ...takenBy(walls, limits.wall - EXACT, x, y, ux, uy),
      ];
      return freeOf(taken, from, to).filter(([a, b]) => {
        const s = (a + b) / 2;
        const p = { x: x + s * ux, y: y + s * uy };
        return edge.contains(p) && offWalls(p);
      });
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
