/** Where the openings of a room lie on their walls, and what its doors sweep. Always holds: what follows the walls follows them whichever way round they were drawn. */
import { bearing, distance, offsetPoint, type Point, type Pose } from "../geometry/pose.js";
import { signedSize } from "../geometry/areas.js";
import type { Opening, Room } from "../plan/schema.js";

/** +1 where the outside of the room lies to the left of its walls as they were written, else -1. */
export const outsideOf = (room: Room): 1 | -1 => (signedSize(room.outline) < 0 ? 1 : -1);

/** Pose at the near side of an opening, looking along its wall. Undefined where there is no such wall. */
export function openingPose(room: Room, opening: Opening): Pose | undefined {
  const from = room.outline[opening.wall];
  const to = room.outline[(opening.wall + 1) % room.outline.length];
  if (!from || !to || distance(from, to) === 0) return undefined;
  const heading = bearing(from, to);
  return { ...offsetPoint({ ...from, heading }, opening.at, 0), heading };
}

export interface Swing {
  readonly hinge: Point;
  readonly open: Point;
  readonly shut: Point;
  /** Whether the leaf closes clockwise on the paper. */
  readonly clockwise: boolean;
}

export function doorSwing(room: Room, opening: Opening): Swing | undefined {
  const pose = openingPose(room, opening);
  if (!pose || !opening.swing) return undefined;
  const outward = outsideOf(room);
  const side = opening.swing.into === "room" ? -outward : outward;
  const near = opening.swing.hinge === "near";
  const hinge = offsetPoint(pose, near ? 0 : opening.width, 0);
  const shut = offsetPoint(pose, near ? opening.width : 0, 0);
  const open = offsetPoint({ ...hinge, heading: pose.heading }, 0, side * opening.width);
  return { hinge, open, shut, clockwise: near === side > 0 };
}
