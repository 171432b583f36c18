/**
 * Slips: where two tracks cross, curves that lead from one to the other. Each lies within the crossing, tangent to both
 * tracks, and ends short of its frogs as far as a turnout's lead curve does.
 *
 * Always holds: a route starts on the slip's own track and ends on the one across, tangent to both; a double slip has
 * the routes of both single ones; what is laid from the same tracks as before is the same object as before.
 */
import { biarc } from "../geometry/biarc.js";
import { makePath, type Path, poseAt } from "../geometry/path.js";
import { type Point, type Pose, reversePose } from "../geometry/pose.js";
import { type Millimetres, type Radians, toDegrees, wrapAngle } from "../geometry/units.js";
import type { Id, Side, Slip } from "../plan/schema.js";
import { frogNumber, largestLeadRadius, turnoutDimensions } from "../standards/turnouts.js";
import { pathsCross } from "./crossings.js";
import type { Line, LineKey, LinePlace } from "./line.js";
import { fail, found, type Outcome } from "./outcome.js";

/** Least frog number of a crossing a slip finds room in (common practice, no source). */
export const LEAST_SLIP = 5;
/** Angles typed in degrees to two decimals come out so little short of a whole number. */
const ROUNDED = 0.005;

export interface SlipRoute {
  /** Side of the slip's own track, as it runs, the curve lies on. */
  readonly side: Side;
  readonly line: LineKey;
  /** On the slip's own track, and which way along it the route sets out. */
  readonly start: LinePlace;
  readonly startWay: 1 | -1;
  /** On the track across, and which way along it the route goes on. */
  readonly end: LinePlace;
  readonly endWay: 1 | -1;
}

export interface PlacedSlip {
  readonly id: Id;
  readonly deck: Id;
  readonly kind: Slip["kind"];
  /** Where the tracks cross. */
  readonly on: LinePlace;
  readonly across: LinePlace;
  readonly point: Point;
  readonly angle: Radians;
  /** Frog number of the crossing. */
  readonly number: number;
  /** From the crossing to either end of the slip along the tracks. */
  readonly tangent: Millimetres;
  readonly routes: readonly SlipRoute[];
}

export interface SlipOnTracks {
  readonly placed: PlacedSlip;
  readonly paths: readonly { readonly key: LineKey; readonly path: Path }[];
  /** What it was laid from. */
  readonly slip: Slip;
  readonly on: Line;
  readonly across: Line;
  readonly gauge: Millimetres;
}

export const sameSlip = (before: SlipOnTracks, slip: Slip, on: Line, across: Line, gauge: Millimetres): boolean =>
  before.slip === slip && before.on === on && before.across === across && before.gauge === gauge;

/** The tangents of the curves are those of the lead curve of a turnout of the same number: N G less the frog's toe. */
export function placeSlip(id: Id, slip: Slip, on: Line, across: Line, gauge: Millimetres): Outcome<SlipOnTracks> {
  const [place] = pathsCross(on, across).sort((p, q) => Math.abs(p.sa - slip.at) - Math.abs(q.sa - slip.at));
  if (!place) return fail("slip-unfit", `tracks ${slip.on} and ${slip.across} do not cross`);
  const { sa, sb } = place;
  const pose = poseAt(on.path, sa);
  const turn = wrapAngle(poseAt(across.path, sb).heading - pose.heading);
  const sameWay = Math.abs(turn) <= Math.PI / 2;
  const left = wrapAngle(sameWay ? turn : turn + Math.PI);
  const angle = Math.abs(left);
  const number = frogNumber(angle);
  if (number < LEAST_SLIP - ROUNDED) {
    const crossed = `tracks ${slip.on} and ${slip.across} cross at ${toDegrees(angle).toFixed(1)} degrees`;
    return fail("slip-unfit", `${crossed}, number ${number.toFixed(1)}; a slip wants number ${LEAST_SLIP} or more`);
  }
  const tangent = largestLeadRadius(gauge, number, turnoutDimensions(gauge, number).frogToe) * Math.tan(angle / 2);
  for (const [line, s] of [
    [on, sa],
    [across, sb],
  ] as const) {
    const lacks = Math.max(tangent - s, s + tangent - line.path.length);
    if (lacks > 0) return fail("slip-unfit", `track ${line.id} ends ${lacks.toFixed(1)} mm short of the slip's points`);
  }
  const routes: SlipRoute[] = [];
  const paths: { key: LineKey; path: Path }[] = [];
  for (const way of [1, -1] as const) {
    const side: Side = left > 0 === (way === 1) ? "left" : "right";
    if (slip.kind === "single" && side !== (slip.side ?? "left")) continue;
    const key: LineKey = `slip:${id}:${side}`;
    const endWay = sameWay ? way : way === 1 ? -1 : 1;
    const start = { line: on.key, s: sa - way * tangent };
    const end = { line: across.key, s: sb + endWay * tangent };
    const from = looking(on.path, start.s, way);
    const segments = biarc(from, looking(across.path, end.s, endWay));
    if (!segments) return fail("slip-unfit", `no curve leads from track ${slip.on} to track ${slip.across}`);
    routes.push({ side, line: key, start, startWay: way, end, endWay });
    paths.push({ key, path: makePath(from, segments) });
  }
  const placed: PlacedSlip = {
    id,
    deck: on.deck,
    kind: slip.kind,
    on: { line: on.key, s: sa },
    across: { line: across.key, s: sb },
    point: { x: pose.x, y: pose.y },
    angle,
    number,
    tangent,
    routes,
  };
  return found({ placed, paths, slip, on, across, gauge });
}

function looking(path: Path, s: Millimetres, way: 1 | -1): Pose {
  const pose = poseAt(path, s);
  return way === 1 ? pose : reversePose(pose);
}
