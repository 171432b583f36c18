/** Plane areas with straight edges: rings of points, outer rings anticlockwise, holes clockwise. */
import type { Point } from "./pose.js";

export type Ring = readonly Point[];
export type Area = readonly Ring[];
