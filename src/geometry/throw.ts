/**
 * How far a car on two trucks reaches beyond the line it runs on: on a circle by formula, along any path by moving the
 * car along it. Reaches are those of the car's centre line; half its width is for the caller to add.
 *
 * Always holds: reaches are never negative, and zero where no curve lies within a car's length; on a circle longer than
 * the car the inner is `centreThrow` and the outer `endThrow` (within 0.1 mm); mirroring the path exchanges left and
 * right; run the other way they are the same, left and right exchanged.
 */
import { joinPaths, type Path, slicePath } from "./path.js";
import { segmentCurvature } from "./segment.js";
import type { Millimetres } from "./units.js";

export interface CarBody {
  /** Length of the body. */
  readonly length: Millimetres;
  /** Distance between the truck (bogie) centres. */
  readonly truckCentres: Millimetres;
}

export interface SweptThrows {
  /** Reach to the left and to the right of the line at each station asked for, at least 0. */
  readonly left: Float64Array;
  readonly right: Float64Array;
}

/** What the line goes on as before its start and after its end. */
export interface Neighbours {
  readonly before?: Path;
  readonly after?: Path;
}

/**
 * Overthrow to the inside, half way between the trucks: m = R - sqrt(R^2 - (C/2)^2), C the truck centres; nearly C^2 / 8R.
 * Elementary; C^2 / 8R as in railway engineering courses (extra clearance on curves). Infinite where the chord does not
 * fit the circle.
 */
export function centreThrow(radius: Millimetres, truckCentres: Millimetres): Millimetres {
  const half = truckCentres / 2;
  return half <= radius
    ? (half * half) / (radius + Math.sqrt(radius * radius - half * half))
    : Number.POSITIVE_INFINITY;
}

/**
 * End throw to the outside: e = sqrt((R - m)^2 + (L/2)^2) - R; nearly (L^2 - C^2) / 8R. Elementary, as above. Never
 * negative: a body shorter than its truck centres reaches nowhere outside. Infinite where the chord does not fit.
 */
export function endThrow(radius: Millimetres, length: Millimetres, truckCentres: Millimetres): Millimetres {
  const m = centreThrow(radius, truckCentres);
  return Number.isFinite(m) ? Math.max(0, Math.hypot(radius - m, length / 2) - radius) : Number.POSITIVE_INFINITY;
}

/**
 * The car is moved in steps of this; on a radius of 300 mm a reach changes between them by less than step^2 / 8R = 0.05 mm,
 * and where curvature jumps by at most ten times as much.
 */
const STEP: Millimetres = 10;

/** Straights further from any curve than this many body lengths are passed over. */
const CAR_REACH = 1.5;

/** Newton steps to the front truck, which from one step to the next moves by nearly the step. */
const TRUCK_STEPS = 4;

/** A truck is put on the line to this; a thousandth of what is asked of the reach. */
const TRUCK_MM: Millimetres = 1e-4;

/** Along the line the trucks are never further apart than this times their distance: half a circle over its diameter. */
const LONGEST_CHORD = 1.6;

/** A chord still this far out after those steps is not going to fit the curve. */
const TRUCK_LOST: Millimetres = 0.1;

/**
 * Reach of the car to either side of the path at each of the stations (distances along it, rising or not). Beyond its ends
 * the path goes on as `neighbours`, where none is given straight on; where a car at the joint of two tracks matters, give them.
 * Places where the trucks cannot stand (a radius below half their distance) reach half the body's length to the outside
 * and inside. A car without length reaches nowhere.
 */
export function sweptThrows(
  path: Path,
  car: CarBody,
  stations: ArrayLike<Millimetres>,
  neighbours: Neighbours = {},
): SweptThrows {
  const left = new Float64Array(stations.length);
  const right = new Float64Array(stations.length);
  if (
    !(car.length > 0) ||
    (path.segments.every((g) => g.k0 === 0 && g.k1 === 0) && !neighbours.before && !neighbours.after)
  ) {
    return { left, right };
  }
  const reach = CAR_REACH * car.length;
  const before =
    neighbours.before && slicePath(neighbours.before, neighbours.before.length - reach, neighbours.before.length);
  const after = neighbours.after && slicePath(neighbours.after, 0, reach);
  const whole = joinPaths(before ?? slicePath(path, 0, 0), path, ...(after ? [after] : []));
  const line = sampled(whole, reach);
  const swept = sweep(line, car);
  for (let i = 0; i < stations.length; i++) {
    const at = ((stations[i] ?? 0) + (before?.length ?? 0) + line.lead) / STEP;
    const j = Math.min(Math.max(Math.floor(at), 0), line.count - 2);
    const t = Math.min(Math.max(at - j, 0), 1);
    left[i] = mix(swept.left, j, t);
    right[i] = mix(swept.right, j, t);
  }
  return { left, right };
}

const mix = (values: Float64Array, j: number, t: number) => (values[j] ?? 0) * (1 - t) + (values[j + 1] ?? 0) * t;

/** A line at even steps, lengthened straight on at both ends by `lead` at least. */
interface EvenLine {
  readonly count: number;
  readonly lead: Millimetres;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly cos: Float64Array;
  readonly sin: Float64Array;
  /** Mean curvature of the step that follows. */
  readonly k: Float64Array;
}

/**
 * The path at even steps, each from the one before by two-point Gauss quadrature of its heading; at 10 mm and a turn of a
 * tenth a step the error of a step is below 1e-6 mm.
 */
function sampled(path: Path, reach: Millimetres): EvenLine {
  const extra = Math.ceil(reach / STEP) + 1;
  const count = Math.ceil(path.length / STEP) + 2 * extra + 1;
  const lead = extra * STEP;
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  const cos = new Float64Array(count);
  const sin = new Float64Array(count);
  const k = new Float64Array(count);
  let px = path.start.x - lead * Math.cos(path.start.heading);
  let py = path.start.y - lead * Math.sin(path.start.heading);
  let heading = path.start.heading;
  let index = 0;
  // One stretch of linearly changing curvature from a to b; steps may hold several.
  const run = (length: number, ka: number, kb: number) => {
    const node = 0.5 / Math.sqrt(3);
    const turnAt = (u: number) => heading + length * u * (ka + ((kb - ka) * u) / 2);
    const [t1, t2] = [turnAt(0.5 - node), turnAt(0.5 + node)];
    px += (length * (Math.cos(t1) + Math.cos(t2))) / 2;
    py += (length * (Math.sin(t1) + Math.sin(t2))) / 2;
    heading = turnAt(1);
  };
  for (let i = 0; i < count; i++) {
    x[i] = px;
    y[i] = py;
    cos[i] = Math.cos(heading);
    sin[i] = Math.sin(heading);
    const from = i * STEP - lead;
    const to = from + STEP;
    const was = heading;
    let s = from;
    while (s < to) {
      while (index < path.segments.length && (path.stations[index + 1] ?? 0) <= s) index++;
      const g = path.segments[index];
      const begin = path.stations[index] ?? 0;
      const end = s < 0 ? 0 : g ? begin + g.length : Number.POSITIVE_INFINITY;
      const next = Math.min(to, end);
      if (s < 0 || !g) run(next - s, 0, 0);
      else run(next - s, segmentCurvature(g, s - begin), segmentCurvature(g, next - begin));
      if (next <= s) break;
      s = next;
    }
    k[i] = (heading - was) / STEP;
  }
  return { count, lead, x, y, cos, sin, k };
}

/** Greatest reach at each step of the line as the car passes with its rear truck on one after another. */
function sweep(line: EvenLine, car: CarBody): SweptThrows {
  const { count, x, y, cos, sin, k } = line;
  const left = new Float64Array(count);
  const right = new Float64Array(count);
  const overhang = Math.max(0, (car.length - car.truckCentres) / 2);
  const centres = Math.max(car.truckCentres, TRUCK_MM);
  const raise = (i: number, reach: number) => {
    if (reach > 0) {
      if (reach > (left[i] ?? Number.POSITIVE_INFINITY)) left[i] = reach;
    } else if (-reach > (right[i] ?? Number.POSITIVE_INFINITY)) right[i] = -reach;
  };
  const rearEnd = new EndTrace(line, raise);
  const frontEnd = new EndTrace(line, raise);
  const ahead = Math.ceil((centres + overhang) / STEP) + 1;
  const behind = Math.ceil(overhang / STEP) + 1;
  const bend = firstBends(k, ahead + behind);
  let front = centres - STEP;
  for (let i = 0; i < count; i++) {
    front += STEP;
    // On a straight longer than the car it reaches nowhere.
    if ((bend[Math.max(0, i - behind)] ?? count) > i + ahead) {
      rearEnd.lift();
      frontEnd.lift();
      front = i * STEP + centres;
      continue;
    }
    const qx = x[i] ?? 0;
    const qy = y[i] ?? 0;
    let vx = 0;
    let vy = 0;
    let gap = Number.POSITIVE_INFINITY;
    for (let step = 0; step < TRUCK_STEPS && Math.abs(gap) > TRUCK_MM; step++) {
      const j = Math.min(Math.max(Math.floor(front / STEP), i), count - 1);
      const ds = front - j * STEP;
      // To second order: along the middle heading of the part of a step.
      const half = ((k[j] ?? 0) * ds) / 2;
      const c = (cos[j] ?? 1) - half * (sin[j] ?? 0);
      const s = (sin[j] ?? 0) + half * (cos[j] ?? 1);
      vx = (x[j] ?? 0) + ds * c - qx;
      vy = (y[j] ?? 0) + ds * s - qy;
      const chord = Math.hypot(vx, vy);
      gap = centres - chord;
      const rate = (vx * c + vy * s) / chord;
      front += gap / Math.max(0.1, rate);
    }
    if (!(Math.abs(gap) < TRUCK_LOST) || front > i * STEP + LONGEST_CHORD * centres) {
      left[i] = Math.max(left[i] ?? 0, car.length / 2);
      right[i] = Math.max(right[i] ?? 0, car.length / 2);
      rearEnd.lift();
      frontEnd.lift();
      front = i * STEP + centres;
      continue;
    }
    vx /= centres;
    vy /= centres;
    const last = Math.min(count - 1, i + Math.ceil((front - i * STEP + overhang) / STEP) + 1);
    for (let j = Math.max(0, i - behind); j <= last; j++) {
      // Where the normal at j meets the body: P + reach * n = Q + along * v.
      const dx = qx - (x[j] ?? 0);
      const dy = qy - (y[j] ?? 0);
      const facing = (cos[j] ?? 1) * vx + (sin[j] ?? 0) * vy;
      if (facing < 0.1) continue;
      const along = -(dx * (cos[j] ?? 1) + dy * (sin[j] ?? 0)) / facing;
      if (along < -overhang || along > centres + overhang) continue;
      raise(j, (dy * vx - dx * vy) / facing);
    }
    rearEnd.moveTo(qx - overhang * vx, qy - overhang * vy, i - behind);
    frontEnd.moveTo(qx + (centres + overhang) * vx, qy + (centres + overhang) * vy, i + 1);
  }
  return { left, right };
}

/** For each step the first step from there on that bends, no further than needed. */
function firstBends(k: Float64Array, reach: number): Int32Array {
  const first = new Int32Array(k.length);
  let next = k.length + reach;
  for (let i = k.length - 1; i >= 0; i--) {
    if (k[i] !== 0) next = i;
    first[i] = next;
  }
  return first;
}

/** One end of the car: it passes the steps of the line between two places of the car, and its reach there lies between. */
class EndTrace {
  private near = 0;
  private at = Number.NaN;
  private reach = 0;

  constructor(
    private readonly line: EvenLine,
    private readonly raise: (i: number, reach: number) => void,
  ) {}

  /** The car stood nowhere that leads here. */
  lift(): void {
    this.at = Number.NaN;
  }

  /** The end is now at (px, py), not before step `from`. */
  moveTo(px: number, py: number, from: number): void {
    const { count, x, y, cos, sin, k } = this.line;
    let j = Math.max(Number.isNaN(this.at) ? from : this.near, 0);
    let along = 0;
    let beside = 0;
    for (; j < count; j++) {
      const dx = px - (x[j] ?? 0);
      const dy = py - (y[j] ?? 0);
      along = dx * (cos[j] ?? 1) + dy * (sin[j] ?? 0);
      beside = dy * (cos[j] ?? 1) - dx * (sin[j] ?? 0);
      if (along < STEP) break;
    }
    const bend = k[Math.min(j, count - 1)] ?? 0;
    const at = j + along / (1 - bend * beside) / STEP;
    const reach = beside - (bend * along * along) / 2;
    if (!Number.isNaN(this.at) && at > this.at) {
      for (let i = Math.max(0, Math.ceil(this.at)); i <= at && i < count; i++) {
        this.raise(i, this.reach + ((reach - this.reach) * (i - this.at)) / (at - this.at));
      }
    }
    this.near = Math.max(0, j - 1);
    this.at = at;
    this.reach = reach;
  }
}
