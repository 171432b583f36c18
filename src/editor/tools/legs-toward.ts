/**
 * The legs that lead from where track has got to toward the pointer: an eased curve and a straight, at a radius, with
 * whatever was typed kept exactly.
 */
import { makePath, type Path } from "../../geometry/path.js";
import { localPoint, type Point, type Pose } from "../../geometry/pose.js";
import { segmentTurn, type Segment } from "../../geometry/segment.js";
import { towardPoint } from "../../geometry/toward.js";
import { type Degrees, type Millimetres, toDegrees } from "../../geometry/units.js";
import { layLeg } from "../../layout/legs.js";
import { isStraight } from "../../layout/relay/plain-legs.js";
import { INCH } from "../../plan/parse-length.js";
import type { Leg, Plan, Side } from "../../plan/schema.js";

/** Turns smaller than this are the pointer's tremble on a straight. */
const NO_TURN: Degrees = 1e-6;

/** What has been typed for the next legs. */
export interface Given {
  readonly length?: Millimetres;
  readonly angle?: Degrees;
}

export interface TowardWishes {
  readonly from: Pose;
  /** Where the pointer is; straight on where there is none. */
  readonly to: Point | undefined;
  readonly radius: Millimetres;
  /** The class's, which a curve takes by itself. */
  readonly easement: Millimetres;
  readonly units: Plan["units"];
  readonly given: Given;
  /** Turns of whole steps, as 15 degrees. */
  readonly turnStep?: Degrees;
}

export type LegsToward =
  | { readonly ok: true; readonly legs: readonly Leg[]; readonly path: Path }
  | { readonly ok: false; readonly limit: "radius" };

/** Lengths that a pointer gives are whole sixteenths of an inch, or millimetres. */
export const lengthStep = (units: Plan["units"]): Millimetres => (units === "imperial" ? INCH / 16 : 1);
export const toStep = (length: Millimetres, units: Plan["units"]): Millimetres =>
  Math.round(length / lengthStep(units)) * lengthStep(units);

export function legsToward(wishes: TowardWishes): LegsToward {
  const { from, to, radius, easement, given, units, turnStep } = wishes;
  const local = to ? localPoint(from, to) : { x: 0, y: 0 };
  const hand: Side = local.y >= 0 ? "left" : "right";
  let angle = given.angle === undefined ? undefined : Math.abs(given.angle);
  let length = given.length;
  if (angle === undefined && to) {
    const toward = towardPoint(from, to, { radius, easement });
    if (!toward) return { ok: false, limit: "radius" };
    angle = turnOf(toward.segments);
    const last = toward.segments.at(-1);
    if (turnStep !== undefined) angle = Math.round(angle / turnStep) * turnStep;
    else length ??= last && isStraight(last) ? last.length : 0;
  }
  const turned = angle ?? 0;
  const side = given.angle !== undefined && given.angle < 0 ? "right" : hand;
  const curve: Leg[] = turned > NO_TURN ? [{ curve: { radius, angle: turned, hand: side } }] : [];
  const turn = layPlain(from, curve, easement);
  // Straight on as far as the pointer lies ahead.
  const ahead = to ? Math.max(0, localPoint(turn.end, to).x) : 0;
  const run = given.length ?? toStep(length ?? ahead, units);
  const legs: Leg[] = run > 0 ? [...curve, { straight: run }] : curve;
  return { ok: true, legs, path: layPlain(from, legs, easement) };
}

const turnOf = (segments: readonly Segment[]): Degrees =>
  toDegrees(Math.abs(segments.reduce((sum, g) => sum + segmentTurn(g), 0)));

/** Straights and curves laid from a pose; a leg that leads to something else ends what is laid. */
export function layPlain(from: Pose, legs: readonly Leg[], easement: Millimetres): Path {
  const segments: Segment[] = [];
  for (const leg of legs) {
    if (!("straight" in leg || "curve" in leg)) break;
    const laid = layLeg({ leg, from, easement });
    if (laid.ok) segments.push(...laid.value);
  }
  return makePath(from, segments);
}
