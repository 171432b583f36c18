/** How near a line comes to the edge of the benches that carry it: negative where it runs off them. */
import type { PreparedArea } from "../geometry/area-distance.js";
import type { Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { Line } from "../layout/line.js";
import { LONGEST_STEP } from "../layout/samples.js";
import { rememberBeside } from "./remember.js";
import type { Measured } from "./rule.js";

/** Edges are looked for this much farther than would make a place the nearest, so that places after it can be passed over. */
const LOOK_AHEAD: Millimetres = 100;

/**
 * The place of a line with the least distance to an edge. From one place to another the distance changes by no more than
 * the way between them, so places that cannot have less are passed over, and a line only leaves a bench near an edge.
 */
export const nearestBenchEdge = rememberBeside((line: Line, bench: PreparedArea): Measured | undefined => {
  const { count, s: stations, x, y } = line.samples;
  let least = Number.POSITIVE_INFINITY;
  let at = -1;
  let sure = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < count; i++) {
    const s = stations[i] ?? 0;
    if (s < sure) continue;
    const p = { x: x[i] ?? 0, y: y[i] ?? 0 };
    const within = Math.max(least, LONGEST_STEP) + LOOK_AHEAD;
    const value = distanceWithin(bench, p, within);
    if (value < least) [least, at] = [value, i];
    sure = s + value - least;
  }
  if (at < 0) return undefined;
  return { value: least, line, s: stations[at] ?? 0, ...(least < 0 && { note: "off the bench" }) };
});

/** Signed distance to the nearest edge, or `within` for a place inside that is farther from all of them. */
function distanceWithin(bench: PreparedArea, p: Point, within: Millimetres): Millimetres {
  const place = bench.nearestEdge(p, within);
  const inside = bench.contains(p);
  if (place) return inside ? place.distance : -place.distance;
  return inside ? within : bench.distanceToEdge(p);
}
