/**
 * The turns a climb may take from lane to lane: for every two lanes and either hand the eased turn of a few radii, half
 * circles between lanes that lie back to back, and changes from a lane to one beside it.
 *
 * Always holds: a turn leaves and reaches its lanes within their clear stretches and is clear of edges and walls all along.
 */
import type { Hand } from "../geometry/turn.js";
import { type Millimetres, positiveAngle, type Radians, wrapAngle } from "../geometry/units.js";
import type { Ground } from "./ground.js";
import { type LaneTurn, layTurn, type TurnPart } from "./lane-turn.js";
import type { Lane } from "./lanes.js";
import type { ClimbLimits } from "./limits.js";
import { crossing, NEARLY_PARALLEL, placesOf, turnsOf } from "./lane-places.js";
import { halfCircleRadius, tangentOf, type TurnShape, turnShape } from "./turn-shape.js";

/** Radii tried, as multiples of the least; the first so many that are clear are kept. */
const RADII = [1, 1.1, 1.2, 1.35, 1.6, 2];
const KEPT_RADII = 2;
/** Lanes this near parallel are taken as parallel only where they are so to rounding; between, no turn is tried. */
const PARALLEL: Radians = 1e-6;
/** Lines this near are one, mm. */
const ONE_LINE: Millimetres = 1e-3;
/** Places at which a change from lane to lane is tried. */
const CHANGE_PLACES: Millimetres = 900;
/** Angles of a change from a lane to one beside it, radians: 10 to 80 degrees. */
const CHANGES: readonly Radians[] = [0.175, 0.26, 0.39, 0.6, 0.9, 1.4];

/** Collects turns, asked for lane by lane so that the caller may stop or report between. */
export class Turns {
  readonly all: LaneTurn[] = [];

  constructor(
    private readonly ground: Ground,
    private readonly limits: ClimbLimits,
  ) {}

  between(a: Lane, b: Lane): void {
    if (a.runs.length === 0 || b.runs.length === 0) return;
    if (a === b) return;
    const ahead = positiveAngle(b.heading - a.heading);
    const parallel = Math.abs(Math.sin(ahead)) < NEARLY_PARALLEL;
    if (!parallel) {
      const meet = crossing(a, b);
      for (const [hand, angle] of turnsOf(ahead)) this.corner(a, b, hand, angle, meet);
    } else if (Math.abs(ahead - Math.PI) < PARALLEL) this.halfCircles(a, b);
    else if (Math.abs(wrapAngle(ahead)) < PARALLEL) this.laneChanges(a, b);
  }

  /** From a lane to one beside it: a curve, a straight, and the same curve the other way; the gentlest that is clear. */
  private laneChanges(a: Lane, b: Lane): void {
    const dx = b.x - a.x;
    const dy = b.y - a.y;
    const across = dy * a.ux - dx * a.uy;
    const origin = dx * a.ux + dy * a.uy;
    if (Math.abs(across) < ONE_LINE) {
      // The same line goes on: wherever the first may be left the second begins.
      this.put(a, b, [], Math.max(0, origin + (b.runs[0]?.[0] ?? 0)), Math.max(-origin, b.runs[0]?.[0] ?? 0));
      return;
    }
    const hand = across > 0 ? "left" : "right";
    const back = across > 0 ? "right" : "left";
    for (const angle of CHANGES) {
      const shape = turnShape(this.limits.radius, this.limits.easement, angle);
      const tangent = tangentOf(shape);
      const slant = Math.abs(across) / Math.sin(angle);
      const straight = slant - 2 * tangent;
      if (straight < this.limits.reverse) continue;
      const parts: TurnPart[] = [
        { straight: 0, hand, shape },
        { straight, hand: back, shape },
      ];
      const along = 2 * tangent + slant * Math.cos(angle);
      let kept = 0;
      for (const run of a.runs)
        for (const s of placesOf(run, CHANGE_PLACES)) if (this.put(a, b, parts, s, s + along - origin)) kept++;
      if (kept > 0) return;
    }
  }

  private corner(a: Lane, b: Lane, hand: Hand, angle: Radians, [meetA, meetB]: readonly [number, number]): void {
    let kept = 0;
    const most = a.diagonal || b.diagonal ? 1 : KEPT_RADII;
    for (const times of RADII) {
      if (kept === most) return;
      const shape = turnShape(this.limits.radius * times, this.limits.easement, angle);
      const tangent = tangentOf(shape);
      if (this.put(a, b, single(hand, shape), meetA - tangent, meetB + tangent)) kept++;
    }
  }

  private halfCircles(a: Lane, b: Lane): void {
    const across = (b.y - a.y) * a.ux - (b.x - a.x) * a.uy;
    const hand = across > 0 ? "left" : "right";
    const radius = halfCircleRadius(Math.abs(across), this.limits.easement, this.limits.radius);
    if (radius === undefined) return;
    const shape = turnShape(radius, this.limits.easement, Math.PI);
    // The turn begins and ends abreast of the same place, and b is looked along the other way.
    const origin = (b.x - a.x) * a.ux + (b.y - a.y) * a.uy;
    for (const run of a.runs) {
      for (const s of placesOf(run)) {
        this.put(a, b, single(hand, shape), s, origin - s);
      }
    }
  }

  private put(
    a: Lane,
    b: Lane,
    parts: readonly TurnPart[],
    leaves: Millimetres,
    arrives: Millimetres,
  ): LaneTurn | undefined {
    const turn = layTurn(this.all.length, a, b, parts, leaves, arrives, this.ground, this.limits);
    if (turn) this.all.push(turn);
    return turn;
  }
}

const single = (hand: Hand, shape: TurnShape): TurnPart[] => [{ straight: 0, hand, shape }];
