/**
 * The turns a climb may take from lane to lane: for every two lanes and either hand the eased turn of a few radii, half
 * circles between lanes that lie back to back, and helices of whole circles where a circle fits.
 *
 * Always holds: a turn leaves and reaches its lanes within their clear stretches and is clear of edges and walls all along.
 */
import type { Hand } from "../geometry/turn.js";
import { type Millimetres, positiveAngle, type Radians } from "../geometry/units.js";
import { clearAlong, type Ground } from "./ground.js";
import { type Lane, runAt } from "./lanes.js";
import type { ClimbLimits } from "./limits.js";
import { extentOf, halfCircleRadius, SAGITTA, tangentOf, turnPoints, type TurnShape, turnShape } from "./turn-shape.js";

export interface LaneTurn {
  readonly index: number;
  readonly from: Lane;
  readonly to: Lane;
  readonly fromRun: number;
  readonly toRun: number;
  readonly hand: Hand;
  readonly shape: TurnShape;
  /** Where it leaves the one lane and comes to the other. */
  readonly leaves: Millimetres;
  readonly arrives: Millimetres;
  readonly points: Float64Array;
  /** Distance along the turn of every point. */
  readonly stations: Float64Array;
  /** minX, minY, maxX, maxY. */
  readonly box: Float64Array;
}

/** Radii tried, as multiples of the least; the first so many that are clear are kept. */
const RADII = [1, 1.12, 1.3, 1.6, 2];
const KEPT_RADII = 2;
/** Turns of less change nothing, and of more go all round. */
const LEAST_ANGLE: Radians = 0.08;
const MOST_ANGLE: Radians = 5.3;
/** Lanes this near parallel are taken as parallel only where they are so to rounding; between, no turn is tried. */
const PARALLEL: Radians = 1e-6;
const NEARLY_PARALLEL: Radians = 0.02;
/** Places of half circles and helices along their lanes. */
const PLACES: Millimetres = 350;
const MOST_LOOPS = 3;

/** Finds all turns between lanes; a generator so that the caller may stop or report between lanes. */
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
      this.helices(a);
      return;
    }
    const ahead = positiveAngle(b.heading - a.heading);
    const parallel = Math.abs(Math.sin(ahead)) < NEARLY_PARALLEL;
    if (!parallel) {
      this.corner(a, b, "left", ahead);
      this.corner(a, b, "right", 2 * Math.PI - ahead);
    } else if (Math.abs(ahead - Math.PI) < PARALLEL) this.halfCircles(a, b);
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
    for (const times of RADII) {
      const radius = this.limits.radius * times;
      const shape = turnShape(radius, this.limits.easement, angle);
      const tangent = tangentOf(shape);
      const put = this.put(a, b, hand, shape, meetA - tangent, meetB + tangent);
      if (!put) continue;
      this.loops(put);
      if (++kept === KEPT_RADII) break;
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
        const turn = this.put(a, b, hand, shape, s, origin - s);
        if (turn) this.loops(turn);
      }
    }
  }

  private helices(a: Lane): void {
    const { easement, radius } = this.limits;
    for (const size of this.helixRadii(radius)) {
      const { advance } = extentOf(size, easement);
      for (const hand of ["left", "right"] as const) {
        for (const run of a.runs) {
          for (const s of placesOf(run)) {
            for (let n = 1; n <= this.mostLoops(size); n++) {
              const shape = turnShape(size, easement, 2 * Math.PI * n);
              if (!this.put(a, a, hand, shape, s, s + 2 * advance)) break;
            }
          }
        }
      }
    }
  }

  /** The turn with whole circles added, where they are clear and each gains the gap over itself. */
  private loops(turn: LaneTurn): void {
    const { radius, easement, angle } = turn.shape;
    for (const size of radius === this.limits.radius || angle === Math.PI ? this.helixRadii(radius) : []) {
      if (size !== radius && angle === Math.PI) continue;
      for (let n = 1; n <= this.mostLoops(size); n++) {
        const shape = turnShape(size, easement, angle + 2 * Math.PI * n);
        const moved = angle === Math.PI ? 0 : tangentOf(shape) - tangentOf(turn.shape);
        if (!this.put(turn.from, turn.to, turn.hand, shape, turn.leaves - moved, turn.arrives + moved)) break;
      }
    }
  }

  /** Radii of circles that gain the gap: the wanted one where it does, else the least that does. */
  private helixRadii(wanted: Millimetres): Millimetres[] {
    const closing = this.limits.gap / (2 * Math.PI * this.limits.grade) + 0.5;
    return [Math.max(wanted, closing)];
  }

  private mostLoops(radius: Millimetres): number {
    const gain = 2 * Math.PI * radius * this.limits.grade;
    return gain < this.limits.gap ? 0 : Math.min(MOST_LOOPS, Math.ceil(this.rise / gain));
  }

  private put(
    a: Lane,
    b: Lane,
    hand: Hand,
    shape: TurnShape,
    leaves: Millimetres,
    arrives: Millimetres,
  ): LaneTurn | undefined {
    const fromRun = runAt(a, leaves);
    if (fromRun < 0) return undefined;
    const toRun = runAt(b, arrives);
    if (toRun < 0) return undefined;
    const from = { x: a.x + leaves * a.ux, y: a.y + leaves * a.uy, heading: a.heading };
    const points = turnPoints(from, shape, hand);
    if (!this.clear(points, shape.length)) return undefined;
    const count = points.length / 2;
    const stations = new Float64Array(count);
    let along = 0;
    for (let i = 1; i < count; i++) {
      along += Math.hypot(at(points, 2 * i) - at(points, 2 * i - 2), at(points, 2 * i + 1) - at(points, 2 * i - 1));
      stations[i] = along;
    }
    // Chords are a little shorter than the turn.
    for (let i = 1; i < count; i++) stations[i] = (at(stations, i) * shape.length) / along;
    const turn: LaneTurn = {
      index: this.all.length,
      from: a,
      to: b,
      fromRun,
      toRun,
      hand,
      shape,
      leaves,
      arrives,
      points,
      stations,
      box: boxOf(points),
    };
    this.all.push(turn);
    return turn;
  }

  /** The middle and the quarters first, where a turn that does not fit mostly shows it. */
  private clear(points: Float64Array, length: Millimetres): boolean {
    const { throws } = this.limits;
    const count = points.length / 2;
    for (const share of [0.5, 0.25, 0.75]) {
      const i = 2 * Math.floor(share * (count - 1));
      if (this.ground.spare(at(points, i), at(points, i + 1), throws) < SAGITTA) return false;
    }
    const step = length / (count - 1);
    return clearAlong(
      (s) => {
        const i = Math.min(count - 2, Math.floor(s / step));
        const t = s / step - i;
        const x = at(points, 2 * i) * (1 - t) + at(points, 2 * i + 2) * t;
        const y = at(points, 2 * i + 1) * (1 - t) + at(points, 2 * i + 3) * t;
        // Its own ends lie on the lanes, where cars hang over less.
        const end = Math.min(s, length - s);
        return this.ground.spare(x, y, end < this.limits.easement / 2 ? throws / 2 : throws) - SAGITTA;
      },
      0,
      length,
    );
  }
}

const at = (values: Float64Array, i: number): number => values[i] as number;

/** Both ends of a stretch and places between. */
function placesOf([from, to]: readonly [number, number]): number[] {
  const steps = Math.max(1, Math.ceil((to - from) / PLACES));
  return Array.from({ length: steps + 1 }, (_, i) => from + ((to - from) * i) / steps);
}

function boxOf(points: Float64Array): Float64Array {
  const box = Float64Array.of(Infinity, Infinity, -Infinity, -Infinity);
  for (let i = 0; i < points.length; i += 2) {
    box[0] = Math.min(at(box, 0), at(points, i));
    box[1] = Math.min(at(box, 1), at(points, i + 1));
    box[2] = Math.max(at(box, 2), at(points, i));
    box[3] = Math.max(at(box, 3), at(points, i + 1));
  }
  return box;
}
