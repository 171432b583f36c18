/**
 * Runs along the walls of a room: places as distances anticlockwise from its first corner, and a hand that is followed
 * from one to another, however often it passes the first corner.
 *
 * Always holds: the station of the place at a station is that station; the way between two stations is the shorter one.
 */
import { recordsInHand } from "../layout/options.js";
import type { Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { RoomWalls } from "../layout/room-walls.js";
import type { Opening, Plan, Room } from "../plan/schema.js";
import { outsideOf } from "../layout/openings.js";
import { nearestWall, wallOf } from "./walls.js";

export interface WallPlace {
  readonly wall: number;
  readonly at: Millimetres;
}

/** A place nearer to a corner than this is in it. */
const IN_CORNER: Millimetres = 1e-6;

/** Undefined for a room without walls. */
export function stationNear(room: Room, walls: RoomWalls, point: Point): Millimetres | undefined {
  const place = nearestWall(room.outline, point);
  return place && walls.placeAt(place.wall, place.at);
}

/** A station within the way round, from 0 up to its length. */
export const wrapStation = (walls: RoomWalls, station: Millimetres): Millimetres =>
  walls.length > 0 ? station - walls.length * Math.floor(station / walls.length) : 0;

/** In a corner a run begins on the wall after it and ends on the wall before it, anticlockwise. */
export function placeAtStation(room: Room, walls: RoomWalls, station: Millimetres, side: "begins" | "ends"): WallPlace {
  const s = wrapStation(walls, station);
  const n = walls.ring.length;
  const slack = side === "begins" ? IN_CORNER : -IN_CORNER;
  let edge = side === "ends" && s <= IN_CORNER ? n - 1 : 0;
  while (edge < n - 1 && (walls.stations[edge + 1] ?? 0) <= s + slack) edge++;
  const [begin, end] = [walls.stations[edge] ?? 0, walls.stations[edge + 1] ?? 0];
  const along = Math.min(Math.max(s <= IN_CORNER && edge > 0 ? end - begin : s - begin, 0), end - begin);
  // Where the owner drew the walls clockwise they count the other way.
  return outsideOf(room) > 0 ? { wall: (2 * n - 2 - edge) % n, at: end - begin - along } : { wall: edge, at: along };
}

/** The shorter way from one station to another, less than nothing clockwise. */
export function wayBetween(walls: RoomWalls, from: Millimetres, to: Millimetres): Millimetres {
  const way = wrapStation(walls, to - from);
  return way > walls.length / 2 ? way - walls.length : way;
}

/** Stations a shelf's end is caught by: corners, sides of openings, ends of other shelves. */
export function runMarks(plan: Plan, walls: RoomWalls): Millimetres[] {
  const at = ({ wall, at: along }: WallPlace): Millimetres[] => {
    const station = walls.placeAt(wall, along);
    return station === undefined ? [] : [station];
  };
  const { room } = plan;
  return [
    ...walls.stations,
    ...Object.values(room.openings).flatMap((o) => [...at(o), ...at({ wall: o.wall, at: o.at + o.width })]),
    ...recordsInHand(plan, plan.benches).flatMap(([, { shape }]) =>
      "shelf" in shape ? [...at(shape.shelf.from), ...at(shape.shelf.to)] : [],
    ),
  ];
}

/** Openings that a run passes at a height: doors and passages, and windows whose sill lies below it. */
export function passedOpenings(
  room: Room,
  walls: RoomWalls,
  from: Millimetres,
  way: Millimetres,
  height: Millimetres,
): Opening[] {
  const begin = way < 0 ? from + way : from;
  return Object.values(room.openings).filter((opening) => {
    const wall = wallOf(room.outline, opening.wall);
    const middle = walls.placeAt(opening.wall, opening.at + opening.width / 2);
    if (!wall || middle === undefined || (opening.kind === "window" && (opening.sill ?? 0) >= height)) return false;
    if (opening.head !== undefined && opening.head <= 0) return false;
    const off = wrapStation(walls, middle - begin);
    const half = opening.width / 2;
    return off < Math.abs(way) + half || off > walls.length - half;
  });
}
