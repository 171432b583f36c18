/** The library's front door: everything a program needs to go from a plan file to its layout, readings and drawings. */
export { type Path, poseAt } from "../geometry/path.js";
export type { Point, Pose } from "../geometry/pose.js";
export type { Layout } from "../layout/layout.js";
export type { Plan } from "../plan/schema.js";
export type { Reading } from "../readings/reading.js";
