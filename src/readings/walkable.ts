/**
 * The floor, its aisles and where arms reach in from, kept as long as the room, what stands in it, the decks and their
 * benches and gates stay: an edit of track leaves them as they were.
 */
import { type PreparedArea, prepareArea } from "../geometry/area-distance.js";
import { type Area, subtractArea } from "../geometry/areas.js";
import { type Aisles, deriveAisles } from "../layout/aisles.js";
import { placesBehind, type PlaceBehind } from "../layout/behind.js";
import { deriveFloor, type Floor } from "../layout/floor.js";
import type { Layout } from "../layout/layout.js";
import { remember, sameItems } from "./remember.js";

const floors = new WeakMap<Area, { readonly parts: readonly unknown[]; readonly floor: Floor }>();

/** The same object for layouts whose room, obstacles, decks, benches and gates are the same. */
export function floorOf({ plan, space }: Layout): Floor {
  const parts = [
    plan.room.openings,
    plan.room.obstacles,
    plan.room.ceiling,
    ...Object.entries(plan.decks).flatMap(([id, deck]) => [id, deck, space.decks.get(id)]),
  ];
  const last = floors.get(space.room);
  if (last && sameItems(last.parts, parts)) return last.floor;
  const floor = deriveFloor(plan, space);
  floors.set(space.room, { parts, floor });
  return floor;
}

/** Aisles with every gate open. */
export const aislesOf = remember((floor: Floor): Aisles => deriveAisles(floor.open, floor.doorways, floor.barriers));

/** Places people do not reach upright with every gate closed. */
export const placesBehindOf = remember((floor: Floor): readonly PlaceBehind[] => {
  const { closed, doorways, barriers } = floor;
  return placesBehind(floor, aislesOf(floor), closed && deriveAisles(closed, doorways, barriers, "reached"));
});

/**
 * Where arms reach in from: the floor without gaps in which nobody can stand. Places reached by ducking under count, and
 * square corners of aisles; so does a wedge as far as it goes.
 */
export const reachAreaOf = remember((floor: Floor): PreparedArea => {
  const { slits, floor: walked } = aislesOf(floor);
  return slits.length > 0 ? prepareArea(subtractArea(walked.area, slits)) : walked;
});

/** Whether there is anything to walk round. */
export const hasBenches = ({ space }: Layout): boolean =>
  [...space.decks.values()].some(({ bench }) => bench.length > 0);

/** Stands beside every limit of people's room. */
export const CAUTION = "comfort, not building code: local codes and licensed people decide";
