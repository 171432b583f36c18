/**
 * A path as lines, arcs and polylines: straights and circular curves exactly, easements as chords.
 *
 * Always holds: no place of the path, offset to the left as asked, is farther than `STRAY` from what is drawn, and none
 * of what is drawn is farther than that from it.
 */
import { type Path, poseAt } from "../../geometry/path.js";
import { offsetPoint, type Pose } from "../../geometry/pose.js";
import type { Segment } from "../../geometry/segment.js";
import { type Millimetres, toDegrees } from "../../geometry/units.js";
import type { DxfFile } from "./tags.js";

/** Finer than any machine cuts wood. */
export const STRAY: Millimetres = 0.01;
/** The chords themselves: the rest is left to the rounding of figures, and to rails being bent more sharply than the centre line. */
const SAGITTA = STRAY / 2;
/** Rounded figures place an arc of a larger radius no better than chords do. */
const LARGEST_RADIUS: Millimetres = 1e6;
/** A curve that strays less than this from its chord is one, mm. */
const NO_SAGITTA: Millimetres = 1e-4;

/** Draws a path, or what runs `left` of it: a rail. */
export function drawPath(dxf: DxfFile, layer: string, path: Path, left: Millimetres = 0): void {
  path.segments.forEach((segment, i) => {
    const from = path.poses[i] ?? path.start;
    const begin = path.stations[i] ?? 0;
    const k = Math.max(Math.abs(segment.k0), Math.abs(segment.k1));
    const at = (s: Millimetres) => offsetPoint(poseAt(path, begin + s), 0, left);
    if ((k * segment.length ** 2) / 8 < NO_SAGITTA) dxf.line(layer, at(0), at(segment.length));
    else if (segment.k0 === segment.k1 && 1 / k < LARGEST_RADIUS) drawArc(dxf, layer, segment, from, left);
    else {
      // Offset to its inside a curve is sharper: 1 / (R - left).
      const room = Math.max(0.1, 1 - k * Math.abs(left));
      const step = Math.sqrt((8 * SAGITTA * room) / k);
      const pieces = Math.ceil(segment.length / step);
      const points = Array.from({ length: pieces + 1 }, (_, j) => at((segment.length * j) / pieces));
      dxf.polyline(layer, points);
    }
  });
}

/** Full turns, as of a helix, are drawn once round; halves at most, so that no two angles of an arc are alike. */
function drawArc(dxf: DxfFile, layer: string, { k0: k, length }: Segment, from: Pose, left: Millimetres): void {
  const centre = offsetPoint(from, 0, 1 / k);
  const radius = Math.abs(1 / k - left);
  if (radius < NO_SAGITTA) return;
  // A rail laid inside so sharp a curve that it passes the centre runs on the other side of it.
  const outward = from.heading + (1 / k - left > 0 ? -1 : 1) * (Math.PI / 2);
  const turn = Math.min(Math.abs(k) * length, 2 * Math.PI);
  const pieces = Math.ceil(turn / Math.PI);
  for (let j = 0; j < pieces; j++) {
    const a = outward + (Math.sign(k) * turn * j) / pieces;
    const b = outward + (Math.sign(k) * turn * (j + 1)) / pieces;
    dxf.arc(layer, centre, radius, whole(toDegrees(k > 0 ? a : b)), whole(toDegrees(k > 0 ? b : a)));
  }
}

/** Within [0, 360). */
const whole = (degrees: number): number => ((degrees % 360) + 360) % 360;
