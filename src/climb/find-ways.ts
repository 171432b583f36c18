/**
 * Ways from the start to the goal by lanes and turns, found in order of length: at every lane the few ways of each shape
 * that turn least are kept. A way may pass over itself where the steepest grade has gained the gap since; heights are
 * settled afterwards.
 *
 * Always holds: what is found leads from start to goal, gains the rise at the limit, and never comes near itself with
 * less way between than the gap needs; the same input gives the same ways in the same order.
 */
import FlatQueue from "flatqueue";
import type { Hand } from "../geometry/turn.js";
import type { Millimetres } from "../geometry/units.js";
import { type Element, nearPlaces, straightElement } from "./element.js";
import { type Lane, runAt } from "./lanes.js";
import type { ClimbLimits } from "./limits.js";
import { type Rise, runFor } from "./task.js";
import type { ExistingTrack } from "./existing-track.js";
import { Passing } from "./passing.js";
import type { LaneTurn } from "./lane-turn.js";
import { ROUNDING, straightBetween, TurnsByLane, waysToGoal } from "./way-back.js";

/** A way as far as some turn. */
interface Step {
  readonly turn: LaneTurn | undefined;
  readonly start: Lane;
  readonly before: Step | undefined;
  /** Hand of the last curve. */
  readonly hand: Hand | undefined;
  /** Radius of its sharpest curve. */
  readonly sharpest: Millimetres;
  /** Way gone when the turn ends. */
  readonly gone: Millimetres;
  readonly cost: number;
  readonly signature: number;
  readonly elements: readonly Element[];
}

export interface Way {
  /** The lanes of the ends it leads from and to. */
  readonly start: Lane;
  readonly goal: Lane;
  readonly turns: readonly LaneTurn[];
  readonly length: Millimetres;
  readonly cost: number;
  readonly signature: number;
  readonly elements: readonly Element[];
}

/** Places of a lane and lengths this near are one; of a long way lengths in so many steps. */
const PLACE: Millimetres = 400;
const LENGTH: Millimetres = 500;
const LENGTHS = 24;
/** Ways longer than this times the shortest, or the needed run, are not looked for. */
const MUCH_LONGER = 1.35;
/** Bounds on one search: what a room like the samples takes several times over, and still seconds. */
const MOST_STEPS = 16_000;
const MOST_FOUND = 600;

/** Cost in radians of turning: what a builder and an engine mind about a route. */
const COST = { turning: 0.6, reversal: 1.6, curve: 0.45, diagonal: 0.3 / 1000, beyondNeed: 0.12 / 1000 } as const;

export interface WaySearch {
  looked: number;
  /** Longest way to the goal that keeps clear of itself, whether or not it gains the rise. */
  longest: Millimetres | undefined;
  /** Ways that cost more are of no use; whoever asks may lower it as routes are found. */
  bound: number;
  /** Shortest way to the goal at all. */
  shortest: Millimetres;
}

export interface WayTask {
  readonly starts: readonly Lane[];
  readonly goals: readonly Lane[];
  readonly turns: readonly LaneTurn[];
  /** Greatest height a start has; what the search goes by until heights are settled. */
  readonly low: Millimetres;
  /** The rise from a start to a goal. */
  readonly riseOf: (start: Lane, goal: Lane) => Rise;
  readonly limits: ClimbLimits;
  readonly existing: ExistingTrack;
}

/** `breadth`: of ways at one place of a lane and of one length so many are kept, of different shapes. */
export function* findWays(
  { starts, goals, turns, low, riseOf, limits, existing }: WayTask,
  told: WaySearch,
  breadth: number,
): Generator<Way | undefined, void, void> {
  const byLane = new TurnsByLane(turns);
  const rest = waysToGoal(turns, byLane, goals, limits);
  const needs = new RunNeeded(riseOf, limits);
  const queue = new FlatQueue<Step>();
  let most = 0;
  for (const start of starts) {
    const run = runAt(start, 0);
    for (const goal of goals) {
      // On the sharpest curves the grade felt asks for the longest run.
      most = Math.max(most, needs.of(start, goal, limits.radius));
    }
    if (run < 0) continue;
    for (const turn of byLane.from(start, run))
      if (turn.leaves >= -ROUNDING)
        told.shortest = Math.min(told.shortest, turn.leaves + turn.length + (rest[turn.index] ?? Infinity));
    const none = { turn: undefined, before: undefined, hand: undefined, sharpest: Infinity };
    queue.push({ ...none, start, gone: 0, cost: 0, signature: 1 + start.index, elements: [] }, 0);
  }
  if (!Number.isFinite(told.shortest)) return;
  const longest = Math.max(MUCH_LONGER * most, 1.25 * told.shortest);
  const highest = Math.max(...starts.flatMap((start) => goals.map((goal) => riseOf(start, goal).rise)));
  const reach = limits.apart;
  const passing = new Passing(existing, low, limits);
  const kept = new Kept(breadth, Math.max(LENGTH, longest / LENGTHS));
  let found = 0;
  const until = told.looked + MOST_STEPS;
  for (let step = queue.pop(); step && found < MOST_FOUND && told.looked < until; step = queue.pop()) {
    if (step.turn && (!kept.has(step) || step.cost > told.bound)) continue;
    if (++told.looked % 200 === 0) yield undefined;
    const lane = step.turn?.to ?? step.start;
    const run = step.turn?.toRun ?? runAt(lane, 0);
    const s = step.turn?.arrives ?? 0;
    if (step.turn && s <= ROUNDING && goals.includes(lane) && runAt(lane, 0) === run) {
      const last = straightElement(...along(lane, s), ...along(lane, 0), step.gone);
      const length = step.gone - s;
      if (
        length < longest &&
        passing.along(lane, s, 0, step.gone) &&
        !conflicts(step, [last], limits, reach, highest, step.sharpest)
      ) {
        told.longest = Math.max(told.longest ?? 0, length);
        const needed = needs.of(step.start, lane, step.sharpest);
        if (length >= needed - ROUNDING) {
          found++;
          const cost = step.cost + COST.beyondNeed * (length - needed);
          yield { ...wayOf(step, last), start: step.start, goal: lane, length, cost };
        }
      }
    }
    const own = byLane.from(lane, run);
    for (let i = firstFrom(own, s - ROUNDING); i < own.length; i++) {
      const turn = own[i];
      if (!turn) break;
      const straight = turn.leaves - s;
      if (straight < straightBetween(step.hand, turn.parts[0]?.hand, limits) - ROUNDING) continue;
      const gone = step.gone + straight + turn.length;
      if (gone + (rest[turn.index] ?? Infinity) > longest) continue;
      const next = extend(step, turn, straight, gone, lane);
      if (next.cost > told.bound || !kept.wants(next)) continue;
      if (passing.notBefore(turn) > step.gone + straight) continue;
      if (!passing.along(lane, s, turn.leaves, step.gone)) continue;
      const elements = elementsOf(step, turn, lane, s, straight);
      if (conflicts(step, elements, limits, reach, highest, next.sharpest)) continue;
      const whole = { ...next, elements };
      kept.put(whole);
      queue.push(whole, gone);
    }
  }
}

/** The run a way must have, by its ends and its sharpest curve. */
class RunNeeded {
  private readonly known = new Map<string, Millimetres>();

  constructor(
    private readonly riseOf: WayTask["riseOf"],
    private readonly limits: ClimbLimits,
  ) {}

  of(start: Lane, goal: Lane, sharpest: Millimetres): Millimetres {
    const key = `${start.index} ${goal.index} ${sharpest}`;
    let known = this.known.get(key);
    if (known === undefined) {
      known = runFor(this.limits, this.riseOf(start, goal), this.limits.gradeOn(sharpest));
      this.known.set(key, known);
    }
    return known;
  }
}

const along = (lane: Lane, s: Millimetres): [number, number] => [lane.x + s * lane.ux, lane.y + s * lane.uy];

function firstFrom(turns: readonly LaneTurn[], s: Millimetres): number {
  let low = 0;
  let high = turns.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((turns[middle]?.leaves ?? 0) < s) low = middle + 1;
    else high = middle;
  }
  return low;
}

function extend(
  step: Step,
  turn: LaneTurn,
  straight: Millimetres,
  gone: Millimetres,
  lane: Lane,
): Omit<Step, "elements"> {
  let { cost, hand, signature, sharpest } = step;
  for (const part of turn.parts) {
    cost += COST.turning * part.shape.angle + COST.curve + (hand && hand !== part.hand ? COST.reversal : 0);
    hand = part.hand;
    sharpest = Math.min(sharpest, part.shape.radius);
    // Shape: the hands in turn, how far each goes round in sixths of a circle, and roughly where.
    signature = mixed(signature, (hand === "left" ? 64 : 0) + Math.round((3 * part.shape.angle) / Math.PI));
  }
  const [x, y] = along(turn.to, turn.arrives);
  signature = mixed(signature, Math.round(x / 700) * 31 + Math.round(y / 700));
  if (lane.diagonal) cost += COST.diagonal * straight;
  return { turn, start: step.start, before: step, hand, sharpest, gone, cost, signature };
}

const mixed = (signature: number, with_: number): number => Math.imul(signature ^ with_, 0x01000193) >>> 0;

function elementsOf(step: Step, turn: LaneTurn, lane: Lane, s: Millimetres, straight: Millimetres): Element[] {
  const { points, stations, box } = turn;
  const curve: Element = { points, stations, box, begins: step.gone + straight, curved: true };
  if (straight <= ROUNDING) return [curve];
  return [straightElement(...along(lane, s), ...along(lane, turn.leaves), step.gone), curve];
}

/** Whether the new elements come too near to what was laid before, or to one another, or pass over more than there is rise for. */
function conflicts(
  step: Step,
  added: readonly Element[],
  limits: ClimbLimits,
  reach: Millimetres,
  rise: Millimetres,
  sharpest: Millimetres,
): boolean {
  const { gap, throws } = limits;
  const grade = limits.gradeOn(sharpest);
  const apart = 2 * (reach + 2 * throws);
  const tell = (earlier: number, later: number): boolean => gap > rise || (later - earlier) * grade < gap;
  const meets = (earlier: Element, later: Element): boolean => {
    const far = reach + (earlier.curved ? throws : 0) + (later.curved ? throws : 0);
    return nearPlaces(earlier, later, far, apart, tell);
  };
  return added.some((later, i) => {
    for (let old: Step | undefined = step; old; old = old.before)
      for (const earlier of old.elements) if (meets(earlier, later)) return true;
    // A turn of more than a circle comes over itself, and over the straight it left.
    return added.slice(0, i).some((earlier) => meets(earlier, later)) || (later.curved && meets(later, later));
  });
}

/** The ways kept at every place of a lane, by length. */
class Kept {
  private readonly cells = new Map<number, Step[]>();

  constructor(
    private readonly breadth: number,
    private readonly step: Millimetres,
  ) {}

  has(step: Step): boolean {
    return step.turn !== undefined && (this.cells.get(this.cellOf(step.turn, step.gone))?.includes(step) ?? false);
  }

  /** Whether a way would be kept beside those known at its place. */
  wants(next: Omit<Step, "elements">): boolean {
    const own = next.turn && this.cells.get(this.cellOf(next.turn, next.gone));
    if (!own) return true;
    const same = own.find((other) => other.signature === next.signature);
    if (same) return next.cost < same.cost;
    return own.length < this.breadth || own.some((other) => other.cost > next.cost);
  }

  put(next: Step): void {
    if (!next.turn) return;
    const cell = this.cellOf(next.turn, next.gone);
    const own = this.cells.get(cell);
    if (!own) {
      this.cells.set(cell, [next]);
      return;
    }
    const same = own.findIndex((other) => other.signature === next.signature);
    if (same >= 0) own[same] = next;
    else if (own.length < this.breadth) own.push(next);
    else {
      const worst = own.reduce((w, other, i) => (other.cost > (own[w]?.cost ?? 0) ? i : w), 0);
      own[worst] = next;
    }
  }

  private cellOf(turn: LaneTurn, gone: Millimetres): number {
    return (turn.to.index * 4096 + Math.floor(turn.arrives / PLACE) + 2048) * 1024 + Math.floor(gone / this.step);
  }
}

function wayOf(step: Step, last: Element): Pick<Way, "turns" | "signature" | "elements"> {
  const turns: LaneTurn[] = [];
  const elements: Element[][] = [[last]];
  for (let old: Step | undefined = step; old; old = old.before) {
    if (old.turn) turns.unshift(old.turn);
    elements.unshift([...old.elements]);
  }
  return { turns, signature: step.signature, elements: elements.flat() };
}
