/** Openings of a room as drawings need them. */
import type { Point } from "../geometry/pose.js";
import { doorSwing } from "../layout/openings.js";
import type { Room } from "../plan/schema.js";

/** Points a drawing of the room must hold: its corners and what doors sweep. */
export const roomExtent = (room: Room): Point[] => [
  ...room.outline,
  ...Object.values(room.openings).flatMap((opening) => doorSwing(room, opening)?.open ?? []),
];
