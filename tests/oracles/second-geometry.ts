/** A second geometry library (jsts 2.12.1, a port of the JTS Topology Suite) behind our own shapes, to check against. */
import WKTReader from "jsts/org/locationtech/jts/io/WKTReader.js";
import BufferOp from "jsts/org/locationtech/jts/operation/buffer/BufferOp.js";
import DistanceOp from "jsts/org/locationtech/jts/operation/distance/DistanceOp.js";
import OverlayOp from "jsts/org/locationtech/jts/operation/overlay/OverlayOp.js";
import RelateOp from "jsts/org/locationtech/jts/operation/relate/RelateOp.js";
import type { Ring } from "../../src/geometry/areas.js";
import type { Point } from "../../src/geometry/pose.js";

export interface Geometry {
  getArea(): number;
  getBoundary(): Geometry;
  isEmpty(): boolean;
}

const reader = new WKTReader();
const corners = (ring: Ring): string => `(${[...ring, ring[0] as Point].map((p) => `${p.x} ${p.y}`).join(", ")})`;

/** A polygon from its outer ring and holes. */
export const polygon = (...rings: readonly Ring[]): Geometry =>
  reader.read(`POLYGON (${rings.map(corners).join(", ")})`);
export const point = (p: Point): Geometry => reader.read(`POINT (${p.x} ${p.y})`);
export const lineThrough = (points: readonly Point[]): Geometry =>
  reader.read(`LINESTRING (${points.map((p) => `${p.x} ${p.y}`).join(", ")})`);

export const union = (a: Geometry, b: Geometry): Geometry => OverlayOp.overlayOp(a, b, OverlayOp.UNION);
export const difference = (a: Geometry, b: Geometry): Geometry => OverlayOp.overlayOp(a, b, OverlayOp.DIFFERENCE);
export const intersection = (a: Geometry, b: Geometry): Geometry => OverlayOp.overlayOp(a, b, OverlayOp.INTERSECTION);
/** Grown or shrunk with round corners of this many chords a quarter circle. */
export const buffer = (g: Geometry, by: number, chords: number): Geometry => BufferOp.bufferOp(g, by, chords);
export const distanceBetween = (a: Geometry, b: Geometry): number => DistanceOp.distance(a, b);
export const contains = (a: Geometry, p: Geometry): boolean => RelateOp.contains(a, p);
