/** Salvage of the room: its outline and ceiling, and openings and obstacles one by one. */
import { isObject } from "./contents.js";
import type { Desk } from "./desk.js";
import { check, replaced } from "./explain.js";
import { overlong, salvageRecords } from "./salvage-records.js";
import { idSchema, obstacleSchema, openingSchema, type Room, roomSchema } from "./schema.js";

export function salvageRoom(found: unknown, desk: Desk, standIn: Room): unknown {
  if (!isObject(found)) {
    desk.setAsideValue(["room"], found, [
      {
        path: [],
        message:
          found === undefined
            ? "it is missing; an empty room stands in"
            : "expected an object; an empty room stands in",
      },
    ]);
    return standIn;
  }
  const { shape } = roomSchema;
  const room: Record<string, unknown> = {};
  const long = overlong(found);
  const outline = long
    ? { ok: false as const, faults: [{ ...long, path: [] }] }
    : check(shape.outline, found["outline"]);
  if (outline.ok) room["outline"] = outline.value;
  else {
    desk.setAsideValue(
      ["room", "outline"],
      found["outline"],
      replaced(outline.faults, "an empty room's walls stand in"),
    );
    room["outline"] = standIn.outline;
  }
  const ceiling = check(shape.ceiling, found["ceiling"]);
  if (ceiling.ok) room["ceiling"] = ceiling.value;
  else {
    desk.setAsideValue(
      ["room", "ceiling"],
      found["ceiling"],
      replaced(ceiling.faults, `${standIn.ceiling} mm stands in`),
    );
    room["ceiling"] = standIn.ceiling;
  }
  room["openings"] = salvageRecords(openingSchema, idSchema, found["openings"], ["room", "openings"], desk);
  room["obstacles"] = salvageRecords(obstacleSchema, idSchema, found["obstacles"], ["room", "obstacles"], desk);
  for (const [key, value] of Object.entries(found)) {
    if (!Object.hasOwn(shape, key)) room[key] = value;
  }
  return room;
}
