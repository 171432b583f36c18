/** How near a line comes to the edge of the benches that carry it: negative where it runs off them. */
import type { PreparedArea } from "../geometry/area-distance.js";
import type { Millimetres } from "../geometry/units.js";
import type { Line } from "../layout/line.js";
import { rememberBeside } from "./remember.js";
import type { Measured } from "./rule.js";

/** Edges are looked for this much farther than would make a place the nearest, so that places after it can be passed over. */
const LOOK_AHEAD: Millimetres = 100;

/**
 * The place of a line with the least distance to an edge. From one place to another the distance changes by no more than
 * the way between them, so places that cannot have less are passed over, and whether a place is on the bench is only
 * asked where an edge may have been crossed since the place before.
 */
export const nearestBenchEdge = rememberBeside((line: Line, bench: PreparedArea): Measured | undefined => {
  const { count, s: stations, x, y } = line.samples;
  let least = Number.POSITIVE_INFINITY;
  let at = -1;
  let sure = Number.NEGATIVE_INFINITY;
  let inside = true;
  let sameSide = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < count; i++) {
    const s = stations[i] ?? 0;
    if (s < sure) continue;
    const p = { x: x[i] ?? 0, y: y[i] ?? 0 };
    if (s >= sameSide) inside = bench.contains(p);
    const within = inside ? Math.max(least, 0) + LOOK_AHEAD : Number.POSITIVE_INFINITY;
    const distance = bench.nearestEdge(p, within)?.distance ?? within;
    sameSide = s + distance;
    const value = inside ? distance : -distance;
    if (value < least) [least, at] = [value, i];
    sure = s + value - least;
  }
  if (at < 0) return undefined;
  return { value: least, line, s: stations[at] ?? 0, ...(least < 0 && { note: "off the bench" }) };
});
