/**
 * The shape of a joining path as numbers alone, and the shortest of many: candidates are weighed here without
 * building them, and only the one that stays is turned into segments.
 */
import { NO_LENGTH } from "./path.js";
import { type Segment, straight } from "./segment.js";
import { circleTurn, fullTurn, type Side, type SteeringGear } from "./steering.js";
import type { Millimetres, Radians } from "./units.js";

/** The hands of a path's curves in order: S is a straight between, L left, R right. */
export type PathFamily = "LSL" | "RSR" | "LSR" | "RSL" | "LRL" | "RLR";

/** Goal as seen from the start, which looks along +x from the origin. */
export interface Goal {
  readonly x: Millimetres;
  readonly y: Millimetres;
  /** Within (-pi, pi]. */
  readonly heading: Radians;
}

/** What every search needs to know. */
export interface JoinTask {
  readonly gear: SteeringGear;
  readonly goal: Goal;
  /** Least straight between curves of opposite hand. */
  readonly least: Millimetres;
  readonly best: ShortestShape;
}

/**
 * A shape must be shorter by this to take the place of one found before: of mirror images that rounding makes unequal,
 * always the one whose family comes first is taken.
 */
const SHORTER_BY: Millimetres = 1e-7;

/** How far a straight may come out below its least, for rounding; half of it at most is left at the goal. */
export const STRAIGHT_ROUNDING: Millimetres = 2e-10;

export class ShortestShape {
  length: Millimetres = Number.POSITIVE_INFINITY;
  private family: PathFamily = "LSL";
  private first: Radians = 0;
  private middle: Radians = 0;
  private last: Radians = 0;
  private between: Millimetres = 0;
  private firstSharp = false;
  private lastSharp = false;

  beatenBy(length: Millimetres): boolean {
    return length < this.length - SHORTER_BY;
  }

  /** Deflections in the order travelled, and the straight between curves; `middle` is for the families without S. */
  keep(
    length: Millimetres,
    family: PathFamily,
    first: Radians,
    middle: Radians,
    last: Radians,
    between: Millimetres,
    firstSharp: boolean,
    lastSharp: boolean,
  ): void {
    this.length = length;
    this.family = family;
    this.first = first;
    this.middle = middle;
    this.last = last;
    this.between = between;
    this.firstSharp = firstSharp;
    this.lastSharp = lastSharp;
  }

  get kept(): PathFamily | undefined {
    return this.length < Number.POSITIVE_INFINITY ? this.family : undefined;
  }

  build(gear: SteeringGear): Segment[] {
    const side = firstSide(this.family);
    const turn = (deflection: Radians, hand: Side, sharp: boolean): Segment[] =>
      sharp ? fullTurn(gear, deflection, hand) : circleTurn(gear, deflection, hand);
    const between = this.between > NO_LENGTH ? [straight(this.between)] : [];
    const begin = turn(this.first, side, this.firstSharp);
    const end = turn(this.last, lastSide(this.family), this.lastSharp);
    if (hasStraight(this.family)) return mergeStraights([...begin, ...between, ...end]);
    return mergeStraights([...begin, ...between, ...turn(this.middle, -side as Side, false), ...between, ...end]);
  }
}

/** A turn of nothing is a straight as well, and runs into the next one. */
function mergeStraights(segments: readonly Segment[]): Segment[] {
  const merged: Segment[] = [];
  for (const g of segments) {
    const before = merged.at(-1);
    if (before && isStraight(before) && isStraight(g)) merged[merged.length - 1] = straight(before.length + g.length);
    else merged.push(g);
  }
  return merged;
}

const isStraight = (g: Segment): boolean => g.k0 === 0 && g.k1 === 0;

export const firstSide = (family: PathFamily): Side => (family[0] === "L" ? 1 : -1);
export const lastSide = (family: PathFamily): Side => (family[2] === "L" ? 1 : -1);
export const hasStraight = (family: PathFamily): boolean => family[1] === "S";
