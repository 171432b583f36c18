/**
 * The turns a climb may take from lane to lane: for every two lanes and either hand the eased turn of a few radii, half
 * circles between lanes that lie back to back, changes from a lane to one beside it, and helices where whole circles fit.
 *
 * Always holds: a turn leaves and reaches its lanes within their clear stretches and is clear of edges and walls all along.
 */
import type { Hand } from "../geometry/turn.js";
import { type Millimetres, positiveAngle, type Radians, wrapAngle } from "../geometry/units.js";
import type { Ground } from "./ground.js";
import { type LaneTurn, layTurn, type TurnPart } from "./lane-turn.js";
import type { Lane } from "./lanes.js";
import type { ClimbLimits } from "./limits.js";
import { extentOf, halfCircleRadius, tangentOf, type TurnShape, turnShape } from "./turn-shape.js";

/** Radii tried, as multiples of the least; the first so many that are clear are kept. */
const RADII = [1, 1.1, 1.2, 1.35, 1.6, 2];
/** Circles of helices, as multiples of the least that gain the gap. */
const HELIX_RADII = [1, 1.15];
const KEPT_RADII = 2;
/** Turns of less change nothing, and of more go all round. */
const LEAST_ANGLE: Radians = 0.08;
const MOST_ANGLE: Radians = 5.3;
/** Lanes this near parallel are taken as parallel only where they are so to rounding; between, no turn is tried. */
const PARALLEL: Radians = 1e-6;
const NEARLY_PARALLEL: Radians = 0.02;
/** Lines this near are one, mm. */
const ONE_LINE: Millimetres = 1e-3;
/** Angles of a change from a lane to one beside it, radians: 10 to 80 degrees. */
const CHANGES: readonly Radians[] = [0.175, 0.26, 0.39, 0.6, 0.9, 1.4];
/** Places of half circles and helices along their lanes. */
const PLACES: Millimetres = 450;
/** Circles of one helix, at most. */
const MOST_LOOPS = 12;

/** Collects turns, asked for lane by lane so that the caller may stop or report between. */
export class Turns {
  readonly all: LaneTurn[] = [];

  constructor(
    private readonly ground: Ground,
    private readonly limits: ClimbLimits,
    /** Greatest rise; helices of more circles than it asks for are not tried. */
    private readonly rise: Millimetres,
  ) {}

  between(a: Lane, b: Lane): void {
    if (a.runs.length === 0 || b.runs.length === 0) return;
    if (a === b) {
      if (!a.diagonal) this.helices(a);
      return;
    }
    const ahead = positiveAngle(b.heading - a.heading);
    const parallel = Math.abs(Math.sin(ahead)) < NEARLY_PARALLEL;
    if (!parallel) {
      this.corner(a, b, "left", ahead);
      this.corner(a, b, "right", 2 * Math.PI - ahead);
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
      for (const run of a.runs) for (const s of placesOf(run)) if (this.put(a, b, parts, s, s + along - origin)) kept++;
      if (kept > 0) return;
    }
  }

  private corner(a: Lane, b: Lane, hand: Hand, angle: Radians): void {
    if (angle < LEAST_ANGLE || angle > MOST_ANGLE) return;
    // Where the two lines meet, along either.
    const sine = a.ux * b.uy - a.uy * b.ux;
    const dx = b.x - a.x;
    const dy = b.y - a.y;
    const meetA = (dx * b.uy - dy * b.ux) / sine;
    const meetB = (dx * a.uy - dy * a.ux) / sine;
    let kept = 0;
    const most = a.diagonal || b.diagonal ? 1 : KEPT_RADII;
    for (const times of RADII) {
      const radius = this.limits.radius * times;
      const gains = this.mostLoops(radius) > 0;
      if (kept === most && !gains) continue;
      const shape = turnShape(radius, this.limits.easement, angle);
      const tangent = tangentOf(shape);
      const turn = this.lay(a, b, single(hand, shape), meetA - tangent, meetB + tangent);
      const helices = turn ? this.loops(turn) : 0;
      if (turn && kept < most) {
        this.keep(turn);
        kept++;
      }
      // Wider circles hardly fit where these do not.
      if (kept === most && gains && helices === 0) break;
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
        const turn = this.put(a, b, single(hand, shape), s, origin - s);
        if (turn) this.loops(turn);
      }
    }
  }

  private helices(a: Lane): void {
    const { easement } = this.limits;
    for (const times of HELIX_RADII) {
      const size = this.helixRadius() * times;
      const { advance } = extentOf(size, easement);
      for (const hand of ["left", "right"] as const) {
        for (const run of a.runs) {
          for (const s of placesOf(run)) {
            for (let n = 1; n <= this.mostLoops(size); n++) {
              const shape = turnShape(size, easement, 2 * Math.PI * n);
              if (!this.put(a, a, single(hand, shape), s, s + 2 * advance)) break;
            }
          }
        }
      }
    }
  }

  /** The turn with whole circles added, where they are clear and each gains the gap over itself; how many there are. */
  private loops(turn: LaneTurn): number {
    const [part] = turn.parts;
    if (!part) return 0;
    const { radius, easement, angle } = part.shape;
    const most = this.mostLoops(radius);
    for (let n = 1; n <= most; n++) {
      const shape = turnShape(radius, easement, angle + 2 * Math.PI * n);
      // Only a turn too small for full easements begins elsewhere with circles added.
      const moved = angle === Math.PI ? 0 : tangentOf(shape) - tangentOf(part.shape);
      if (!this.put(turn.from, turn.to, single(part.hand, shape), turn.leaves - moved, turn.arrives + moved))
        return n - 1;
    }
    return most;
  }

  /** Radius of the least circles that gain the gap. */
  private helixRadius(): Millimetres {
    return Math.max(this.limits.radius, this.limits.gap / (2 * Math.PI * this.limits.grade) + 0.5);
  }

  private mostLoops(radius: Millimetres): number {
    const gain = 2 * Math.PI * radius * this.limits.grade;
    return gain < this.limits.gap ? 0 : Math.min(MOST_LOOPS, Math.ceil(this.rise / gain));
  }

  private lay(
    a: Lane,
    b: Lane,
    parts: readonly TurnPart[],
    leaves: Millimetres,
    arrives: Millimetres,
  ): LaneTurn | undefined {
    return layTurn(this.all.length, a, b, parts, leaves, arrives, this.ground, this.limits);
  }

  /** Turns are numbered in the order they are kept. */
  private keep(turn: LaneTurn): void {
    this.all.push(turn.index === this.all.length ? turn : { ...turn, index: this.all.length });
  }

  private put(
    a: Lane,
    b: Lane,
    parts: readonly TurnPart[],
    leaves: Millimetres,
    arrives: Millimetres,
  ): LaneTurn | undefined {
    const turn = this.lay(a, b, parts, leaves, arrives);
    if (turn) this.keep(turn);
    return turn;
  }
}

const single = (hand: Hand, shape: TurnShape): TurnPart[] => [{ straight: 0, hand, shape }];

/** Both ends of a stretch and places between. */
function placesOf([from, to]: readonly [number, number]): number[] {
  const steps = Math.max(1, Math.ceil((to - from) / PLACES));
  return Array.from({ length: steps + 1 }, (_, i) => from + ((to - from) * i) / steps);
}
