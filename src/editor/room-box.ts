/** The room's extent on the sheet, for fitting it into a window. */
import type { Box } from "../geometry/bounds.js";
import type { Plan } from "../plan/schema.js";

/** px kept free round the room for walls and dimensions. */
export const ROOM_MARGIN = 56;

export function roomBox(plan: Plan): Box {
  const xs = plan.room.outline.map((p) => p.x);
  const ys = plan.room.outline.map((p) => p.y);
  return { minX: Math.min(...xs), minY: Math.min(...ys), maxX: Math.max(...xs), maxY: Math.max(...ys) };
}
