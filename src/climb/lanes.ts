/**
 * Lanes: straight lines a climb may follow, each looked along one way. They run along the edges of the ground, as near
 * as track may lie and one or two tracks farther in; the first and the last are those on which the climb leaves and arrives.
 */
import type { Pose } from "../geometry/pose.js";
import { type Millimetres, type Radians, wrapAngle } from "../geometry/units.js";
import type { Ground } from "./ground.js";
import type { ClimbLimits } from "./limits.js";

export interface Lane {
  readonly index: number;
  readonly x: Millimetres;
  readonly y: Millimetres;
  readonly heading: Radians;
  readonly ux: number;
  readonly uy: number;
  /** Clear stretches, by distance from (x, y). */
  readonly runs: readonly (readonly [Millimetres, Millimetres])[];
  /** It follows no edge of a bench. */
  readonly diagonal: boolean;
}

/** Edges shorter than this have no lane of their own. */
const SHORTEST_EDGE: Millimetres = 400;
/** Clear stretches shorter than this are of no use. */
const SHORTEST_RUN: Millimetres = 20;
/** Lanes within this of one another, and this parallel, are one. */
const SAME_LANE: Millimetres = 20;
const SAME_HEADING: Radians = 0.005;
/** Lanes keep this much farther from edges than they must, so that turns off them do too for all their chords. */
const OFF_EDGE: Millimetres = 0.5;
/** Lanes beside one another along an edge. */
const ABREAST = 3;

export class Lanes {
  readonly all: Lane[] = [];
  readonly starts: readonly Lane[];
  readonly goals: readonly Lane[];
  private readonly length: number;

  constructor(
    private readonly ground: Ground,
    /** The ends the climb may leave by and arrive by, both looked at in the way it goes. */
    starts: readonly Pose[],
    goals: readonly Pose[],
    limits: ClimbLimits,
  ) {
    const points = ground.area.flat();
    const span = (of: (p: { x: number; y: number }) => number): number =>
      Math.max(...points.map(of)) - Math.min(...points.map(of));
    this.length = points.length === 0 ? 0 : span((p) => p.x) + span((p) => p.y);
    this.starts = starts.map((pose) => this.put(pose, 0, this.length, false));
    this.goals = goals.map((pose) => this.put(pose, -this.length, 0, false));
    for (const ring of ground.area) {
      ring.forEach((a, i) => {
        const b = ring[(i + 1) % ring.length];
        if (!b || Math.hypot(b.x - a.x, b.y - a.y) < SHORTEST_EDGE) return;
        const heading = Math.atan2(b.y - a.y, b.x - a.x);
        const middle = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
        const wall = ground.onWall(middle) ? limits.wall + limits.throws : 0;
        const near = Math.max(limits.bench, wall) + OFF_EDGE;
        for (let n = 0; n < ABREAST; n++) {
          const off = near + n * (limits.apart + 2 * limits.throws);
          // Rings go round anticlockwise, holes clockwise: the ground lies to the left.
          const left = { x: middle.x - off * Math.sin(heading), y: middle.y + off * Math.cos(heading) };
          this.addBothWays({ ...left, heading }, false);
        }
      });
    }
  }

  /** The line through a pose, looked along both ways; nothing where there is one like it. */
  addBothWays(pose: Pose, diagonal: boolean): void {
    for (const other of this.all.slice(this.starts.length + this.goals.length)) {
      const off = wrapAngle(2 * (other.heading - pose.heading)) / 2;
      const across = (pose.y - other.y) * other.ux - (pose.x - other.x) * other.uy;
      if (Math.abs(off) < SAME_HEADING && Math.abs(across) < SAME_LANE) return;
    }
    if (this.runsOf(pose, -this.length, this.length).length === 0) return;
    this.put(pose, -this.length, this.length, diagonal);
    this.put({ ...pose, heading: wrapAngle(pose.heading + Math.PI) }, -this.length, this.length, diagonal);
  }

  private runsOf({ x, y, heading }: Pose, from: Millimetres, to: Millimetres): Lane["runs"] {
    return this.ground
      .clearLine(x, y, Math.cos(heading), Math.sin(heading), from, to)
      .filter(([a, b]) => b - a > SHORTEST_RUN);
  }

  private put(pose: Pose, from: Millimetres, to: Millimetres, diagonal: boolean): Lane {
    const { x, y, heading } = pose;
    const [ux, uy] = [Math.cos(heading), Math.sin(heading)];
    const lane: Lane = { index: this.all.length, x, y, heading, ux, uy, runs: this.runsOf(pose, from, to), diagonal };
    this.all.push(lane);
    return lane;
  }
}

/** Number of the clear stretch that holds a place of a lane; -1 where it is not clear. */
export function runAt(lane: Lane, s: Millimetres): number {
  return lane.runs.findIndex(([a, b]) => s >= a - 1e-6 && s <= b + 1e-6);
}
