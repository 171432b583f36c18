/**
 * What of a track can be taken by hand: its start and direction, the end of every straight, radius and angle of every
 * curve, the points it leads to, the turnouts and pins on it. Where each is, and the edit of moving it there.
 *
 * Always holds: a handle dragged to where it is, or set to the figure it has, changes nothing but rounding; every edit
 * keeps the legs before it as they are.
 */
import { limitsOf } from "../../plan/class-limits.js";
import { nearestOnPath } from "../../geometry/nearest.js";
import { poseAt } from "../../geometry/path.js";
import { bearing, localPoint, offsetPoint, type Point, type Pose } from "../../geometry/pose.js";
import { easedTurn, turnExtent } from "../../geometry/turn.js";
import { type Degrees, type Millimetres, positiveAngle, toDegrees, toRadians } from "../../geometry/units.js";
import { makePath } from "../../geometry/path.js";
import { amend, type Edit, recordAt, refused } from "../../plan/edit.js";
import { setLeg, setTrack } from "../../plan/track-edits.js";
import { BOUNDS, type Id, type Leg, type Track } from "../../plan/schema.js";
import { legStationsOf } from "../derive.js";
import type { Layout } from "../layout.js";
import { recordsInHand } from "../options.js";

export type HandleKind =
  | "start"
  | "heading"
  | "length"
  | "radius"
  | "angle"
  | "toward"
  | "flex"
  | "beside-start"
  | "beside-end"
  | "turnout"
  | "pin";

export interface Handle {
  readonly kind: HandleKind;
  readonly track: Id;
  /** Leg it belongs to. */
  readonly leg: number;
  /** Control point of a hand-laid curve, from 0; id of a turnout or pin. */
  readonly point?: number;
  readonly id?: Id;
  readonly at: Point;
  readonly name: string;
  /** What a typed number sets. */
  readonly takes?: "length" | "angle";
  readonly value?: number;
}

/** The handle of the direction stands so far behind the start. */
export interface HandleWishes {
  readonly arm: Millimetres;
}

export function handlesOf(layout: Layout, id: Id, { arm }: HandleWishes): Handle[] {
  const track = recordAt(layout.plan, "tracks", id);
  const line = layout.lines.get(`track:${id}`);
  if (!track || !line) return [];
  const { path } = line;
  const handles: Handle[] = [];
  if ("pose" in track.start) {
    const { heading } = track.start.pose;
    handles.push({ kind: "start", track: id, leg: 0, at: at(path.start), name: "start" });
    const back = offsetPoint(path.start, -arm, 0);
    handles.push({ kind: "heading", track: id, leg: 0, at: back, name: "direction", takes: "angle", value: heading });
  }
  const stations = legStationsOf(layout, id);
  track.legs.forEach((leg, index) => {
    const [from, to] = [stations[index], stations[index + 1]];
    if (from === undefined || to === undefined) return;
    const own = { track: id, leg: index };
    const end = at(poseAt(path, to));
    if ("straight" in leg)
      handles.push({ ...own, kind: "length", at: end, name: "length", takes: "length", value: leg.straight });
    else if ("curve" in leg) {
      const middle = at(poseAt(path, (from + to) / 2));
      const { radius, angle } = leg.curve;
      handles.push({ ...own, kind: "radius", at: middle, name: "radius", takes: "length", value: radius });
      handles.push({ ...own, kind: "angle", at: end, name: "angle", takes: "angle", value: angle });
    } else if ("toward" in leg) handles.push({ ...own, kind: "toward", at: at(leg.toward), name: "leads here" });
    else if ("flex" in leg) {
      leg.flex.forEach((p, point) =>
        handles.push({ ...own, kind: "flex", point, at: at(p), name: FLEX_NAMES[point] ?? "" }),
      );
    } else if ("beside" in leg) {
      if (index === 0 && "beside" in track.start)
        handles.push({ ...own, kind: "beside-start", at: at(path.start), name: "begins here" });
      handles.push({ ...own, kind: "beside-end", at: end, name: "ends here" });
    }
  });
  for (const turnout of layout.turnouts.values()) {
    if (turnout.host !== line.key || turnout.hand === "wye") continue;
    const name = layout.plan.turnouts[turnout.id]?.name ?? "turnout";
    const where = { at: at(poseAt(path, turnout.at)), takes: "length", value: turnout.at } as const;
    handles.push({ kind: "turnout", track: id, leg: 0, id: turnout.id, name, ...where });
  }
  for (const [pin, { track: on, at: s }] of recordsInHand(layout.plan, layout.plan.pins)) {
    if (on === id)
      handles.push({
        kind: "pin",
        track: id,
        leg: 0,
        id: pin,
        at: at(poseAt(path, s)),
        name: "height pin",
        takes: "length",
        value: s,
      });
  }
  return handles;
}

const at = ({ x, y }: Point): Point => ({ x, y });
const FLEX_NAMES = ["direction out", "direction in", "leads here"];

/** How a dragged figure is made neat; exact ones are the identity. */
export interface Neat {
  length(mm: Millimetres): Millimetres;
  angle(degrees: Degrees): Degrees;
}

/** A curve turns at least so much, and a straight is at least so long: with less there is nothing to take hold of. */
const LEAST_ANGLE: Degrees = 0.1;
const LEAST_LENGTH: Millimetres = 1;
const LEAST_RADIUS: Millimetres = 10;

/** The handle dragged to a point. Turnouts and pins are slid by their own rules, elsewhere. */
export function dragHandle(layout: Layout, handle: Handle, to: Point, neat: Neat): Edit {
  const track = recordAt(layout.plan, "tracks", handle.track);
  const line = layout.lines.get(`track:${handle.track}`);
  if (!track || !line) return GONE;
  const { kind } = handle;
  if (kind === "start") return moveStart(layout, handle.track, track, { x: neat.length(to.x), y: neat.length(to.y) });
  if (kind === "heading") return setHandle(layout, handle, neat.angle(toDegrees(bearing(to, line.path.start))));
  const leg = track.legs[handle.leg];
  const from = legStationsOf(layout, handle.track)[handle.leg];
  if (!leg || from === undefined) return GONE;
  const pose = poseAt(line.path, from);
  if ("straight" in leg) return setHandle(layout, handle, Math.max(LEAST_LENGTH, neat.length(localPoint(pose, to).x)));
  if ("curve" in leg) {
    const dragged =
      kind === "radius"
        ? neat.length(draggedRadius(layout, track, leg, pose, to))
        : neat.angle(draggedAngle(layout, track, leg, pose, to));
    return setHandle(layout, handle, dragged);
  }
  if ("toward" in leg)
    return setLeg(layout.plan, handle.track, handle.leg, { ...leg, toward: { ...leg.toward, ...at(to) } });
  if ("flex" in leg) {
    const [a, b, c] = leg.flex;
    const put = (index: number, p: Point): Point => (handle.point === index ? at(to) : p);
    // The last handle goes along with the end it belongs to.
    const by = handle.point === 2 ? { x: to.x - c.x, y: to.y - c.y } : { x: 0, y: 0 };
    const second = put(1, { x: b.x + by.x, y: b.y + by.y });
    return setLeg(layout.plan, handle.track, handle.leg, { ...leg, flex: [put(0, a), second, put(2, c)] });
  }
  if ("beside" in leg) return dragBeside(layout, handle, track, leg, to, neat);
  return GONE;
}

const GONE: Edit = refused("that is no longer there");

function moveStart(layout: Layout, id: Id, track: Track, to: Point): Edit {
  if (!("pose" in track.start)) return GONE;
  const pose = { ...track.start.pose, ...to };
  return setTrack(layout.plan, id, { start: { ...track.start, pose } });
}

/** The handle's figure, exactly: mm or degrees. */
export function setHandle(layout: Layout, handle: Handle, value: number): Edit {
  const track = recordAt(layout.plan, "tracks", handle.track);
  const leg = track?.legs[handle.leg];
  if (!track) return GONE;
  if (handle.kind === "heading" && "pose" in track.start) {
    const pose = { ...track.start.pose, heading: value };
    return setTrack(layout.plan, handle.track, { start: { ...track.start, pose } });
  }
  const put = (next: Leg): Edit => setLeg(layout.plan, handle.track, handle.leg, next);
  if (handle.kind === "length" && leg && "straight" in leg) {
    return value > 0 ? put({ ...leg, straight: value }) : refused("a straight has a length");
  }
  if (!leg || !("curve" in leg)) return GONE;
  if (handle.kind === "radius") {
    return value > 0 ? put({ ...leg, curve: { ...leg.curve, radius: value } }) : refused("a curve has a radius");
  }
  // A negative angle bends the other way.
  if (value === 0) return refused("a curve turns by some angle");
  const hand = value < 0 ? (leg.curve.hand === "left" ? "right" : "left") : leg.curve.hand;
  return put({ ...leg, curve: { ...leg.curve, angle: Math.abs(value), hand } });
}

type CurveLeg = Extract<Leg, { readonly curve: unknown }>;

function easementsOf(layout: Layout, track: Track, { curve }: CurveLeg): { in: Millimetres; out: Millimetres } {
  const easement = curve.easement ?? limitsOf(layout.plan, track.class).easement.value;
  return typeof easement === "number" ? { in: easement, out: easement } : easement;
}

/** The pointer in the curve's own frame, as if it bent to the left. */
function besideStart({ curve }: CurveLeg, pose: Pose, to: Point): Point {
  const seen = localPoint(pose, to);
  return { x: seen.x, y: curve.hand === "left" ? seen.y : -seen.y };
}

/** Rounds of bringing the middle of the curve under the pointer; each leaves a small part of what was missing. */
const RADIUS_ROUNDS = 12;

/** The radius whose curve, of the same angle, passes nearest the pointer with its middle. */
function draggedRadius(layout: Layout, track: Track, leg: CurveLeg, pose: Pose, to: Point): Millimetres {
  const p = besideStart(leg, pose, to);
  const { in: easeIn, out: easeOut } = easementsOf(layout, track, leg);
  const angle = toRadians(leg.curve.angle);
  let { radius } = leg.curve;
  for (let i = 0; i < RADIUS_ROUNDS; i++) {
    const path = makePath({ x: 0, y: 0, heading: 0 }, easedTurn({ radius, angle, hand: "left", easeIn, easeOut }));
    const middle = poseAt(path, path.length / 2);
    const size = middle.x * middle.x + middle.y * middle.y;
    if (!(size > 0)) break;
    const ratio = (p.x * middle.x + p.y * middle.y) / size;
    radius = Math.min(BOUNDS.radius, Math.max(LEAST_RADIUS, radius * Math.min(2, Math.max(0.5, ratio))));
  }
  return radius;
}

/** The angle at which the curve ends abreast of the pointer, of all full turns the one nearest to what it has. */
function draggedAngle(layout: Layout, track: Track, leg: CurveLeg, pose: Pose, to: Point): Degrees {
  const p = besideStart(leg, pose, to);
  const { radius, angle } = leg.curve;
  const { in: easeIn, out: easeOut } = easementsOf(layout, track, leg);
  const [start, end] = [turnExtent(radius, easeIn), turnExtent(radius, easeOut)];
  // Seen from the curve's centre the easement out ends so much beyond the angle turned.
  const round = positiveAngle(Math.atan2(p.x - start.advance, radius + start.shift - p.y));
  const turned = toDegrees(round - Math.atan(end.advance / (radius + end.shift)));
  const turns = Math.round((angle - turned) / 360);
  const nearest = turned + 360 * turns;
  return Math.min(
    BOUNDS.angle,
    Math.max(LEAST_ANGLE, nearest > 0 ? nearest : nearest < -180 ? nearest + 360 : LEAST_ANGLE),
  );
}

function dragBeside(
  layout: Layout,
  handle: Handle,
  track: Track,
  leg: Extract<Leg, { readonly beside: unknown }>,
  to: Point,
  neat: Neat,
): Edit {
  const host = layout.lines.get(`track:${leg.beside.track}`);
  if (!host) return GONE;
  const { length } = host.path;
  const s = Math.min(length, Math.max(0, neat.length(nearestOnPath(host.path, to).s)));
  const { from = 0, to: end = length } = leg.beside;
  const [begin, finish] = handle.kind === "beside-start" ? [s, end] : [from, s];
  if (Math.abs(begin - finish) < LEAST_LENGTH) return refused("a track beside another has a length");
  const next: Leg = { ...leg, beside: { ...leg.beside, from: begin, to: finish } };
  const legs = track.legs.with(handle.leg, next);
  if (handle.leg > 0 || !("beside" in track.start)) return setTrack(layout.plan, handle.track, { legs });
  const against = begin > finish ? true : undefined;
  const start = { ...track.start, beside: amend(track.start.beside, { at: begin, against }) };
  return setTrack(layout.plan, handle.track, { start, legs });
}
