/**
 * Balloons: from a lane a swing out, most of a circle or more the other way, and a swing back onto a lane; the way in
 * and out of a pad or disc wider than the neck that leads to it, with whole circles more for a helix there.
 *
 * Always holds: between swing and circle there is as much straight as reverse curves ask for, and next to none besides.
 */
import type { Hand } from "../geometry/turn.js";
import { type Millimetres, positiveAngle, type Radians } from "../geometry/units.js";
import type { Ground } from "./ground.js";
import { type LaneTurn, layTurn, type TurnPart } from "./lane-turn.js";
import type { Lane } from "./lanes.js";
import type { ClimbLimits } from "./limits.js";
import { extentOf, tangentOf, turnShape } from "./turn-shape.js";
import { turnbackSites, type TurnbackSite } from "./turnback-sites.js";

/** Straight between the two curves: next to none, and so much that the swing is gentler. */
const BETWEEN: readonly Millimetres[] = [20, 160];
/** Swings of less are no swing; of more they go the long way round. Tried in steps, then brought nearer by halving. */
const LEAST: Radians = 0.1;
const MOST: Radians = 1.35;
const STEP: Radians = 0.08;
const HALVINGS = 22;
/** Circles tried, as multiples of the least that gain the gap. */
const RADII = [1, 1.12];
/** Circles wider by less than this are one. */
const SAME = 1.05;
/** Sites of one radius, as far apart as this at least, and swings onto or off one, the gentlest. */
const MOST_SITES = 4;
const APART: Millimetres = 300;
const MOST_SWINGS = 6;
const MOST_LOOPS = 12;

interface Swing {
  readonly lane: Lane;
  readonly angle: Radians;
  /** Where it leaves the lane, looked along to the circle. */
  readonly leaves: Millimetres;
  /** Between the swing and the circle. */
  readonly straight: Millimetres;
  /** Heading on which it comes to the circle. */
  readonly heading: Radians;
}

interface Circle extends TurnbackSite {
  readonly radius: Millimetres;
  readonly hand: Hand;
}

/** All balloons, numbered on from `first`. `onto` are the lanes left, `off` those arrived on. */
export function balloons(
  onto: readonly Lane[],
  off: readonly Lane[],
  ground: Ground,
  limits: ClimbLimits,
  rise: Millimetres,
  first: number,
): LaneTurn[] {
  const all: LaneTurn[] = [];
  const radii = RADII.map((times) => limits.helix * times);
  if (limits.helix > SAME * limits.radius) radii.unshift(limits.radius);
  for (const radius of radii) {
    const gain = 2 * Math.PI * radius * limits.gradeOn(Math.min(radius, limits.radius));
    const loops = gain < limits.gap ? 0 : Math.min(MOST_LOOPS, Math.ceil(rise / gain));
    for (const site of turnbackSites(ground, radius, limits, APART).slice(0, MOST_SITES)) {
      for (const hand of ["left", "right"] as const) {
        const circle = { ...site, radius, hand };
        const ins = swingsOnto(onto, circle, limits, 1);
        if (ins.length === 0) continue;
        // Seen backwards, what leads off it leads onto it the other way round.
        const outs = swingsOnto(off, circle, limits, -1);
        for (const a of ins) {
          for (const b of outs) {
            for (const parts of partsOf(a, b, circle, limits, loops)) {
              const turn = layTurn(first + all.length, a.lane, b.lane, parts, a.leaves, -b.leaves, ground, limits);
              if (!turn) break;
              all.push(turn);
            }
          }
        }
      }
    }
  }
  return all;
}

/** The balloon from one swing to another, with no whole circle more, and with one and more of them. */
function* partsOf(
  a: Swing,
  b: Swing,
  { radius, hand }: Circle,
  { radius: least, easement }: ClimbLimits,
  loops: number,
): Generator<readonly TurnPart[]> {
  const side = hand === "left" ? 1 : -1;
  const away = hand === "left" ? "right" : "left";
  const round = positiveAngle(side * (b.heading + Math.PI - a.heading));
  for (let n = 0; n <= loops; n++) {
    const angle = round + 2 * Math.PI * n;
    if (angle < Math.max(Math.PI / 2, easement / radius)) continue;
    yield [
      { straight: 0, hand: away, shape: turnShape(least, easement, a.angle) },
      { straight: a.straight, hand, shape: turnShape(radius, easement, angle) },
      { straight: b.straight, hand: away, shape: turnShape(least, easement, b.angle) },
    ];
  }
}

/** The gentlest swings onto a circle; `way` -1: off it, with lanes and hands looked at backwards. */
function swingsOnto(lanes: readonly Lane[], circle: Circle, limits: ClimbLimits, way: 1 | -1): Swing[] {
  const found: Swing[] = [];
  for (const lane of lanes) {
    if (lane.diagonal || lane.runs.length === 0) continue;
    for (const between of BETWEEN) {
      const swing = swingOnto(lane, circle, limits, way, between);
      if (!swing) continue;
      const s = way * swing.leaves;
      if (lane.runs.some(([from, to]) => s >= from && s <= to)) found.push(swing);
    }
  }
  found.sort((a, b) => a.angle - b.angle || a.lane.index - b.lane.index);
  return found.slice(0, MOST_SWINGS);
}

function swingOnto(
  lane: Lane,
  circle: Circle,
  limits: ClimbLimits,
  way: 1 | -1,
  between: Millimetres,
): Swing | undefined {
  const [ux, uy] = [way * lane.ux, way * lane.uy];
  const side = way * (circle.hand === "left" ? 1 : -1);
  const { shift, advance } = extentOf(circle.radius, limits.easement);
  // The circle's centre seen from the lane.
  const u = (circle.x - lane.x) * ux + (circle.y - lane.y) * uy;
  const v = (circle.y - lane.y) * ux - (circle.x - lane.x) * uy;
  const off = side * (circle.radius + shift);
  const wanted = Math.max(between, limits.reverse);
  const tangent = (angle: Radians): Millimetres => tangentOf(turnShape(limits.radius, limits.easement, angle));
  /** Where the lane is left, and the straight that is left before the circle begins. */
  const swung = (angle: Radians): readonly [leaves: Millimetres, straight: Millimetres] => {
    const heading = -side * angle;
    const [cos, sin] = [Math.cos(heading), Math.sin(heading)];
    // Abreast of the centre on the line that comes to the circle, and from where it left the lane to there.
    const pu = u + off * sin;
    const pv = v - off * cos;
    const gone = pv / sin;
    const before = tangent(angle);
    return [pu - gone * cos - before, gone - advance - before];
  };
  // The more it swings the less straight is left: the last swing with enough.
  if (!(swung(LEAST)[1] >= wanted)) return undefined;
  let [fit, short] = [LEAST, LEAST];
  while (short <= MOST && swung(short)[1] >= wanted) [fit, short] = [short, short + STEP];
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (short + fit) / 2;
    if (swung(middle)[1] >= wanted) fit = middle;
    else short = middle;
  }
  if (fit > MOST) return undefined;
  const [leaves, straight] = swung(fit);
  const heading = Math.atan2(uy, ux) - side * fit;
  return { lane, angle: fit, leaves, straight, heading };
}
