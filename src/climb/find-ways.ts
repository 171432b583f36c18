/**
 * Ways from the start to the goal by lanes and turns, found in order of length: at every lane the few ways of each shape
 * that turn least are kept. A way may pass over itself where the steepest grade has gained the gap since; heights are
 * settled afterwards.
 *
 * Always holds: what is found leads from start to goal, gains the rise at the limit, and never comes near itself with
 * less way between than the gap needs; the same input gives the same ways in the same order.
 */
import FlatQueue from "flatqueue";
import type { Millimetres } from "../geometry/units.js";
import { type Element, nearPlaces, straightElement } from "./element.js";
import { type Lane, runAt } from "./lanes.js";
import { type ClimbLimits, runFor } from "./limits.js";
import type { LaneTurn } from "./turns.js";
import { ROUNDING, straightBetween, TurnsByLane, waysToGoal } from "./way-back.js";

/** A way as far as some turn. */
interface Step {
  readonly turn: LaneTurn | undefined;
  readonly before: Step | undefined;
  /** Way gone when the turn ends. */
  readonly gone: Millimetres;
  readonly cost: number;
  readonly signature: number;
  readonly elements: readonly Element[];
  /** Least rise by which it has passed over itself: passes stacked, times the gap. */
  readonly stacked: Millimetres;
}

export interface Way {
  readonly turns: readonly LaneTurn[];
  readonly length: Millimetres;
  readonly cost: number;
  readonly signature: number;
  readonly elements: readonly Element[];
}

/** Of ways at one place of a lane and of one length so many are kept, of different shapes. */
const KEPT = 5;
const PLACE: Millimetres = 250;
const LENGTH: Millimetres = 350;
/** Ways longer than this times the shortest, or the needed run, are not looked for. */
const MUCH_LONGER = 1.35;
/** Bounds on one search. */
const MOST_STEPS = 250_000;
const MOST_FOUND = 600;

/** Cost in radians of turning: what a builder and an engine mind about a route. */
const COST = { turning: 0.6, reversal: 1.6, curve: 0.45, diagonal: 0.3 / 1000, beyondNeed: 0.12 / 1000 } as const;

export interface WaySearch {
  looked: number;
  /** Longest way to the goal that keeps clear of itself, whether or not it gains the rise. */
  longest: Millimetres | undefined;
  /** Shortest way to the goal at all. */
  shortest: Millimetres;
}

export function* findWays(
  start: Lane,
  goal: Lane,
  turns: readonly LaneTurn[],
  rise: Millimetres,
  limits: ClimbLimits,
  told: WaySearch,
): Generator<Way | undefined, void, void> {
  const byLane = new TurnsByLane(turns);
  const rest = waysToGoal(turns, byLane, goal, limits);
  const needed = runFor(limits, rise, limits.grade);
  const startRun = runAt(start, 0);
  const first = startRun < 0 ? [] : byLane.from(start, startRun);
  for (const turn of first)
    if (turn.leaves >= 0)
      told.shortest = Math.min(told.shortest, turn.leaves + turn.shape.length + (rest[turn.index] ?? Infinity));
  if (!Number.isFinite(told.shortest)) return;
  const longest = Math.max(MUCH_LONGER * needed, 1.25 * told.shortest);
  const reach = limits.apart;
  const queue = new FlatQueue<Step>();
  const kept = new Map<number, Step[]>();
  let found = 0;
  queue.push({ turn: undefined, before: undefined, gone: 0, cost: 0, signature: 1, elements: [], stacked: 0 }, 0);
  for (let step = queue.pop(); step && found < MOST_FOUND && told.looked < MOST_STEPS; step = queue.pop()) {
    if (step.turn && !stillKept(kept, step)) continue;
    if (++told.looked % 500 === 0) yield undefined;
    const lane = step.turn?.to ?? start;
    const run = step.turn?.toRun ?? startRun;
    const s = step.turn?.arrives ?? 0;
    if (step.turn && lane === goal && s <= ROUNDING && runAt(goal, 0) === run) {
      const last = straightElement(...along(lane, s), ...along(lane, 0), step.gone);
      const length = step.gone - s;
      if (step.gone < longest && !conflicts(step, [last], limits, reach, rise)) {
        told.longest = Math.max(told.longest ?? 0, length);
        if (length >= needed) {
          found++;
          const cost = step.cost + COST.beyondNeed * (length - needed);
          yield { ...wayOf(step, last), length, cost };
        }
      }
    }
    const own = byLane.from(lane, run);
    for (let i = firstFrom(own, s - ROUNDING); i < own.length; i++) {
      const turn = own[i];
      if (!turn) break;
      const straight = turn.leaves - s;
      if (straight < straightBetween(step.turn?.hand, turn.hand, limits) - ROUNDING) continue;
      const gone = step.gone + straight + turn.shape.length;
      if (gone + (rest[turn.index] ?? Infinity) > longest) continue;
      const next = extend(step, turn, straight, gone, lane);
      if (!wanted(kept, next)) continue;
      const elements = elementsOf(step, turn, lane, s, straight);
      const stacked = conflicts(step, elements, limits, reach, rise);
      if (stacked === true) continue;
      const whole = { ...next, elements, stacked: stacked === false ? step.stacked : stacked };
      keep(kept, whole);
      queue.push(whole, gone);
    }
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
  const reversed = step.turn !== undefined && step.turn.hand !== turn.hand;
  const cost =
    step.cost +
    COST.turning * turn.shape.angle +
    COST.curve +
    (reversed ? COST.reversal : 0) +
    (lane.diagonal ? COST.diagonal * straight : 0);
  // Shape: the hands in turn, how far each goes round in sixths of a circle, and roughly where.
  const [x, y] = along(turn.to, turn.arrives);
  const sixths = Math.round((3 * turn.shape.angle) / Math.PI);
  const site = Math.round(x / 700) * 31 + Math.round(y / 700) * 17;
  const signature =
    Math.imul(step.signature ^ ((turn.hand === "left" ? 64 : 0) + sixths + site * 128), 0x01000193) >>> 0;
  return { turn, before: step, gone, cost, signature, stacked: step.stacked };
}

function elementsOf(step: Step, turn: LaneTurn, lane: Lane, s: Millimetres, straight: Millimetres): Element[] {
  const { points, stations, box } = turn;
  const curve: Element = { points, stations, box, begins: step.gone + straight, curved: true };
  if (straight <= ROUNDING) return [curve];
  return [straightElement(...along(lane, s), ...along(lane, turn.leaves), step.gone), curve];
}

/**
 * True where the new elements come too near to what was laid before, or to themselves; else false, or how much height
 * the passes over one another take at least.
 */
function conflicts(
  step: Step,
  added: readonly Element[],
  limits: ClimbLimits,
  reach: Millimetres,
  rise: Millimetres,
): boolean | number {
  const { gap, grade, throws } = limits;
  let stacked = false;
  const apart = 2 * (reach + 2 * throws);
  const tell = (earlier: number, later: number): boolean => {
    stacked = true;
    return (later - earlier) * grade < gap;
  };
  for (const later of added) {
    for (let old: Step | undefined = step; old; old = old.before) {
      for (const earlier of old.elements) {
        const far = reach + (earlier.curved ? throws : 0) + (later.curved ? throws : 0);
        if (nearPlaces(earlier, later, far, apart, tell)) return true;
      }
    }
    // A turn of more than a circle comes over itself.
    const turned = later.curved && nearPlaces(later, later, reach + 2 * throws, apart, tell);
    if (turned) return true;
  }
  return stacked && gap > rise ? true : stacked ? gap : false;
}

const cellOf = (turn: LaneTurn, gone: Millimetres): number =>
  (turn.to.index * 4096 + Math.floor(turn.arrives / PLACE) + 2048) * 1024 + Math.floor(gone / LENGTH);

/** Whether a way would be kept beside those known at its place. */
function wanted(kept: ReadonlyMap<number, readonly Step[]>, next: Omit<Step, "elements">): boolean {
  const own = next.turn && kept.get(cellOf(next.turn, next.gone));
  if (!own) return true;
  const same = own.find((other) => other.signature === next.signature);
  if (same) return next.cost < same.cost;
  return own.length < KEPT || own.some((other) => other.cost > next.cost);
}

function keep(kept: Map<number, Step[]>, next: Step): void {
  if (!next.turn) return;
  const cell = cellOf(next.turn, next.gone);
  const own = kept.get(cell);
  if (!own) {
    kept.set(cell, [next]);
    return;
  }
  const same = own.findIndex((other) => other.signature === next.signature);
  if (same >= 0) own[same] = next;
  else if (own.length < KEPT) own.push(next);
  else {
    const worst = own.reduce((w, other, i) => (other.cost > (own[w]?.cost ?? 0) ? i : w), 0);
    own[worst] = next;
  }
}

const stillKept = (kept: ReadonlyMap<number, readonly Step[]>, step: Step): boolean =>
  step.turn !== undefined && (kept.get(cellOf(step.turn, step.gone))?.includes(step) ?? false);

function wayOf(step: Step, last: Element): Pick<Way, "turns" | "signature" | "elements"> {
  const turns: LaneTurn[] = [];
  const elements: Element[][] = [[last]];
  for (let old: Step | undefined = step; old; old = old.before) {
    if (old.turn) turns.unshift(old.turn);
    elements.unshift([...old.elements]);
  }
  return { turns, signature: step.signature, elements: elements.flat() };
}
