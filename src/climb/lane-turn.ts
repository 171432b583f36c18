/**
 * A turn from one lane to another as the search lays it: one eased curve, two of opposite hand with a straight between,
 * or none at all where one lane goes on as the other.
 *
 * Always holds: its points begin on the one lane and end on the other; stations end with its length.
 */
import type { Hand } from "../geometry/turn.js";
import type { Millimetres, Radians } from "../geometry/units.js";
import { clearAlong, type Ground } from "./ground.js";
import { type Lane, runAt } from "./lanes.js";
import type { ClimbLimits } from "./limits.js";
import { SAGITTA, turnPoints } from "./turn-points.js";
import { extentOf, type TurnShape } from "./turn-shape.js";

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

/** Undefined where it leaves a clear stretch, or comes too near an edge or a wall on its way; the ground is left out where it is known to be clear. */
export function layTurn(
  index: number,
  from: Lane,
  to: Lane,
  parts: readonly TurnPart[],
  leaves: Millimetres,
  arrives: Millimetres,
  ground: Ground | undefined,
  limits: ClimbLimits,
): LaneTurn | undefined {
  const fromRun = runAt(from, leaves);
  if (fromRun < 0) return undefined;
  const toRun = runAt(to, arrives);
  if (toRun < 0) return undefined;
  const [first] = parts;
  if (ground && parts.length === 1 && first && !arcClear(from, leaves, first, ground, limits)) return undefined;
  const { points, stations } = pointsOf(from, leaves, parts);
  const length = at(stations, stations.length - 1);
  if (ground && parts.length > 0 && !clear(points, stations, length, ground, limits)) return undefined;
  return {
    index,
    from,
    to,
    fromRun,
    toRun,
    parts,
    length,
    angle: parts.reduce((sum, { shape }) => sum + shape.angle, 0),
    leaves,
    arrives,
    points,
    stations,
    box: boxOf(points),
  };
}

/** Places of an arc looked at before the turn is laid, as shares of its angle. */
const LOOKS = [0.5, 0.2, 0.8, 0.35, 0.65];

/** Whether some places of the arc are clear: most turns that do not fit show it there. */
function arcClear(
  { x, y, ux, uy }: Lane,
  leaves: Millimetres,
  { hand, shape: { radius, easement, angle } }: TurnPart,
  ground: Ground,
  { throws }: ClimbLimits,
): boolean {
  const eased = easement / radius;
  if (angle < eased) return true;
  const { shift, advance } = extentOf(radius, easement);
  const side = hand === "left" ? 1 : -1;
  for (const share of LOOKS) {
    const turned = eased / 2 + (angle - eased) * share;
    const u = leaves + advance + radius * Math.sin(turned);
    const v = side * (shift + radius * (1 - Math.cos(turned)));
    if (ground.spare(x + u * ux - v * uy, y + u * uy + v * ux, throws) < 0) return false;
  }
  return true;
}

function pointsOf(
  { x, y, ux, uy }: Lane,
  leaves: Millimetres,
  parts: readonly TurnPart[],
): Pick<LaneTurn, "points" | "stations"> {
  const laid = parts.map(({ shape }) => turnPoints(shape));
  // Each part begins with a point of its own where a straight leads to it, and the first always.
  const count = laid.reduce(
    (sum, { stations }, i) => sum + stations.length - (i > 0 && parts[i]?.straight === 0 ? 1 : 0),
    0,
  );
  const points = new Float64Array(2 * Math.max(1, count));
  const stations = new Float64Array(Math.max(1, count));
  points.set([x + leaves * ux, y + leaves * uy]);
  let n = 0;
  let along = 0;
  let [px, py, cx, cy] = [x + leaves * ux, y + leaves * uy, ux, uy];
  laid.forEach((turn, i) => {
    const part = parts[i];
    if (!part) return;
    px += part.straight * cx;
    py += part.straight * cy;
    along += part.straight;
    const side = part.hand === "left" ? 1 : -1;
    for (let k = i > 0 && part.straight === 0 ? 1 : 0; k < turn.stations.length; k++) {
      const u = at(turn.points, 2 * k);
      const v = side * at(turn.points, 2 * k + 1);
      points[2 * n] = px + u * cx - v * cy;
      points[2 * n + 1] = py + u * cy + v * cx;
      stations[n++] = along + at(turn.stations, k);
    }
    [px, py] = [at(points, 2 * n - 2), at(points, 2 * n - 1)];
    along += part.shape.length;
    const [cos, sin] = [Math.cos(part.shape.angle), side * Math.sin(part.shape.angle)];
    [cx, cy] = [cx * cos - cy * sin, cx * sin + cy * cos];
  });
  return { points, stations };
}

/** The middle and the quarters first, where a turn that does not fit mostly shows it. */
function clear(
  points: Float64Array,
  stations: Float64Array,
  length: Millimetres,
  ground: Ground,
  { throws, easement }: ClimbLimits,
): boolean {
  const count = stations.length;
  for (const share of [0.5, 0.25, 0.75]) {
    const i = 2 * Math.floor(share * (count - 1));
    if (ground.spare(at(points, i), at(points, i + 1), throws) < SAGITTA) return false;
  }
  let i = 0;
  return clearAlong(
    (s) => {
      while (i < count - 2 && at(stations, i + 1) < s) i++;
      const span = at(stations, i + 1) - at(stations, i);
      const t = span > 0 ? (s - at(stations, i)) / span : 0;
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
