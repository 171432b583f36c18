/**
 * Points along eased turns, close enough for edges and gaps to be held to their chords. A search lays tens of thousands
 * of turns of a few shapes: the spiral of a radius is worked out once, and its mirror image leads out.
 *
 * Always holds: points lie on the turn, their stations are distances along it, and no chord is farther from it than
 * `SAGITTA`.
 */
import { segmentPose } from "../geometry/segment.js";
import { easedTurn } from "../geometry/turn.js";
import type { Millimetres } from "../geometry/units.js";
import { extentOf, rememberShapes, type TurnShape } from "./turn-shape.js";

/** Chords of the points of a turn stay within this of it; edges and gaps are held to it besides, mm. */
export const SAGITTA: Millimetres = 0.4;
const LONGEST_CHORD: Millimetres = 60;

export interface TurnPoints {
  /** x, y in turn, of a left turn that begins at the origin along the first axis. */
  readonly points: Float64Array;
  /** Distance along the turn of every point. */
  readonly stations: Float64Array;
}

/** A chord this long of a curve of that radius is off it by the sagitta. */
const chordOn = (radius: Millimetres): Millimetres => Math.min(LONGEST_CHORD, Math.sqrt(8 * SAGITTA * radius));

/** Points of the spiral of a full easement, first and last among them. */
const spiralOf = rememberShapes((radius, easement): readonly (readonly [s: number, x: number, y: number])[] => {
  if (easement <= 0) return [[0, 0, 0]];
  const count = Math.ceil(easement / chordOn(radius));
  const segment = { length: easement, k0: 0, k1: 1 / radius };
  return Array.from({ length: count + 1 }, (_, i) => {
    const s = (easement * i) / count;
    const { x, y } = segmentPose(segment, s);
    return [s, x, y] as const;
  });
});

export function turnPoints({ radius, easement, angle, length }: TurnShape): TurnPoints {
  const eased = easement / radius;
  if (angle < eased) return shortTurn(radius, easement, angle, length);
  const spiral = spiralOf(radius, easement);
  const { shift, advance } = extentOf(radius, easement);
  const arc = radius * (angle - eased);
  const steps = Math.max(1, Math.ceil(arc / chordOn(radius)));
  const count = 2 * spiral.length + steps - 1;
  const points = new Float64Array(2 * count);
  const stations = new Float64Array(count);
  let n = 0;
  const put = (s: number, x: number, y: number): void => {
    points[2 * n] = x;
    points[2 * n + 1] = y;
    stations[n++] = s;
  };
  for (const [s, x, y] of spiral) put(s, x, y);
  for (let i = 1; i < steps; i++) {
    const turned = eased / 2 + ((angle - eased) * i) / steps;
    put(
      easement + (arc * i) / steps,
      advance + radius * Math.sin(turned),
      shift + 2 * radius * Math.sin(turned / 2) ** 2,
    );
  }
  // The way out is the way in seen in the line that halves the turn.
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  for (let i = spiral.length - 1; i >= 0; i--) {
    const [s, x, y] = spiral[i] ?? [0, 0, 0];
    const u = advance - x;
    const v = y - radius - shift;
    put(length - s, advance + u * cos - v * sin, radius + shift + u * sin + v * cos);
  }
  return { points, stations };
}

/** Two spirals that meet before the radius is reached. */
function shortTurn(radius: Millimetres, easement: Millimetres, angle: number, length: Millimetres): TurnPoints {
  const [spiral] = easedTurn({ radius, angle, hand: "left", easeIn: easement, easeOut: easement });
  const half = length / 2;
  const steps = Math.max(2, Math.ceil(half / chordOn(radius)));
  const points = new Float64Array(2 * (2 * steps + 1));
  const stations = new Float64Array(2 * steps + 1);
  if (!spiral) return { points, stations };
  const middle = segmentPose(spiral, half);
  // Seen from the middle, along the tangent there.
  const [cos, sin] = [Math.cos(middle.heading), Math.sin(middle.heading)];
  for (let i = 0; i <= steps; i++) {
    const s = (half * i) / steps;
    const { x, y } = segmentPose(spiral, s);
    points.set([x, y], 2 * i);
    stations[i] = s;
    const u = (x - middle.x) * cos + (y - middle.y) * sin;
    const v = (y - middle.y) * cos - (x - middle.x) * sin;
    const j = 2 * steps - i;
    points.set([middle.x - u * cos - v * sin, middle.y - u * sin + v * cos], 2 * j);
    stations[j] = length - s;
  }
  return { points, stations };
}
