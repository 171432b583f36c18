/**
 * A turn from one lane to another as the search lays it: one eased curve, two of opposite hand with a straight between,
 * or none at all where one lane goes on as the other.
 *
 * Always holds: its points begin on the one lane and end on the other; stations end with its length.
 */
import { makePath, type Path, samplePath } from "../geometry/path.js";
import { straight } from "../geometry/segment.js";
import { easedTurn, type Hand } from "../geometry/turn.js";
import type { Millimetres, Radians } from "../geometry/units.js";
import { clearAlong, type Ground } from "./ground.js";
import { type Lane, runAt } from "./lanes.js";
import type { ClimbLimits } from "./limits.js";
import type { TurnShape } from "./turn-shape.js";

/** Chords of the points of a turn stay within this of it; edges and gaps are held to it besides, mm. */
const SAGITTA: Millimetres = 0.4;
const LONGEST_CHORD: Millimetres = 60;

export interface TurnPart {
  /** Straight before the curve. */
  readonly straight: Millimetres;
  readonly hand: Hand;
  readonly shape: TurnShape;
}

export interface LaneTurn {
  readonly index: number;
  readonly from: Lane;
  readonly to: Lane;
  readonly fromRun: number;
  readonly toRun: number;
  readonly parts: readonly TurnPart[];
  readonly length: Millimetres;
  /** All turning, whichever way. */
  readonly angle: Radians;
  /** Where it leaves the one lane and comes to the other. */
  readonly leaves: Millimetres;
  readonly arrives: Millimetres;
  /** x, y in turn. */
  readonly points: Float64Array;
  /** Distance along the turn of every point. */
  readonly stations: Float64Array;
  /** minX, minY, maxX, maxY. */
  readonly box: Float64Array;
}

/** Undefined where it leaves a clear stretch, or comes too near an edge or a wall on its way. */
export function layTurn(
  index: number,
  from: Lane,
  to: Lane,
  parts: readonly TurnPart[],
  leaves: Millimetres,
  arrives: Millimetres,
  ground: Ground,
  limits: ClimbLimits,
): LaneTurn | undefined {
  const fromRun = runAt(from, leaves);
  if (fromRun < 0) return undefined;
  const toRun = runAt(to, arrives);
  if (toRun < 0) return undefined;
  const path = pathOf(from, leaves, parts);
  const samples = samplePath(path, SAGITTA, LONGEST_CHORD);
  const points = new Float64Array(2 * samples.length);
  samples.forEach(({ x, y }, i) => points.set([x, y], 2 * i));
  if (parts.length > 0 && !clear(points, path.length, ground, limits)) return undefined;
  return {
    index,
    from,
    to,
    fromRun,
    toRun,
    parts,
    length: path.length,
    angle: parts.reduce((sum, { shape }) => sum + shape.angle, 0),
    leaves,
    arrives,
    points,
    stations: stationsOf(points, path.length),
    box: boxOf(points),
  };
}

function pathOf({ x, y, ux, uy, heading }: Lane, leaves: Millimetres, parts: readonly TurnPart[]): Path {
  const segments = parts.flatMap(({ straight: before, hand, shape: { radius, angle, easement } }) => [
    straight(before),
    ...easedTurn({ radius, angle, hand, easeIn: easement, easeOut: easement }),
  ]);
  return makePath({ x: x + leaves * ux, y: y + leaves * uy, heading }, segments);
}

/** The middle and the quarters first, where a turn that does not fit mostly shows it. */
function clear(points: Float64Array, length: Millimetres, ground: Ground, { throws, easement }: ClimbLimits): boolean {
  const count = points.length / 2;
  for (const share of [0.5, 0.25, 0.75]) {
    const i = 2 * Math.floor(share * (count - 1));
    if (ground.spare(at(points, i), at(points, i + 1), throws) < SAGITTA) return false;
  }
  const step = length / (count - 1);
  return clearAlong(
    (s) => {
      const i = Math.min(count - 2, Math.floor(s / step));
      const t = s / step - i;
      const x = at(points, 2 * i) * (1 - t) + at(points, 2 * i + 2) * t;
      const y = at(points, 2 * i + 1) * (1 - t) + at(points, 2 * i + 3) * t;
      // Near its ends it is hardly curved yet, and cars hang over less.
      const end = Math.min(s, length - s);
      return ground.spare(x, y, end < easement / 2 ? throws / 2 : throws) - SAGITTA;
    },
    0,
    length,
  );
}

function stationsOf(points: Float64Array, length: Millimetres): Float64Array {
  const count = points.length / 2;
  const stations = new Float64Array(count);
  let along = 0;
  for (let i = 1; i < count; i++) {
    along += Math.hypot(at(points, 2 * i) - at(points, 2 * i - 2), at(points, 2 * i + 1) - at(points, 2 * i - 1));
    stations[i] = along;
  }
  // Chords are a little shorter than the turn.
  for (let i = 1; i < count; i++) stations[i] = (at(stations, i) * length) / along;
  return stations;
}

function boxOf(points: Float64Array): Float64Array {
  const box = Float64Array.of(Infinity, Infinity, -Infinity, -Infinity);
  for (let i = 0; i < points.length; i += 2) {
    box[0] = Math.min(at(box, 0), at(points, i));
    box[1] = Math.min(at(box, 1), at(points, i + 1));
    box[2] = Math.max(at(box, 2), at(points, i));
    box[3] = Math.max(at(box, 3), at(points, i + 1));
  }
  return box;
}

const at = (values: Float64Array, i: number): number => values[i] as number;
