/**
 * What lies behind an end of a climb: how far its grade may run on into the track that is there, and how much level
 * track there is for half a vertical curve.
 *
 * A grade runs on only as far as a pin, where nothing between pins and joint is held: a track that begins beyond its
 * joint, as drawn with its pin some way along. A turnout is one plane: nothing runs into it, no curve reaches into it.
 */
import { curvatureAt } from "../geometry/path.js";
import type { Millimetres } from "../geometry/units.js";
import type { LineEnd } from "../layout/joints.js";
import type { Layout } from "../layout/layout.js";
import type { NetworkEdge } from "../layout/network.js";
import { straightHeightAt } from "../layout/profile.js";
import { limitsOf } from "../plan/class-limits.js";

export interface EndRoom {
  /** How far beyond the joint the grade may run on; where it does, it ends at the pin there. 0 for none. */
  readonly runOn: Millimetres;
  /** Level track beyond the joint, and beyond the pin, that half a vertical curve may lie on. */
  readonly beyondJoint: Millimetres;
  readonly beyondPin: Millimetres;
  /** Steepest grade, as a ratio, of the track it would run on over. */
  readonly steepest: number;
}

export const NO_ROOM: EndRoom = { runOn: 0, beyondJoint: 0, beyondPin: 0, steepest: Number.POSITIVE_INFINITY };

/** Longer than any vertical curve, mm. */
const FAR_ENOUGH: Millimetres = 5000;
const LEVEL: Millimetres = 1e-3;
/** Curvature of what is run on over is looked at in such steps. */
const STEP: Millimetres = 20;

export function roomBehind(layout: Layout, { line, end }: LineEnd): EndRoom {
  const { network } = layout;
  const edges = network.byLine.get(line);
  let edge = end === "start" ? edges?.[0] : edges?.at(-1);
  let forward = end === "start";
  let gone = 0;
  let pin: Millimetres | undefined;
  let steepest = Number.POSITIVE_INFINITY;
  let share = 1;
  while (edge && edge.plane === undefined && gone < FAR_ENOUGH) {
    if (!isLevel(layout, edge)) {
      // A grade begins there, and its own curve takes half of what lies between.
      share = 0.5;
      break;
    }
    if (pin === undefined) steepest = Math.min(steepest, steepestOn(layout, edge));
    gone += edge.to - edge.from;
    const { node: key, side } = forward ? edge.b : edge.a;
    const node = network.nodes.get(key);
    if (!node || (node.kind !== "pin" && node.kind !== "joint")) break;
    if (network.pinned.has(key)) pin ??= gone;
    const on = node.sides[side === 0 ? 1 : 0];
    if (node.sides[side].length !== 1 || on.length !== 1) break;
    const next = network.edges[on[0] ?? -1];
    if (!next || next === edge) break;
    forward = next.a.node === key && next.a.side !== side;
    edge = next;
  }
  const runOn = pin ?? 0;
  const beyond = (from: Millimetres): Millimetres => share * (gone - from);
  return { runOn, beyondJoint: beyond(0), beyondPin: beyond(runOn), steepest };
}

function isLevel(layout: Layout, { line, from, to }: NetworkEdge): boolean {
  const profile = layout.profiles.get(line);
  return !!profile && Math.abs(straightHeightAt(profile, from) - straightHeightAt(profile, to)) < LEVEL;
}

/** Its class's grade, less where the grade felt on its curves would be too steep. */
function steepestOn({ plan, lines }: Layout, { line: key, from, to }: NetworkEdge): number {
  const line = lines.get(key);
  if (!line) return 0;
  let sharpest = 0;
  for (let s = from; s < to; s += STEP) sharpest = Math.max(sharpest, Math.abs(curvatureAt(line.path, s)));
  const { grade, feltGrade } = limitsOf(plan, line.class);
  return Math.min(grade.value, feltGrade.value - plan.standards.curveDrag.value * sharpest) / 100;
}
