/** A second geometry library (jsts 2.12.1, a port of the JTS Topology Suite) behind our own shapes, to check against. */
import WKTReader from "jsts/org/locationtech/jts/io/WKTReader.js";
import BufferOp from "jsts/org/locationtech/jts/operation/buffer/BufferOp.js";
import BufferParameters from "jsts/org/locationtech/jts/operation/buffer/BufferParameters.js";
import DistanceOp from "jsts/org/locationtech/jts/operation/distance/DistanceOp.js";
import OverlayOp from "jsts/org/locationtech/jts/operation/overlay/OverlayOp.js";
import RelateOp from "jsts/org/locationtech/jts/operation/relate/RelateOp.js";
import type { Ring } from "../../src/geometry/areas.js";
import type { Point } from "../../src/geometry/pose.js";

export interface Geometry {
  getArea(): number;
  getBoundary(): Geometry;
  isEmpty(): boolean;
  getNumGeometries(): number;
  getGeometryN(n: number): Geometry;
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

/** Chords a quarter circle that keep round corners of a metre within 0.1 mm; and no corners left out, as the library does to save time. */
const FINE = new BufferParameters(64);
FINE.setSimplifyFactor(0);

/** Whether a disc of some width can be moved within an area from one point to another: the area shrunk by half of it holds them in one part. */
export function passes(area: readonly Ring[], from: Point, to: Point, width: number): boolean {
  const outers = area.filter((ring) => turnsLeft(ring)).map((ring) => polygon(ring));
  const holes = area.filter((ring) => !turnsLeft(ring));
  return outers
    .map((outer) => holes.reduce((g, hole) => difference(g, polygon(hole)), outer))
    .flatMap((g) => partsOf(BufferOp.bufferOp(g, -width / 2, FINE)))
    .some((part) => contains(part, point(from)) && contains(part, point(to)));
}

const turnsLeft = (ring: Ring): boolean =>
  ring.reduce(
    (sum, p, i) => sum + p.x * (ring[(i + 1) % ring.length]?.y ?? 0) - p.y * (ring[(i + 1) % ring.length]?.x ?? 0),
    0,
  ) > 0;

const partsOf = (g: Geometry): Geometry[] => Array.from({ length: g.getNumGeometries() }, (_, n) => g.getGeometryN(n));
