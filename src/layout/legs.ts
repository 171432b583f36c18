/** Laying one leg: from the pose a track has reached to the segments that carry it on. */
import { type BesideFailure, besidePose, pathBeside } from "../geometry/beside.js";
import { flexPath } from "../geometry/flex.js";
import { joinPoses } from "../geometry/join.js";
import { localPoint, type Pose, samePose as nearPose } from "../geometry/pose.js";
import { type Segment, straight } from "../geometry/segment.js";
import { towardPoint } from "../geometry/toward.js";
import { easedTurn } from "../geometry/turn.js";
import { type Millimetres, toRadians, wrapAngle } from "../geometry/units.js";
import type { Leg } from "../plan/schema.js";
import type { LegInput } from "./growing-track.js";
import { samePath, samePose } from "./make-line.js";
import { fail, found, type Outcome } from "./outcome.js";

/** Track is joined where it meets to within this: no eye or wheel finds the joint. */
const JOINED_MM = 0.01;
const JOINED_RAD = 1e-4;

export function layLeg(input: LegInput): Outcome<readonly Segment[]> {
  const { leg, from } = input;
  if ("straight" in leg) return found([straight(leg.straight)]);
  if ("curve" in leg) {
    const { radius, angle, hand, easement = input.easement } = leg.curve;
    const { in: easeIn, out: easeOut } = typeof easement === "number" ? { in: easement, out: easement } : easement;
    return found(easedTurn({ radius, angle: toRadians(angle), hand, easeIn, easeOut }));
  }
  if ("toward" in leg) {
    const { x, y, radius, easement = input.easement } = leg.toward;
    const path = towardPoint(from, { x, y }, { radius, easement });
    return path ? found(path.segments) : fail("leg-unsolved", `no curve of radius ${radius} mm leads there`, { x, y });
  }
  if ("join" in leg) return layJoin(input, leg.join);
  if ("beside" in leg) return layBeside(input, leg.beside);
  const [c1, c2, end] = leg.flex;
  const path = flexPath(from, c1, c2, end);
  return path ? found(path.segments) : fail("leg-unsolved", "the hand-laid curve has a cusp or no length", end);
}

type LegOf<K extends string> = Extract<LegInput["leg"], Readonly<Record<K, unknown>>>;

function layJoin({ from, goal, easement }: LegInput, join: LegOf<"join">["join"]): Outcome<readonly Segment[]> {
  if (!goal) return fail("anchor-missing", "leads nowhere");
  const ahead = localPoint(from, goal);
  const aligned = Math.abs(ahead.y) <= JOINED_MM && Math.abs(wrapAngle(goal.heading - from.heading)) <= JOINED_RAD;
  // Ends in line to within the width of a pencil mark are joined by a straight, not by a curve and its reverse.
  if (aligned && ahead.x >= -JOINED_MM && join.family === undefined) return found([straight(Math.max(0, ahead.x))]);
  const path = joinPoses(from, goal, {
    radius: join.radius,
    easement: join.easement ?? easement,
    ...(join.straight !== undefined && { straight: join.straight }),
    ...(join.family !== undefined && { family: join.family }),
  });
  if (path) return found(path.segments);
  const shape = join.family === undefined ? "way" : `${join.family} way`;
  return fail("leg-unsolved", `no ${shape} of radius ${join.radius} mm joins the two ends`, goal);
}

const BESIDE_FAULT: Readonly<Record<BesideFailure["failed"], string>> = {
  "not-finite": "a figure is missing",
  "off-path": "that track is not so long",
  "no-length": "it begins where it ends",
  "radius-vanishes": "a curve is too sharp to have a track inside it",
  unsolved: "no parallel was found",
};

function layBeside({ from, host, easement }: LegInput, beside: LegOf<"beside">["beside"]): Outcome<readonly Segment[]> {
  if (!host) return fail("anchor-missing", "runs beside nothing");
  const sign = beside.side === "left" ? 1 : -1;
  const begin = beside.from ?? 0;
  const end = beside.to ?? host.length;
  const start = besidePose(host, begin, sign * beside.spacing, begin > end);
  if (!nearPose(start, from, JOINED_MM, JOINED_RAD)) {
    return fail("beside-gap", `does not begin where the track is; it begins beside ${beside.track}`, start);
  }
  const path = pathBeside(host, {
    from: begin,
    to: end,
    left: sign * beside.spacing,
    easement,
    ...(beside.curveSpacing !== undefined && { curveLeft: sign * beside.curveSpacing }),
  });
  if ("segments" in path) return found(path.segments);
  return fail(
    "leg-unsolved",
    `cannot run beside ${beside.track} at ${beside.spacing} mm: ${BESIDE_FAULT[path.failed]}`,
    start,
  );
}

/** Whether a leg would be laid just as before. A plain leg turns with its track, so where it begins does not matter. */
export function sameInput(a: LegInput, b: LegInput): boolean {
  if (a.leg !== b.leg || a.easement !== b.easement) return false;
  if ("straight" in a.leg || "curve" in a.leg) return true;
  const sameHost = a.host === b.host || (!!a.host && !!b.host && samePath(a.host, b.host));
  const sameGoal = a.goal === b.goal || (!!a.goal && !!b.goal && samePose(a.goal, b.goal));
  return sameHost && sameGoal && samePose(a.from, b.from);
}

/** Whether a leg that depends on no other track would be laid just as before, from the very same pose. */
export const samePlain = (before: LegInput, leg: Leg, from: Pose, easement: Millimetres): boolean =>
  before.leg === leg && !before.goal && !before.host && before.easement === easement && samePose(before.from, from);
