/** How far it is at least from the end of every turn to the goal, by the turns there are; a bound for the search. */
import FlatQueue from "flatqueue";
import type { Hand } from "../geometry/turn.js";
import type { Millimetres } from "../geometry/units.js";
import { type Lane, runAt } from "./lanes.js";
import type { ClimbLimits } from "./limits.js";
import type { LaneTurn } from "./lane-turn.js";

/** A turn may follow another this little before its place: rounding. */
export const ROUNDING: Millimetres = 1e-6;

/** Turns by the lane and clear stretch they leave, in order of the place they leave at. */
export class TurnsByLane {
  private readonly leaving = new Map<number, LaneTurn[]>();
  private readonly arriving = new Map<number, LaneTurn[]>();

  constructor(turns: readonly LaneTurn[]) {
    for (const turn of turns) {
      push(this.leaving, key(turn.from.index, turn.fromRun), turn);
      push(this.arriving, key(turn.to.index, turn.toRun), turn);
    }
    for (const own of this.leaving.values()) own.sort((a, b) => a.leaves - b.leaves || a.index - b.index);
  }

  from(lane: Lane, run: number): readonly LaneTurn[] {
    return this.leaving.get(key(lane.index, run)) ?? [];
  }

  to(lane: Lane, run: number): readonly LaneTurn[] {
    return this.arriving.get(key(lane.index, run)) ?? [];
  }
}

const key = (lane: number, run: number): number => lane * 1000 + run;
function push(map: Map<number, LaneTurn[]>, at: number, turn: LaneTurn): void {
  const own = map.get(at);
  if (own) own.push(turn);
  else map.set(at, [turn]);
}

/** Straight asked for on a lane between two turns. */
export const straightBetween = (a: Hand | undefined, b: Hand | undefined, limits: ClimbLimits): number =>
  a === undefined || b === undefined || a === b ? 0 : limits.reverse;

/** By turn: shortest way from its end to a goal, at distance 0 of its lane; infinite where none leads there. */
export function waysToGoal(
  turns: readonly LaneTurn[],
  byLane: TurnsByLane,
  goals: readonly Lane[],
  limits: ClimbLimits,
): Float64Array {
  const rest = new Float64Array(turns.length).fill(Number.POSITIVE_INFINITY);
  const queue = new FlatQueue<number>();
  for (const goal of goals) {
    for (const turn of byLane.to(goal, runAt(goal, 0))) {
      if (turn.arrives > ROUNDING) continue;
      rest[turn.index] = -turn.arrives;
      queue.push(turn.index, -turn.arrives);
    }
  }
  const settled = new Uint8Array(turns.length);
  for (let index = queue.pop(); index !== undefined; index = queue.pop()) {
    const turn = turns[index];
    if (!turn || settled[index]) continue;
    settled[index] = 1;
    const beyond = (rest[index] ?? 0) + turn.length;
    for (const before of byLane.to(turn.from, turn.fromRun)) {
      const straight = turn.leaves - before.arrives;
      if (
        settled[before.index] ||
        straight < straightBetween(before.parts.at(-1)?.hand, turn.parts[0]?.hand, limits) - ROUNDING
      )
        continue;
      const way = beyond + straight;
      if (way >= (rest[before.index] ?? 0)) continue;
      rest[before.index] = way;
      queue.push(before.index, way);
    }
  }
  return rest;
}
