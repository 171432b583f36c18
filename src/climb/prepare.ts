/**
 * What a search prepares before it looks for ways: the ground, the lanes on it and the turns between them. It depends on
 * radius, easement and ends, and of grade and rise only by the helices, so that searches that differ in those share it.
 */
import { reversePose } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import { balloons } from "./balloons.js";
import { diagonals } from "./diagonals.js";
import type { PlacedEnd } from "./ends.js";
import { ExistingTrack } from "./existing-track.js";
import { climbGround, type Ground } from "./ground.js";
import { Helices } from "./helices.js";
import { Lanes } from "./lanes.js";
import type { ClimbLimits } from "./limits.js";
import type { ClimbRequest, ClimbStep } from "./request.js";
import { Turns } from "./turns.js";
import type { LaneTurn } from "./lane-turn.js";

export interface Ends {
  readonly from: readonly PlacedEnd[];
  readonly to: readonly PlacedEnd[];
  /** The lowest start and the highest goal. */
  readonly low: number;
  readonly high: number;
}

export interface Prepared {
  readonly ground: Ground;
  readonly lanes: Lanes;
  /** Turns without whole circles in them, and those with. */
  readonly turns: readonly LaneTurn[];
  readonly helices: readonly LaneTurn[];
  readonly existing: ExistingTrack;
}

/** The ground of a plan and request; it serves every radius. */
export const groundOf = (layout: Layout, { low, high }: Ends, request: ClimbRequest, limits: ClimbLimits): Ground =>
  climbGround(layout, low, high, request.allow ?? [], limits);

export function* prepare(
  layout: Layout,
  { from, to, low, high }: Ends,
  ground: Ground,
  limits: ClimbLimits,
): Generator<ClimbStep, Prepared, void> {
  const starts = from.map(({ pose }) => pose);
  const goals = to.map(({ pose }) => reversePose(pose));
  const lanes = new Lanes(ground, starts, goals, limits);
  const turns = new Turns(ground, limits);
  const isStart = new Set(lanes.starts);
  const isGoal = new Set(lanes.goals);
  const between = function* (stage: string, wanted: (a: boolean, b: boolean) => boolean): Generator<ClimbStep> {
    for (const a of lanes.all) {
      // Nothing leads on from a goal, nor back to a start.
      if (!isGoal.has(a))
        for (const b of lanes.all) if (!isStart.has(b) && wanted(a.diagonal, b.diagonal)) turns.between(a, b);
      if (a.index % 8 === 7) yield { kind: "progress", stage, looked: a.index, found: turns.all.length };
    }
  };
  yield* between("turns", () => true);
  for (const pose of diagonals(lanes.all, turns.all, ground, limits)) lanes.addBothWays(pose, true);
  yield* between("diagonals", (a, b) => a || b);
  const helices = yield* helicesFor(lanes, turns.all, ground, limits, high - low);
  return { ground, lanes, turns: turns.all, helices, existing: existingTrack(layout, { from, to, low, high }, limits) };
}

/** The helices a grade and a rise ask for. */
export function* helicesFor(
  lanes: Lanes,
  turns: readonly LaneTurn[],
  ground: Ground,
  limits: ClimbLimits,
  rise: Millimetres,
): Generator<ClimbStep, readonly LaneTurn[], void> {
  const helices = new Helices(ground, limits, rise, turns.length);
  helices.of(turns);
  for (const a of lanes.all) {
    if (!lanes.goals.includes(a)) for (const b of lanes.all) if (!lanes.starts.includes(b)) helices.between(a, b);
    if (a.index % 8 === 7)
      yield { kind: "progress", stage: "helices", looked: a.index, found: turns.length + helices.all.length };
  }
  const first = turns.length + helices.all.length;
  const onto = lanes.all.filter((lane) => !lanes.goals.includes(lane));
  const off = lanes.all.filter((lane) => !lanes.starts.includes(lane));
  return [...helices.all, ...balloons(onto, off, ground, limits, rise, first)];
}

export const existingTrack = (layout: Layout, { from, to, low, high }: Ends, limits: ClimbLimits): ExistingTrack =>
  new ExistingTrack(
    layout,
    limits,
    [...from, ...to].map(({ pose: { x, y }, height }) => ({ x, y, height })),
    low,
    high,
  );
