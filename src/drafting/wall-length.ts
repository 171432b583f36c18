/**
 * A wall made longer or shorter, as when a measured room comes out other than drawn: the corners beyond it move along
 * it, up to the wall that runs the other way, which takes up the difference. Only where no wall runs the other way does
 * the next wall turn.
 *
 * Holds: the wall has the length asked for; every wall but it and the one that gives way keeps its length and direction;
 * what hangs on walls keeps its distance from the wall's first corner, as it was measured.
 */
import type { Millimetres } from "../geometry/units.js";
import { done, type Edit, refused } from "../plan/edit.js";
import { setRoomOutline } from "../plan/room-edits.js";
import type { Plan, Room } from "../plan/schema.js";
import { outlineTrouble } from "./reshape-room.js";
import { openingTrouble, wallOf } from "./walls.js";

type Corner = Room["outline"][number];

/** Walls this much out of parallel are built as parallel: 2 mm to the metre. */
const PARALLEL = 0.002;

const between = (a: Corner, b: Corner) => ({ x: b.x - a.x, y: b.y - a.y, length: Math.hypot(b.x - a.x, b.y - a.y) });

export const wallLength = (plan: Plan, wall: number): Millimetres | undefined =>
  wallOf(plan.room.outline, wall)?.length;

/** Refused: no such wall, no length, and a length the opposite wall has no room for. */
export function setWallLength(plan: Plan, wall: number, length: Millimetres): Edit {
  const { outline } = plan.room;
  const n = outline.length;
  const corner = (i: number): Corner => outline[((i % n) + n) % n] ?? { x: 0, y: 0 };
  if (outline[wall] === undefined) return refused(`there is no wall ${wall}; the room has walls 0 to ${n - 1}`);
  if (!(length > 0)) return refused("a wall is longer than nothing");
  const own = between(corner(wall), corner(wall + 1));
  if (own.length === 0) return refused("the wall has no direction; move one of its corners first");
  const along = { x: own.x / own.length, y: own.y / own.length };
  const more = length - own.length;
  let last = wall + 1;
  for (let i = wall + 1; i < wall + n; i += 1) {
    const other = between(corner(i), corner(i + 1));
    if (other.length === 0) continue;
    const facing = (other.x * along.x + other.y * along.y) / other.length;
    if (facing > -1 + PARALLEL ** 2 / 2) continue;
    if (other.length + more <= 0)
      return refused(`the wall opposite, wall ${(i % n) + 1}, would be left with no length`);
    last = i;
    break;
  }
  const moved = outline.map((point, i) => {
    // Corners beyond the wall up to the one that gives way, counted round the room.
    const after = (((i - wall) % n) + n) % n;
    const goes = after >= 1 && after <= last - wall;
    return goes ? { ...point, x: point.x + along.x * more, y: point.y + along.y * more } : point;
  });
  const trouble = outlineTrouble(moved);
  if (trouble !== undefined) return refused(trouble);
  const edit = setRoomOutline(plan, moved);
  if (!edit.ok) return edit;
  const { room } = edit.plan;
  for (const [id, opening] of Object.entries(room.openings)) {
    const off = openingTrouble(room, opening, id);
    if (off !== undefined) return refused(`${opening.name ?? opening.kind}: ${off}`);
  }
  return done("Change wall length", edit.plan);
}
