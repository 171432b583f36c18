/**
 * Lines across the ground that follow no edge: common tangents of circles on which a climb may turn, of which one at
 * least can turn it back. A balloon at the end of a narrow neck is reached and left on them.
 */
import type { Pose } from "../geometry/pose.js";
import type { Millimetres, Radians } from "../geometry/units.js";
import { clearAlong, type Ground } from "./ground.js";
import type { LaneTurn } from "./lane-turn.js";
import type { Lane } from "./lanes.js";
import type { ClimbLimits } from "./limits.js";
import { swings } from "./swings.js";
import { extentOf } from "./turn-shape.js";
import { TURNS_BACK, turnbackSites } from "./turnback-sites.js";

/** Circles nearer than this are one. */
const SAME_CIRCLE: Millimetres = 300;
const MOST_CIRCLES = 40;
/** Turns this gentle have no circle worth a tangent of its own. */
const LEAST_ANGLE: Radians = 1;
const WIDEST = 1.35;
const SHORTEST: Millimetres = 250;
/** Tangents this near one another are one. */
const SAME_HEADING: Radians = 0.07;
const SAME_LINE: Millimetres = 70;
const MOST_LINES = 30;
const MOST_SWINGS = 16;

interface Circle {
  readonly x: Millimetres;
  readonly y: Millimetres;
  readonly radius: Millimetres;
  readonly back: boolean;
}

/** Poses on the lines: the longest tangents of circles, and the gentlest swings from lanes onto them. */
export function diagonals(
  lanes: readonly Lane[],
  turns: readonly LaneTurn[],
  ground: Ground,
  limits: ClimbLimits,
): Pose[] {
  const circles = circlesOf(turns, ground, limits);
  const lines: { readonly pose: Pose; readonly length: Millimetres }[] = [];
  circles.forEach((a, i) => {
    for (const b of circles.slice(i + 1)) {
      if (!a.back && !b.back) continue;
      for (const handA of [1, -1]) for (const handB of [1, -1]) addTangent(lines, a, handA, b, handB, ground, limits);
    }
  });
  const kept: Pose[] = [];
  for (const { pose } of lines.sort((a, b) => b.length - a.length || a.pose.x - b.pose.x || a.pose.y - b.pose.y)) {
    if (kept.length >= MOST_LINES) break;
    if (!kept.some((other) => sameLine(other, pose))) kept.push(pose);
  }
  const sites = circles.filter(({ back }) => back);
  const most = kept.length + MOST_SWINGS;
  for (const pose of swings(lanes, sites, ground, limits)) {
    if (kept.length >= most) break;
    if (!kept.some((other) => sameLine(other, pose))) kept.push(pose);
  }
  return kept;
}

/** The line that leaves one circle turning one way and comes to the other turning one way, where it is clear between. */
function addTangent(
  lines: { pose: Pose; length: Millimetres }[],
  a: Circle,
  handA: number,
  b: Circle,
  handB: number,
  ground: Ground,
  limits: ClimbLimits,
): void {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const apart = Math.hypot(dx, dy);
  const extentA = extentOf(a.radius, limits.easement);
  const extentB = extentOf(b.radius, limits.easement);
  const offA = handA * (a.radius + extentA.shift);
  const sine = (handB * (b.radius + extentB.shift) - offA) / apart;
  if (!(Math.abs(sine) < 1)) return;
  const slant = Math.asin(sine);
  const heading = Math.atan2(dy, dx) - slant;
  const from = extentA.advance;
  const to = apart * Math.cos(slant) - extentB.advance;
  if (to - from < SHORTEST) return;
  const [ux, uy] = [Math.cos(heading), Math.sin(heading)];
  // The centre of a left turn lies to the left of the line.
  const x = a.x + uy * offA;
  const y = a.y - ux * offA;
  if (!clearAlong((s) => ground.spare(x + s * ux, y + s * uy, 0), from, to)) return;
  lines.push({ pose: { x, y, heading }, length: to - from });
}

function sameLine(a: Pose, b: Pose): boolean {
  const turned = Math.abs(Math.sin(a.heading - b.heading));
  const across = (b.y - a.y) * Math.cos(a.heading) - (b.x - a.x) * Math.sin(a.heading);
  return turned < SAME_HEADING && Math.abs(across) < SAME_LINE;
}

/** Those that turn back first, so that they are the ones kept. */
function circlesOf(turns: readonly LaneTurn[], ground: Ground, limits: ClimbLimits): Circle[] {
  const { radius: least } = limits;
  const found: Circle[] = turnbackSites(ground, least, limits, SAME_CIRCLE).map(({ x, y }) => {
    return { x, y, radius: least, back: true };
  });
  for (const { parts, from, leaves } of turns) {
    const [part] = parts;
    if (parts.length !== 1 || !part || part.shape.angle < LEAST_ANGLE) continue;
    const { radius, angle } = part.shape;
    if (radius > WIDEST * limits.radius) continue;
    const { shift, advance } = extentOf(radius, limits.easement);
    const side = (part.hand === "left" ? 1 : -1) * (radius + shift);
    const s = leaves + advance;
    const x = from.x + s * from.ux - side * from.uy;
    const y = from.y + s * from.uy + side * from.ux;
    found.push({ x, y, radius, back: angle >= TURNS_BACK });
  }
  const kept: Circle[] = [];
  for (const circle of found) {
    if (kept.length >= MOST_CIRCLES) break;
    if (!kept.some(({ x, y }) => Math.hypot(x - circle.x, y - circle.y) < SAME_CIRCLE)) kept.push(circle);
  }
  return kept;
}
