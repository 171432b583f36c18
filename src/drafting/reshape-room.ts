/**
 * The walls of a room moved, notched and drawn anew, with what stands on them kept in its place.
 *
 * Always holds: an edit that is not refused leaves walls that do not cross, anticlockwise or clockwise as before; doors,
 * windows and shelves stay on walls that are there; an outline that does not change leaves the plan as it is.
 */
import { signedSize } from "../geometry/areas.js";
import { distance, localPoint, offsetPoint, type Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import { outlineArea } from "../layout/bench-shape-outline.js";
import { andThen, done, type Edit, putRecord, refused } from "../plan/edit.js";
import { insertRoomCorner, moveRoomCorner, putOpening, removeOpening, setRoomOutline } from "../plan/room-edits.js";
import { BOUNDS, type Plan } from "../plan/schema.js";
import { slideEdge } from "./slide-edge.js";
import { nearestWall, openingTrouble, pointAtWall, wallOf } from "./walls.js";

/** A wall this short is none. */
export const LEAST_WALL: Millimetres = 1;

/** What is wrong with an outline: a wall without length, or walls that cross. */
export function outlineTrouble(outline: readonly Point[]): string | undefined {
  if (outline.length < 3) return "a room has at least three corners";
  for (const [i, p] of outline.entries()) {
    if (distance(p, outline[i + 1] ?? outline[0] ?? p) < LEAST_WALL) return `wall ${i + 1} would have no length`;
  }
  const note = outlineArea(outline).trouble?.note;
  return note?.replace("the outline crosses itself", "the walls would cross").replace("the outline", "the walls");
}

/** The outline with its corners elsewhere; their number stays, and so do the numbers of the walls. */
export function reshapeRoom(plan: Plan, outline: readonly Point[], name: string): Edit {
  const before = plan.room.outline;
  if (outline.length !== before.length) return refused("corners are put in and taken out one by one");
  if (outline.every((p, i) => p.x === before[i]?.x && p.y === before[i]?.y)) return done(name, plan);
  const trouble = outlineTrouble(outline);
  if (trouble !== undefined) return refused(trouble);
  if (signedSize(outline) > 0 !== signedSize(before) > 0) return refused("the room would be turned inside out");
  return settleOnWalls(setRoomOutline(plan, outline), before, name);
}

/** Moves wall `wall` square to itself, `by` mm to its left; the walls it meets grow or shrink. */
export function moveWall(plan: Plan, wall: number, by: Millimetres): Edit {
  const moved = slideEdge(plan.room.outline, wall, by);
  return moved ? reshapeRoom(plan, moved, "Move wall") : refused("the wall would be pulled past a corner");
}

/**
 * A chimney breast (`depth` into the room) or an alcove (less than nothing), `width` wide from `from` along a wall. At
 * an end of the wall it takes the corner with it.
 */
export function notchWall(plan: Plan, wall: number, from: Millimetres, width: Millimetres, depth: Millimetres): Edit {
  const own = wallOf(plan.room.outline, wall);
  if (!own) return refused(`there is no wall ${wall + 1}`);
  if (!(width >= LEAST_WALL)) return refused("a notch has a width");
  if (!(Math.abs(depth) >= LEAST_WALL)) return refused("a notch has a depth");
  if (from < -LEAST_WALL || from + width > own.length + LEAST_WALL) return refused("it would reach past the corner");
  if (plan.room.outline.length + 4 > BOUNDS.corners) return refused("the room has too many corners");
  for (const opening of Object.values(plan.room.openings)) {
    if (opening.wall === wall && opening.at < from + width && opening.at + opening.width > from)
      return refused(`the ${opening.name ?? opening.kind} is there`);
  }
  const atStart = from < LEAST_WALL;
  const atEnd = from + width > own.length - LEAST_WALL;
  if (atStart && atEnd) return refused("it takes up the whole wall: move the wall instead");
  const spot = (along: Millimetres, into: Millimetres): Point => pointAtWall(plan.room, wall, along, into) ?? own.from;
  const [start, end] = [atStart ? 0 : from, atEnd ? own.length : from + width];
  let edit: Edit = done("Notch wall", plan);
  // From the far end back, so that the wall keeps its number until the last.
  if (!atEnd) edit = andThen(edit, (next) => insertRoomCorner(next, wall, spot(end, 0)));
  if (atEnd)
    edit = andThen(edit, (next) => moveRoomCorner(next, (wall + 1) % next.room.outline.length, spot(end, depth)));
  else edit = andThen(edit, (next) => insertRoomCorner(next, wall, spot(end, depth)));
  if (atStart) edit = andThen(edit, (next) => moveRoomCorner(next, wall, spot(0, depth)));
  else {
    edit = andThen(edit, (next) => insertRoomCorner(next, wall, spot(start, depth)));
    edit = andThen(edit, (next) => insertRoomCorner(next, wall, spot(start, 0)));
  }
  if (!edit.ok) return edit;
  const trouble = outlineTrouble(edit.plan.room.outline);
  return trouble === undefined ? done("Notch wall", edit.plan) : refused(trouble);
}

/** Draws the walls anew. What stood on walls goes to the nearest that is long enough; openings for which there is none go. */
export function replaceRoom(plan: Plan, corners: readonly Point[]): { readonly edit: Edit; readonly note: string } {
  const trouble = outlineTrouble(corners);
  if (trouble !== undefined) return { edit: refused(trouble), note: "" };
  const outline = signedSize(corners) < 0 ? corners.toReversed() : corners;
  const before = plan.room.outline;
  let edit = setRoomOutline(plan, outline);
  let [moved, lost] = [0, 0];
  for (const [id, opening] of Object.entries(plan.room.openings)) {
    const middle = pointAtWall(plan.room, opening.wall, opening.at + opening.width / 2, 0);
    const fits = outline.flatMap((_, wall) => {
      const at = middle && wallOf(outline, wall);
      if (!at || at.length < opening.width) return [];
      const along = localPoint({ ...at.from, heading: at.heading }, middle).x - opening.width / 2;
      const place = Math.min(Math.max(along, 0), at.length - opening.width);
      const now = offsetPoint({ ...at.from, heading: at.heading }, place + opening.width / 2, 0);
      return [{ wall, at: place, off: distance(now, middle) }];
    });
    const best = fits.sort((a, b) => a.off - b.off)[0];
    if (!best) lost++;
    else if (best.off > LEAST_WALL) moved++;
    edit = andThen(edit, (next) =>
      best ? putOpening(next, id, { ...opening, wall: best.wall, at: best.at }) : removeOpening(next, id),
    );
  }
  edit = andThen(edit, (next) => moveShelves(next, before, (point) => nearestWall(outline, point)), "Draw walls");
  const notes = [
    ...(moved > 0 ? [`${moved} ${moved === 1 ? "opening" : "openings"} moved to the nearest wall`] : []),
    ...(lost > 0 ? [`${lost} ${lost === 1 ? "opening" : "openings"} found no wall and went`] : []),
  ];
  return { edit: edit.ok ? done("Draw walls", edit.plan) : edit, note: notes.join("; ") };
}

/** Brings openings and shelf ends of walls that moved back to where they stood in the room, as far as their wall goes. */
function settleOnWalls(edit: Edit, before: readonly Point[], name: string): Edit {
  if (!edit.ok) return edit;
  const { outline } = edit.plan.room;
  let next = edit;
  for (const [id, opening] of Object.entries(edit.plan.room.openings)) {
    const at = settled(before, outline, opening.wall, opening.at, opening.width);
    if (at === undefined) continue;
    if (at < 0) return refused(`wall ${opening.wall + 1} would be shorter than its ${opening.name ?? opening.kind}`);
    const there = { ...opening, at };
    const trouble = openingTrouble({ ...edit.plan.room, openings: {} }, there);
    if (trouble !== undefined) return refused(`${opening.name ?? opening.kind}: ${trouble}`);
    const put = putOpening(next.plan, id, there);
    if (!put.ok) return put;
    next = put;
  }
  const shelves = moveShelves(next.plan, before, (_, wall, at) => {
    const now = settled(before, outline, wall, at, 0);
    return now === undefined ? undefined : { wall, at: now };
  });
  return shelves.ok ? done(name, shelves.plan) : shelves;
}

/** Where a thing on a wall now begins; less than 0 where the wall is too short for it; undefined where nothing changes. */
function settled(
  before: readonly Point[],
  after: readonly Point[],
  wall: number,
  at: Millimetres,
  width: Millimetres,
): Millimetres | undefined {
  const [was, is] = [wallOf(before, wall), wallOf(after, wall)];
  if (!was || !is) return undefined;
  if (is.length < width) return -1;
  const same = (p: Point, q: Point) => p.x === q.x && p.y === q.y;
  if (same(was.from, is.from) && same(was.to, is.to)) return undefined;
  const stood = offsetPoint({ ...was.from, heading: was.heading }, at, 0);
  // What reached into the corner goes on doing so.
  const along =
    at <= LEAST_WALL
      ? 0
      : at + width >= was.length - LEAST_WALL
        ? is.length - width
        : localPoint({ ...is.from, heading: is.heading }, stood).x;
  return Math.min(Math.max(along, 0), is.length - width);
}

type ToPlace = (
  stood: Point,
  wall: number,
  at: Millimetres,
) => { readonly wall: number; readonly at: Millimetres } | undefined;

function moveShelves(plan: Plan, before: readonly Point[], to: ToPlace): Edit {
  let edit = done("Change walls", plan);
  for (const [id, bench] of Object.entries(plan.benches)) {
    if (!("shelf" in bench.shape)) continue;
    const { shelf } = bench.shape;
    const moved = <P extends { readonly wall: number; readonly at: number }>(place: P): P => {
      const wall = wallOf(before, place.wall);
      const now = wall && to(offsetPoint({ ...wall.from, heading: wall.heading }, place.at, 0), place.wall, place.at);
      return now ? { ...place, wall: now.wall, at: now.at } : place;
    };
    const [from, end] = [moved(shelf.from), moved(shelf.to)];
    if (from === shelf.from && end === shelf.to) continue;
    const shape = { ...bench.shape, shelf: { ...shelf, from, to: end } };
    edit = andThen(edit, (next) => putRecord(next, "benches", id, { ...bench, shape }));
  }
  return edit;
}
