/**
 * Edits of the room. Openings and shelves name walls by number and places by distance from the wall's first corner, so
 * putting in or taking out a corner moves them along.
 *
 * Holds: putting a corner in on a wall and taking it out again gives an equal plan, within rounding.
 */
import { amend, done, type Edit, refused } from "./edit.js";
import { check, printFault } from "./explain.js";
import {
  type Bench,
  type BenchShape,
  type Id,
  idSchema,
  type Obstacle,
  type Opening,
  type Plan,
  type Room,
  roomSchema,
} from "./schema.js";

type Corner = Room["outline"][number];
interface WallPlace {
  readonly wall: number;
  readonly at: number;
}

/** Walls, ceiling and all, with things on walls left at their numbers. */
export function setRoom(
  plan: Plan,
  change: { readonly [K in keyof Room]?: Room[K] | undefined },
  name = "Change room",
): Edit {
  const room = amend(plan.room, change);
  const checked = check(roomSchema, room);
  if (!checked.ok) return refused(checked.faults.map(printFault).join("; "));
  return done(name, room === plan.room ? plan : { ...plan, room });
}

export const setRoomOutline = (plan: Plan, outline: readonly Corner[]): Edit =>
  setRoom(plan, { outline: [...outline] }, "Change walls");

export function moveRoomCorner(plan: Plan, index: number, to: Corner): Edit {
  const { outline } = plan.room;
  if (outline[index] === undefined) return refused(noCorner(index, outline.length));
  return setRoom(plan, { outline: outline.with(index, to) }, "Move corner");
}

/** Puts a corner into wall `wall`; what lies beyond it comes to lie on the new wall after it. */
export function insertRoomCorner(plan: Plan, wall: number, corner: Corner): Edit {
  const { outline } = plan.room;
  const first = outline[wall];
  if (first === undefined) return refused(`there is no wall ${wall}; the room has walls 0 to ${outline.length - 1}`);
  const reach = Math.hypot(corner.x - first.x, corner.y - first.y);
  const edit = setRoom(plan, { outline: outline.toSpliced(wall + 1, 0, corner) }, "Add corner");
  return moveOnWalls(edit, (place) => {
    if (place.wall > wall) return { wall: place.wall + 1, at: place.at };
    return place.wall === wall && place.at >= reach ? { wall: wall + 1, at: place.at - reach } : place;
  });
}

/** Takes a corner out; the walls to either side of it become one. At least three corners stay. */
export function removeRoomCorner(plan: Plan, index: number): Edit {
  const { outline } = plan.room;
  const corner = outline[index];
  const n = outline.length;
  const before = (index + n - 1) % n;
  const last = outline[before];
  if (corner === undefined || last === undefined) return refused(noCorner(index, n));
  const reach = Math.hypot(corner.x - last.x, corner.y - last.y);
  const renumber = (wall: number): number => (wall > index ? wall - 1 : wall);
  const edit = setRoom(plan, { outline: outline.toSpliced(index, 1) }, "Remove corner");
  return moveOnWalls(edit, (place) => {
    if (place.wall >= n) return place;
    if (place.wall === index) return { wall: renumber(before), at: place.at + reach };
    return { wall: renumber(place.wall), at: place.at };
  });
}

export const setCeiling = (plan: Plan, ceiling: number): Edit => setRoom(plan, { ceiling }, "Change ceiling");

export const putOpening = (plan: Plan, id: Id, opening: Opening): Edit =>
  putInRoom(plan, "openings", id, opening, "opening");
export const removeOpening = (plan: Plan, id: Id): Edit => removeFromRoom(plan, "openings", id, "opening");
export const putObstacle = (plan: Plan, id: Id, obstacle: Obstacle): Edit =>
  putInRoom(plan, "obstacles", id, obstacle, "obstacle");
export const removeObstacle = (plan: Plan, id: Id): Edit => removeFromRoom(plan, "obstacles", id, "obstacle");

type RoomPart = "openings" | "obstacles";

function putInRoom<P extends RoomPart>(plan: Plan, part: P, id: Id, record: Room[P][string], noun: string): Edit {
  const usable = check(idSchema, id);
  if (!usable.ok) return refused(`"${id}": ${usable.faults.map(printFault).join("; ")}`);
  const there = Object.hasOwn(plan.room[part], id);
  if (there && plan.room[part][id] === record) return done(`Change ${noun}`, plan);
  const walls = plan.room.outline.length;
  if ("wall" in record && record.wall >= walls)
    return refused(`there is no wall ${record.wall}; the room has walls 0 to ${walls - 1}`);
  return setRoom(plan, { [part]: { ...plan.room[part], [id]: record } }, `${there ? "Change" : "Add"} ${noun}`);
}

function removeFromRoom(plan: Plan, part: RoomPart, id: Id, noun: string): Edit {
  if (!Object.hasOwn(plan.room[part], id)) return refused(`there is no ${noun} "${id}"`);
  const kept = Object.entries(plan.room[part]).filter(([other]) => other !== id);
  return setRoom(plan, { [part]: Object.fromEntries(kept) }, `Remove ${noun}`);
}

const noCorner = (index: number, corners: number): string =>
  `there is no corner ${index}; the room has corners 0 to ${corners - 1}`;

function moveOnWalls(edit: Edit, move: (place: WallPlace) => WallPlace): Edit {
  if (!edit.ok) return edit;
  const { plan } = edit;
  const openings = mapValues(plan.room.openings, (opening) => moved(opening, move));
  const room = amend(plan.room, { openings });
  const benches = mapValues(plan.benches, (bench): Bench => {
    if (!("shelf" in bench.shape)) return bench;
    const { shelf } = bench.shape;
    const next = amend(shelf, { from: moved(shelf.from, move), to: moved(shelf.to, move) });
    const shape: BenchShape = { ...bench.shape, shelf: next };
    return next === shelf ? bench : { ...bench, shape };
  });
  return done(edit.name, amend(amend(plan, { room }), { benches }));
}

function moved<T extends WallPlace>(thing: T, move: (place: WallPlace) => WallPlace): T {
  const { wall, at } = move(thing);
  return wall === thing.wall && at === thing.at ? thing : { ...thing, wall, at };
}

/** The record with every value mapped; itself where none changed. */
function mapValues<T>(values: Readonly<Record<string, T>>, map: (value: T) => T): Readonly<Record<string, T>> {
  const entries = Object.entries(values).map(([key, value]) => [key, map(value)] as const);
  return entries.every(([key, value]) => values[key] === value) ? values : Object.fromEntries(entries);
}
