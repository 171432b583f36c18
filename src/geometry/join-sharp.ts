/**
 * Joining paths of curve, straight, curve with a sharp turn at either end or both: deflections too small for full
 * easements. The direction of the straight is found where the straight, run on from the first turn, meets the last one.
 *
 * The distance by which it misses falls steadily with the direction turned to (to the left) as long as there is a
 * straight to run, so a stretch of directions holds at most one path, and a change of sign brackets it.
 */
import { bracketedRoot, type Crossing } from "./bracketed-root.js";
import { firstSide, type JoinTask, lastSide, type PathFamily, STRAIGHT_ROUNDING } from "./join-shape.js";
import { circleTurnLength, sharpChord, sharpSpiral, type Side, type SteeringGear } from "./steering.js";
import { type Millimetres, positiveAngle, type Radians } from "./units.js";

const CIRCLE = 2 * Math.PI;

/** A miss this small is lost in the rounding of coordinates of some metres. */
const MISS_ROUNDING: Millimetres = 1e-12;

/**
 * Each stretch is looked at in parts this long (radians), so that the straight's sign is followed closely enough. With
 * easements up to the radius the ends of a stretch would do: in 200,000 random joins 60 parts found no shorter path.
 */
const PART: Radians = 0.25;

export function trySharpTurns(task: JoinTask, family: PathFamily): void {
  const { leastTurn } = task.gear;
  if (leastTurn === 0) return;
  const miss = new Miss(task, family);
  const { meeting, rising } = miss;
  // Places along the first deflection where either turn becomes small, vanishes or comes round again.
  const places = rising
    ? [CIRCLE - meeting, CIRCLE - meeting + leastTurn, leastTurn - meeting]
    : [meeting - leastTurn, meeting, meeting + CIRCLE - leastTurn];
  places.push(leastTurn);
  places.sort((p, q) => p - q);
  let from = 0;
  for (let i = 0; i <= places.length; i++) {
    const to = Math.min(places[i] ?? CIRCLE, CIRCLE);
    if (to <= from) continue;
    tryStretch(miss, from, to);
    from = to;
  }
}

/** One stretch of first deflections over which neither turn changes its kind or comes round. */
function tryStretch(miss: Miss, from: Radians, to: Radians): void {
  const { leastTurn, radius } = miss.gear;
  const middle = (from + to) / 2;
  miss.setLast(middle);
  const firstSmall = middle < leastTurn;
  const lastSmall = miss.last(middle) < leastTurn;
  if (!firstSmall && !lastSmall) return;
  if (!miss.best.beatenBy(radius * (from + Math.min(miss.last(from), miss.last(to))))) return;
  miss.firstSharp = firstSmall;
  miss.lastSharp = lastSmall;
  findInStretch(miss, from, to);
}

function findInStretch(miss: Miss, from: Radians, to: Radians): void {
  let x0 = from;
  let f0 = miss.cross(x0);
  let run0 = miss.run;
  if (Math.abs(f0) < STRAIGHT_ROUNDING) miss.offer(x0);
  const parts = Math.ceil((to - from) / PART);
  for (let part = 1; part <= parts; part++) {
    const x1 = from + ((to - from) * part) / parts;
    const f1 = miss.cross(x1);
    const run1 = miss.run;
    findInPart(miss, x0, f0, run0 - miss.least, x1, f1, run1 - miss.least);
    x0 = x1;
    f0 = f1;
    run0 = run1;
  }
  if (Math.abs(f0) < STRAIGHT_ROUNDING) {
    miss.cross(x0);
    miss.offer(x0);
  }
}

function findInPart(
  miss: Miss,
  x0: Radians,
  f0: Millimetres,
  spare0: Millimetres,
  x1: Radians,
  f1: Millimetres,
  spare1: Millimetres,
): void {
  if (spare0 < 0 && spare1 < 0) return;
  if (spare0 < 0 || spare1 < 0) {
    // Cut the part down to where there is a straight to run.
    const x = bracketedRoot(miss.spare, x0, x1, spare0, spare1, 0);
    const f = miss.cross(x);
    if (spare0 < 0) findRoot(miss, x, f, x1, f1);
    else findRoot(miss, x0, f0, x, f);
  } else findRoot(miss, x0, f0, x1, f1);
}

function findRoot(miss: Miss, x0: Radians, f0: Millimetres, x1: Radians, f1: Millimetres): void {
  if (f0 > 0 === f1 > 0) return;
  const x = bracketedRoot(miss, x0, x1, f0, f1, MISS_ROUNDING);
  miss.cross(x);
  miss.offer(x);
}

/** By how much a path with a given first deflection passes the goal, to the left of it or the right. */
class Miss implements Crossing {
  readonly gear: SteeringGear;
  readonly a: Side;
  readonly b: Side;
  /** Last deflection for a first one of nothing. */
  readonly meeting: Radians;
  /** Whether the last deflection grows with the first. */
  readonly rising: boolean;
  readonly least: Millimetres;
  firstSharp = false;
  lastSharp = false;
  /** Length of the straight at the place last asked for. */
  run: Millimetres = 0;
  /** The straight beyond the least one wanted, as a function of its own. */
  readonly spare: Crossing = { cross: (x) => this.spareAt(x) };
  private round: Radians = 0;

  constructor(
    private readonly task: JoinTask,
    private readonly family: PathFamily,
  ) {
    this.gear = task.gear;
    this.a = firstSide(family);
    this.b = lastSide(family);
    this.meeting = positiveAngle(this.b * task.goal.heading);
    this.rising = this.a !== this.b;
    this.least = this.rising ? task.least : 0;
  }

  get best() {
    return this.task.best;
  }

  /** Chooses the whole circles that bring the last deflection into one circle about a first deflection of x. */
  setLast(x: Radians): void {
    const last = this.meeting + (this.rising ? x : -x);
    this.round = last < 0 ? CIRCLE : last >= CIRCLE ? -CIRCLE : 0;
  }

  last(x: Radians): Radians {
    return Math.max(0, this.meeting + this.round + (this.rising ? x : -x));
  }

  /** All in the frame of the straight: the goal less where either turn leads. */
  cross(x: Radians): Millimetres {
    const { gear, a, b } = this;
    const { goal } = this.task;
    const { advance, offset } = gear;
    const sin = Math.sin(x);
    const cos = Math.cos(x);
    let along = goal.x * cos + a * goal.y * sin;
    let aside = goal.y * cos - a * goal.x * sin;
    if (this.firstSharp) {
      const chord = sharpChord(gear, x);
      along -= chord * Math.cos(x / 2);
      aside += a * chord * Math.sin(x / 2);
    } else {
      along -= advance * (1 + cos) + offset * sin;
      aside += a * (advance * sin + offset * (1 - cos));
    }
    const last = this.last(x);
    if (this.lastSharp) {
      const chord = sharpChord(gear, last);
      along -= chord * Math.cos(last / 2);
      aside -= b * chord * Math.sin(last / 2);
    } else {
      const lastSin = Math.sin(last);
      const lastCos = Math.cos(last);
      along -= advance * (1 + lastCos) + offset * lastSin;
      aside -= b * (advance * lastSin + offset * (1 - lastCos));
    }
    this.run = along;
    return aside;
  }

  private spareAt(x: Radians): Millimetres {
    this.cross(x);
    return this.run - this.least;
  }

  /** Weighs the path at x, where `cross` was asked last. */
  offer(x: Radians): void {
    if (this.run < this.least - STRAIGHT_ROUNDING) return;
    const { gear, best } = this;
    const between = Math.max(this.least, this.run);
    const last = this.last(x);
    const begin = this.firstSharp ? 2 * sharpSpiral(gear, x) : circleTurnLength(gear, x);
    const end = this.lastSharp ? 2 * sharpSpiral(gear, last) : circleTurnLength(gear, last);
    const length = begin + between + end;
    if (best.beatenBy(length)) best.keep(length, this.family, x, 0, last, between, this.firstSharp, this.lastSharp);
  }
}
