/**
 * Turns with whole circles in them: from lane to lane, and from a lane back onto itself, where a circle is clear all
 * round and gains the gap over itself at the steepest grade its radius may have.
 *
 * Always holds: each circle of a turn gains the gap; a turn has no more circles than the rise asks for.
 */
import type { Hand } from "../geometry/turn.js";
import { type Millimetres, positiveAngle, type Radians } from "../geometry/units.js";
import type { Ground } from "./ground.js";
import { type LaneTurn, layTurn } from "./lane-turn.js";
import type { Lane } from "./lanes.js";
import type { ClimbLimits } from "./limits.js";
import { extentOf, tangentOf, turnShape } from "./turn-shape.js";
import { crossing, NEARLY_PARALLEL, placesOf, turnsOf } from "./lane-places.js";

/** Circles tried, as multiples of the least that gain the gap. */
const RADII = [1, 1.15];
const ONTO = [1, 1.15];
/** Circles wider by less than this are one. */
const SAME = 1.05;
/** Circles of one helix, at most. */
const MOST_LOOPS = 12;
/** Places of a circle looked at before a turn is laid. */
const ROUND = 12;
const FULL: Radians = 2 * Math.PI;

/** Numbered on from the turns they are added to. */
export class Helices {
  readonly all: LaneTurn[] = [];
  private readonly radii: readonly Millimetres[];

  constructor(
    private readonly ground: Ground,
    private readonly limits: ClimbLimits,
    private readonly rise: Millimetres,
    private readonly first: number,
  ) {
    // Those of the turns there are circles are added to as it is.
    this.radii = limits.helix > SAME * limits.radius ? RADII.map((times) => limits.helix * times) : [];
  }

  /** The turns there are with circles added. */
  of(turns: readonly LaneTurn[]): void {
    for (const turn of turns) {
      const [part] = turn.parts;
      if (turn.parts.length !== 1 || !part || this.mostLoops(part.shape.radius) === 0) continue;
      const { radius, angle } = part.shape;
      const { shift, advance } = extentOf(radius, this.limits.easement);
      // Only a turn too small for full easements begins elsewhere with circles added.
      const round = turnShape(radius, this.limits.easement, angle + FULL);
      const moved = angle === Math.PI ? 0 : tangentOf(round) - tangentOf(part.shape);
      const leaves = turn.leaves - moved;
      if (!this.circleClear(turn.from, leaves + advance, radius, shift, part.hand)) continue;
      this.lay(turn.from, turn.to, part.hand, radius, angle, leaves, turn.arrives + moved);
    }
  }

  between(a: Lane, b: Lane): void {
    if (a.runs.length === 0 || b.runs.length === 0) return;
    if (a === b) {
      if (!a.diagonal) this.onto(a);
      return;
    }
    const ahead = positiveAngle(b.heading - a.heading);
    if (Math.abs(Math.sin(ahead)) < NEARLY_PARALLEL) return;
    const [meetA, meetB] = crossing(a, b);
    for (const [hand, angle] of turnsOf(ahead)) {
      for (const radius of this.radii) {
        const { shift, advance } = extentOf(radius, this.limits.easement);
        const tangent = tangentOf(turnShape(radius, this.limits.easement, angle + FULL));
        const leaves = meetA - tangent;
        if (this.circleClear(a, leaves + advance, radius, shift, hand))
          this.lay(a, b, hand, radius, angle, leaves, meetB + tangent);
      }
    }
  }

  /** Round and on along the same lane. */
  private onto(a: Lane): void {
    for (const times of ONTO) {
      const radius = this.limits.helix * times;
      const { shift, advance } = extentOf(radius, this.limits.easement);
      for (const hand of ["left", "right"] as const) {
        for (const run of a.runs) {
          for (const s of placesOf(run))
            if (this.circleClear(a, s + advance, radius, shift, hand))
              this.lay(a, a, hand, radius, 0, s, s + 2 * advance);
        }
      }
    }
  }

  /** One circle more and more of them, from the angle turned besides. */
  private lay(
    a: Lane,
    b: Lane,
    hand: Hand,
    radius: Millimetres,
    angle: Radians,
    leaves: Millimetres,
    arrives: Millimetres,
  ): void {
    const most = this.mostLoops(radius);
    for (let n = 1; n <= most; n++) {
      const shape = turnShape(radius, this.limits.easement, angle + n * FULL);
      const parts = [{ straight: 0, hand, shape }];
      const index = this.first + this.all.length;
      // A second circle lies where the first does.
      const turn = layTurn(index, a, b, parts, leaves, arrives, n === 1 ? this.ground : undefined, this.limits);
      if (!turn) return;
      this.all.push(turn);
    }
  }

  private circleClear(
    { x, y, ux, uy }: Lane,
    s: Millimetres,
    radius: Millimetres,
    shift: Millimetres,
    hand: Hand,
  ): boolean {
    const side = (hand === "left" ? 1 : -1) * (radius + shift);
    const cx = x + s * ux - side * uy;
    const cy = y + s * uy + side * ux;
    for (let i = 0; i < ROUND; i++) {
      const angle = (FULL * ((5 * i) % ROUND)) / ROUND;
      if (this.ground.spare(cx + radius * Math.cos(angle), cy + radius * Math.sin(angle), this.limits.throws) < 0)
        return false;
    }
    return true;
  }

  private mostLoops(radius: Millimetres): number {
    const gain = FULL * radius * this.limits.gradeOn(radius);
    return gain < this.limits.gap ? 0 : Math.min(MOST_LOOPS, Math.ceil(this.rise / gain));
  }
}
