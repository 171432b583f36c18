/** What a sheet with little on it says in its margin: what to do first in this stage. Silent once it is done. */
import type { Plan } from "../../plan/schema.js";
import type { Stage } from "../tool.js";

const isEmpty = (records: object): boolean => Object.keys(records).length === 0;

/** Undefined where the stage's work has begun. */
export function firstWords(plan: Plan, stage: Stage): string | undefined {
  const { room } = plan;
  if (stage === "survey") {
    if (!isEmpty(room.openings) || !isEmpty(room.obstacles) || room.outline.length !== 4) return undefined;
    return "Draw the walls, or type the length of the first one. Then put in doors, windows and what stays where it is.";
  }
  if (stage === "frame") {
    if (!isEmpty(plan.benches)) return undefined;
    return "Draw a shelf along a wall, or a bench in the room, for the track to lie on.";
  }
  if (stage === "lay") {
    if (!isEmpty(plan.tracks)) return undefined;
    return isEmpty(plan.benches)
      ? "Frame a bench first, or click where the first track starts and go from there."
      : "Click where the first track starts; every click after that lays a curve and a straight to the pointer.";
  }
  if (isEmpty(plan.tracks)) return "There is no track to give a height yet.";
  if (isEmpty(plan.pins))
    return "Pin the height of the track where it must be met; between pins it takes an even grade.";
  return undefined;
}
