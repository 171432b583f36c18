/** The little of jsts 2.12.1 (a port of the JTS Topology Suite) that the oracles use; it brings no types of its own. */
declare module "jsts/org/locationtech/jts/io/WKTReader.js" {
  export default class WKTReader {
    read(text: string): import("./second-geometry.js").Geometry;
  }
}
declare module "jsts/org/locationtech/jts/operation/overlay/OverlayOp.js" {
  type Geometry = import("./second-geometry.js").Geometry;
  const OverlayOp: {
    INTERSECTION: number;
    UNION: number;
    DIFFERENCE: number;
    overlayOp(a: Geometry, b: Geometry, operation: number): Geometry;
  };
  export default OverlayOp;
}
declare module "jsts/org/locationtech/jts/operation/buffer/BufferOp.js" {
  type Geometry = import("./second-geometry.js").Geometry;
  type Parameters = import("jsts/org/locationtech/jts/operation/buffer/BufferParameters.js").default;
  const BufferOp: { bufferOp(g: Geometry, by: number, how: number | Parameters): Geometry };
  export default BufferOp;
}
declare module "jsts/org/locationtech/jts/operation/buffer/BufferParameters.js" {
  export default class BufferParameters {
    constructor(quadrantSegments: number);
    setSimplifyFactor(share: number): void;
  }
}
declare module "jsts/org/locationtech/jts/operation/distance/DistanceOp.js" {
  type Geometry = import("./second-geometry.js").Geometry;
  const DistanceOp: { distance(a: Geometry, b: Geometry): number };
  export default DistanceOp;
}
declare module "jsts/org/locationtech/jts/operation/relate/RelateOp.js" {
  type Geometry = import("./second-geometry.js").Geometry;
  const RelateOp: { contains(a: Geometry, b: Geometry): boolean };
  export default RelateOp;
}
