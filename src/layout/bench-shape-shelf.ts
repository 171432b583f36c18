/**
 * A shelf along the walls, anticlockwise round the room from one place on a wall to another, as deep all along. From a
 * place to itself it goes all the way round.
 *
 * Always holds: a shelf lies within the room; it is no farther from the walls it follows than its depth, but for the
 * square corners it makes round a corner that stands out into the room; rounding only adds to it, in its inner corners.
 */
import { type Area, type Ring, intersectAreas, NO_AREA, uniteAreas } from "../geometry/areas.js";
import { distance, type Point } from "../geometry/pose.js";
import { type Corner, roundCorners } from "../geometry/rings.js";
import type { Millimetres, Radians } from "../geometry/units.js";
import type { BenchShape } from "../plan/schema.js";
import type { Shaped } from "./bench-shape-outline.js";
import type { RoomWalls } from "./room-walls.js";

type Shelf = Extract<BenchShape, { readonly shelf: unknown }>["shelf"];

/** A corner of the shelf nearer to a wall than this lies on it: more than areas are rounded by, less than any gap built. */
const ON_WALL: Millimetres = 0.01;
/** Places nearer together than this are one. */
const SAME_PLACE: Millimetres = 1e-6;
/** Round a corner that turns more than square, the front is cut off square instead of running to a point. */
const SHARPEST: Radians = Math.PI / 4;

export function shelfArea(shelf: Shelf, walls: RoomWalls): Shaped {
  const from = walls.placeAt(shelf.from.wall, shelf.from.at);
  const to = walls.placeAt(shelf.to.wall, shelf.to.at);
  if (from === undefined || to === undefined) {
    const wall = from === undefined ? shelf.from.wall : shelf.to.wall;
    return { area: NO_AREA, trouble: { note: `the room has no wall ${wall}`, point: walls.ring[0] ?? { x: 0, y: 0 } } };
  }
  const wholeWay = Math.abs(to - from) <= SAME_PLACE;
  const line = alongWalls(walls, from, to > from + SAME_PLACE ? to : to + walls.length);
  const sharp = intersectAreas(uniteAreas(...strips(line, shelf.depth, wholeWay).map((ring) => [ring])), walls.area);
  if (sharp.length === 0)
    return { area: sharp, trouble: { note: "the shelf has no room", point: line[0] ?? { x: 0, y: 0 } } };
  return { area: shelf.round ? roundInnerCorners(sharp, shelf.round, walls) : sharp };
}

/** The walls from one distance round the room to a later one, which may lie beyond the first corner again. */
function alongWalls(walls: RoomWalls, from: Millimetres, to: Millimetres): Point[] {
  const { ring, stations, length } = walls;
  const n = ring.length;
  const line: Point[] = [pointAt(walls, from)];
  for (let i = 0; i < 2 * n; i++) {
    const station = (stations[i % n] ?? 0) + (i >= n ? length : 0);
    const corner = ring[i % n];
    if (corner && station > from + SAME_PLACE && station < to - SAME_PLACE) line.push(corner);
  }
  line.push(pointAt(walls, to));
  return line.filter((p, i) => i === 0 || distance(p, line[i - 1] ?? p) > SAME_PLACE);
}

function pointAt({ ring, stations, length }: RoomWalls, place: Millimetres): Point {
  const at = place >= length ? place - length : place;
  let i = 0;
  while (i < ring.length - 1 && (stations[i + 1] ?? 0) <= at) i++;
  const [p, q] = [ring[i], ring[(i + 1) % ring.length]];
  if (!p || !q) return { x: 0, y: 0 };
  const span = distance(p, q);
  const t = span > 0 ? (at - (stations[i] ?? 0)) / span : 0;
  return { x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y) };
}

/** A rectangle on each stretch of wall, and a square piece wherever a corner stands out between two of them. */
function strips(line: readonly Point[], depth: Millimetres, wholeWay: boolean): Ring[] {
  const pieces: Ring[] = [];
  const last = line.length - 2;
  for (let i = 0; i <= last; i++) {
    const [p, q] = [line[i], line[i + 1]];
    if (!p || !q) continue;
    const n = towardRoom(p, q, depth);
    pieces.push([p, q, { x: q.x + n.x, y: q.y + n.y }, { x: p.x + n.x, y: p.y + n.y }]);
    const next = i < last ? line[i + 2] : wholeWay ? line[1] : undefined;
    if (next) pieces.push(...cornerPiece(q, n, towardRoom(q, next, depth)));
  }
  return pieces;
}

/** From the wall p to q straight into the room, by the depth. */
function towardRoom(p: Point, q: Point, depth: Millimetres): Point {
  const span = distance(p, q) || 1;
  return { x: (-(q.y - p.y) / span) * depth, y: ((q.x - p.x) / span) * depth };
}

/** What lies between the fronts of two walls that meet in a corner standing out into the room; nothing for any other corner. */
function cornerPiece(corner: Point, before: Point, after: Point): Ring[] {
  const turn = Math.atan2(before.x * after.y - before.y * after.x, before.x * after.x + before.y * after.y);
  if (turn >= 0) return [];
  const on = Math.tan(Math.min(-turn / 2, SHARPEST));
  const { x, y } = corner;
  return [
    [
      corner,
      { x: x + after.x, y: y + after.y },
      { x: x + after.x - on * after.y, y: y + after.y + on * after.x },
      { x: x + before.x + on * before.y, y: y + before.y - on * before.x },
      { x: x + before.x, y: y + before.y },
    ],
  ];
}

/** Rounds the corners of the front that look away from the room's middle; those on a wall stay as they are. */
function roundInnerCorners(area: Area, round: Millimetres, walls: RoomWalls): Area {
  const rings = area.map((ring) => {
    const corners: Corner[] = ring.map((p, i) => {
      const [a, b] = [ring[i > 0 ? i - 1 : ring.length - 1] ?? p, ring[(i + 1) % ring.length] ?? p];
      const inner = (p.x - a.x) * (b.y - p.y) - (p.y - a.y) * (b.x - p.x) < 0;
      return inner && !walls.prepared.nearestEdge(p, ON_WALL) ? { ...p, round } : p;
    });
    return roundCorners(corners);
  });
  // An arc may reach into a wall that stands in its way.
  return intersectAreas(rings, walls.area);
}
