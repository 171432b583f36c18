/**
 * The area a bench covers, from the shape its owner gave: an outline with rounded corners, a disc, or a shelf along the
 * walls. What cannot be is named in a trouble, beside the best that can be made of it.
 */
import { fillRing } from "../geometry/areas.js";
import { discRing } from "../geometry/rings.js";
import type { BenchShape } from "../plan/schema.js";
import { outlineArea, type Shaped } from "./bench-shape-outline.js";
import { shelfArea } from "./bench-shape-shelf.js";
import type { RoomWalls } from "./room-walls.js";

export function benchArea(shape: BenchShape, walls: RoomWalls): Shaped {
  if ("outline" in shape) return outlineArea(shape.outline);
  if ("disc" in shape) return { area: fillRing(discRing(shape.disc.centre, shape.disc.radius)) };
  return shelfArea(shape.shelf, walls);
}
