/**
 * The upright box that holds a path.
 * Always holds: every pose of the path lies in the box (1e-9 mm); each side of the box is touched by the path.
 */
import type { Path } from "./path.js";
import { toWorld } from "./pose.js";
import { type Segment, segmentPose } from "./segment.js";
import type { Millimetres, Radians } from "./units.js";

export interface Box {
  readonly minX: Millimetres;
  readonly minY: Millimetres;
  readonly maxX: Millimetres;
  readonly maxY: Millimetres;
}

const QUARTER = Math.PI / 2;

/** Tight box of a path: its ends, segment borders and every place where it heads along an axis. A path without length gives its start. */
export function pathBounds(path: Path): Box {
  let minX = Math.min(path.start.x, path.end.x);
  let maxX = Math.max(path.start.x, path.end.x);
  let minY = Math.min(path.start.y, path.end.y);
  let maxY = Math.max(path.start.y, path.end.y);
  path.segments.forEach((g, i) => {
    const from = path.poses[i];
    if (!from) return;
    for (const s of [0, ...axisStations(g, from.heading)]) {
      const p = toWorld(from, segmentPose(g, s));
      minX = Math.min(minX, p.x);
      maxX = Math.max(maxX, p.x);
      minY = Math.min(minY, p.y);
      maxY = Math.max(maxY, p.y);
    }
  });
  return { minX, minY, maxX, maxY };
}

/** Distances along a segment that starts with `heading` at which it heads along an axis of the sheet. */
function axisStations(g: Segment, heading: Radians): Millimetres[] {
  const found: number[] = [];
  const a = g.k0;
  const b = (g.k1 - g.k0) / g.length;
  const add = (s: number) => {
    if (s > 0 && s < g.length) found.push(s);
  };
  // Turn so far is a s + b s^2 / 2: monotone up to where the curvature vanishes and from there on.
  const crest = b !== 0 && -a / b > 0 && -a / b < g.length ? -a / b : g.length;
  for (const [s0, s1] of crest < g.length ? [[0, crest] as const, [crest, g.length] as const] : [[0, crest] as const]) {
    const t0 = a * s0 + (b * s0 * s0) / 2;
    let t1 = a * s1 + (b * s1 * s1) / 2;
    // A circle repeats itself after one turn.
    if (b === 0) t1 = Math.sign(t1) * Math.min(Math.abs(t1), 2 * Math.PI + QUARTER);
    const low = Math.min(t0, t1) + heading;
    const high = Math.max(t0, t1) + heading;
    for (let n = Math.ceil(low / QUARTER); n * QUARTER <= high; n++) {
      const turn = n * QUARTER - heading;
      const root = Math.sqrt(Math.max(0, a * a + 2 * b * turn));
      // The curvature where that turn is reached, on this side of the crest.
      const k = (s0 === 0 ? a : g.k1) < 0 || (a === 0 && g.k1 < 0) ? -root : root;
      // Of the two forms of the root, the one that does not cancel.
      add(s0 === 0 ? (2 * turn) / (a + k) : (k - a) / b);
    }
  }
  return found;
}
