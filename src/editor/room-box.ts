/** The room's extent on the sheet, doors that open outward with it, for fitting it into a window. */
import { pointsBox } from "../drafting/boxes.js";
import { roomExtent } from "../drafting/openings.js";
import type { Box } from "../geometry/bounds.js";
import type { Plan } from "../plan/schema.js";

/** px kept free round the room for walls and dimensions. */
export const ROOM_MARGIN = 46;

export const roomBox = (plan: Plan): Box => pointsBox(roomExtent(plan.room));
