/**
 * Fouling points: how far on from where two ways part cars on the one stand clear of cars on the other. That is where
 * their spacing, less what the longest cars reach toward each other, comes to be worth the track centres of the class
 * that asks for more, as track spacing is judged, and stays so for the length of a car.
 *
 * Always holds: exchanging left and right changes nothing; wider centres never bring a fouling point nearer; ways that
 * do not come to part have none.
 */
import { poseAt } from "../geometry/path.js";
import type { Millimetres } from "../geometry/units.js";
import type { Crossing, Layout } from "../layout/layout.js";
import type { LineKey, LinePlace } from "../layout/line.js";
import { besideAtStart, firstLine, type Run, sectionsOf } from "../layout/sections.js";
import type { Id, Standards } from "../plan/schema.js";
import { legReach, legShape, type LegShape, type Piece, placeAlong, shapeOf } from "./leg-shape.js";
import { lineContexts } from "./line-context.js";
import { rememberBeside } from "./remember.js";

/** Distances of lines are found within this, mm; centres short by less are kept, as they are where spacing is judged. */
const FOUND_WITHIN: Millimetres = 0.1;
/** A fouling point is found to this along the way; a tenth of what is asked of it. */
const EXACT: Millimetres = 0.01;
/** Steps that halve what is left at least: from 25 mm to far below EXACT. */
const MOST_STEPS = 30;
/** Newton steps to a foot that a chord has found within a tenth of a millimetre or so. */
const FOOT_STEPS = 3;
/** Ways no farther apart lie to no side of one another, mm. */
const NO_SIDE: Millimetres = 0.5;

/**
 * Distance along the leg a run begins from where ways part to its fouling point with every other leg there; 0 where no
 * other leaves, undefined where they do not part.
 */
export function legFouling(layout: Layout, run: Run): Millimetres | undefined {
  const others = besideAtStart(sectionsOf(layout.network), run);
  if (others.length === 0) return 0;
  const shape = legShape(layout, run);
  let furthest: Millimetres = 0;
  for (const other of others) {
    const parts = partsAt(shape, legShape(layout, other), layout.plan.standards);
    if (parts === undefined) return undefined;
    furthest = Math.max(furthest, parts);
  }
  return furthest;
}

export interface FoulingPoint {
  /** Line by which the leg leaves the points: the host's, or that of a route. */
  readonly line: LineKey;
  /** Along the leg from the points, mm; undefined where the routes do not part. */
  readonly distance: Millimetres | undefined;
  /** Where that is. */
  readonly place: LinePlace | undefined;
}

/** The fouling points of a turnout, one for each route, the through route among them; none for one that is not there. */
export function foulingPoint(layout: Layout, turnout: Id): readonly FoulingPoint[] {
  const placed = layout.turnouts.get(turnout);
  const first = placed?.routes[0] && layout.network.byLine.get(placed.routes[0].line)?.[0];
  if (!placed || !first) return [];
  const sections = sectionsOf(layout.network);
  // Routes part a little beyond the points, where the lead curve begins.
  const inside = (placed.departs - placed.at) * placed.direction;
  return (sections.leaving.get(first.a.node)?.[first.a.side] ?? []).map((run) => {
    const parts = legFouling(layout, run);
    const place = parts === undefined ? undefined : placeAlong(legShape(layout, run), parts);
    return {
      line: firstLine(sections, run) ?? placed.host,
      distance: parts === undefined ? undefined : parts + inside,
      place: place && { line: place.line.key, s: place.s },
    };
  });
}

/** The fouling points of a crossing on the level: on each line before it and after it, as distances from the crossing. */
export function crossingFouling(
  layout: Layout,
  { a, b }: Crossing,
): readonly {
  readonly line: LineKey;
  readonly before: Millimetres | undefined;
  readonly after: Millimetres | undefined;
}[] {
  const [armsA, armsB] = [armsOf(layout, a), armsOf(layout, b)];
  const { standards } = layout.plan;
  const parts = (arm: LegShape, others: readonly LegShape[]): Millimetres | undefined => {
    const each = others.map((other) => partsAt(arm, other, standards));
    return each.every((d) => d !== undefined) ? Math.max(0, ...each) : undefined;
  };
  const both = ({ line }: LinePlace, arms: readonly [LegShape, LegShape], others: readonly LegShape[]) => ({
    line,
    before: parts(arms[0], others),
    after: parts(arms[1], others),
  });
  return [both(a, armsA, armsB), both(b, armsB, armsA)];
}

/** Part of a line that is no edge. */
const NO_EDGE = -1;

/** A line back from a place, and on from it. */
function armsOf(layout: Layout, { line, s }: LinePlace): readonly [LegShape, LegShape] {
  const context = lineContexts(layout).get(line);
  const length = context?.line.path.length ?? 0;
  const { standards } = layout.plan;
  const arm = (from: Millimetres, to: Millimetres, forwards: boolean): LegShape => {
    const piece: Piece | undefined = context && { context, edge: NO_EDGE, from, to, forwards, begin: 0 };
    return shapeOf(piece ? [piece] : [], standards, legReach(standards));
  };
  return [arm(0, s, false), arm(s, length, true)];
}

/** How far along a it has parted from b for good; undefined where it does not. Both begin at one place. */
const partsAt = rememberBeside((a: LegShape, b: LegShape, standards: Standards): Millimetres | undefined => {
  const car = standards.longestCar.value.length;
  const pair: Pair = { a, b, slack: standards.curveSlack?.value ?? 0 };
  let j = 0;
  let clearFrom: number | undefined;
  for (let i = 0; i < a.count; i++) {
    j = nearestChord(b, a.x[i] ?? 0, a.y[i] ?? 0, j);
    const clear = spareAt(pair, i, j) >= 0;
    if (!clear) clearFrom = undefined;
    else clearFrom ??= i;
    // As long as a car stands clear, whatever comes after is another matter.
    if (clearFrom !== undefined && (a.d[i] ?? 0) - (a.d[clearFrom] ?? 0) >= car) break;
  }
  if (clearFrom === undefined) return undefined;
  return clearFrom === 0 ? 0 : between(pair, clearFrom);
});

interface Pair {
  readonly a: LegShape;
  readonly b: LegShape;
  readonly slack: Millimetres;
}

/** Chord of a way nearest to a point, looked for onward from one that was nearest to the point before. */
function nearestChord(b: LegShape, x: number, y: number, from: number): number {
  let j = from;
  let here = toChord(b, j, x, y);
  while (j + 2 < b.count) {
    const next = toChord(b, j + 1, x, y);
    if (next > here) break;
    here = next;
    j++;
  }
  return j;
}

/** Square of the distance to chord j. */
function toChord(b: LegShape, j: number, x: number, y: number): number {
  const t = shareOf(b, j, x, y);
  return (mix(b.x, j, t) - x) ** 2 + (mix(b.y, j, t) - y) ** 2;
}

function shareOf(b: LegShape, j: number, x: number, y: number): number {
  const [x0, y0] = [b.x[j] ?? 0, b.y[j] ?? 0];
  const [dx, dy] = [(b.x[j + 1] ?? x0) - x0, (b.y[j + 1] ?? y0) - y0];
  const square = dx * dx + dy * dy;
  return square > 0 ? Math.min(1, Math.max(0, ((x - x0) * dx + (y - y0) * dy) / square)) : 0;
}

const mix = (values: Float64Array, i: number, t: number): number => {
  const from = values[i] ?? 0;
  return t === 0 ? from : from + t * ((values[i + 1] ?? from) - from);
};

/** What the spacing is worth at point i of a against chord j of b, over what is asked: below 0 where cars foul. */
function spareAt(pair: Pair, i: number, j: number): Millimetres {
  const { a, b } = pair;
  const [x, y] = [a.x[i] ?? 0, a.y[i] ?? 0];
  const u = shareOf(b, j, x, y);
  return spare(pair, { i, t: 0, j, u, dx: mix(b.x, j, u) - x, dy: mix(b.y, j, u) - y });
}

/** A place of a, as a share t of its chord i, the nearest place of b likewise, and the way from the one to the other. */
interface Apart {
  readonly i: number;
  readonly t: number;
  readonly j: number;
  readonly u: number;
  readonly dx: Millimetres;
  readonly dy: Millimetres;
}

function spare({ a, b, slack }: Pair, { i, t, j, u, dx, dy }: Apart): Millimetres {
  const apart = Math.hypot(dx, dy);
  const throws = toward(a, i, t, dx, dy, apart) + toward(b, j, u, -dx, -dy, apart);
  return apart - Math.max(0, throws - slack) - Math.max(a.centres[i] ?? 0, b.centres[j] ?? 0) + FOUND_WITHIN;
}

/** Throw at a share of a chord toward a direction. */
function toward(shape: LegShape, i: number, t: number, dx: number, dy: number, apart: Millimetres): Millimetres {
  const [left, right] = [mix(shape.left, i, t), mix(shape.right, i, t)];
  if (apart < NO_SIDE) return Math.max(left, right);
  const k = Math.max(0, Math.min(i, shape.count - 2));
  const [ax, ay] = [(shape.x[k + 1] ?? 0) - (shape.x[k] ?? 0), (shape.y[k + 1] ?? 0) - (shape.y[k] ?? 0)];
  return ax * dy - ay * dx > 0 ? left : right;
}

/** Where cars cease to foul between point i - 1 of a, where they do, and point i: on the lines themselves. */
function between(pair: Pair, i: number): Millimetres {
  const { a, b } = pair;
  let low = a.d[i - 1] ?? 0;
  let high = a.d[i] ?? low;
  const j = nearestChord(b, a.x[i] ?? 0, a.y[i] ?? 0, 0);
  let [spareLow, spareHigh] = [spareOn(pair, low, i - 1, j), spareOn(pair, high, i - 1, j)];
  // Chords and lines differ by less than is asked for; where they disagree the point is the place.
  if (spareHigh <= 0) return high;
  if (spareLow >= 0) return low;
  for (let step = 0; step < MOST_STEPS && high - low > EXACT; step++) {
    const guess = low + ((high - low) * -spareLow) / (spareHigh - spareLow);
    const margin = EXACT / 4;
    const at = step % 3 === 2 ? (low + high) / 2 : Math.min(high - margin, Math.max(low + margin, guess));
    const spare = spareOn(pair, at, i - 1, j);
    if (spare >= 0) [high, spareHigh] = [at, spare];
    else [low, spareLow] = [at, spare];
  }
  return high;
}

/** The same as `spareAt` on the lines themselves, at distance d along a, between its points i and i + 1. */
function spareOn(pair: Pair, d: Millimetres, i: number, chord: number): Millimetres {
  const { a, b } = pair;
  const on = placeAlong(a, d);
  if (!on) return Number.NEGATIVE_INFINITY;
  const here = poseAt(on.line.path, on.s);
  const j = nearestChord(b, here.x, here.y, Math.max(0, chord - 2));
  let along = mix(b.d, j, shareOf(b, j, here.x, here.y));
  let foot = here;
  // From the chord's foot by Newton's steps, which the small curvature of track hardly bends.
  for (let step = 0; step < FOOT_STEPS; step++) {
    const place = placeAlong(b, along);
    if (!place) return Number.NEGATIVE_INFINITY;
    foot = poseAt(place.line.path, place.s);
    const onward = (here.x - foot.x) * Math.cos(foot.heading) + (here.y - foot.y) * Math.sin(foot.heading);
    if (Math.abs(onward) < EXACT / 10) break;
    along = Math.min(Math.max(0, along + (place.forwards ? onward : -onward)), b.d[b.count - 1] ?? 0);
  }
  const share = (shape: LegShape, k: number, at: Millimetres): number => {
    const step = (shape.d[k + 1] ?? 0) - (shape.d[k] ?? 0);
    return step > 0 ? Math.min(1, Math.max(0, (at - (shape.d[k] ?? 0)) / step)) : 0;
  };
  const [t, u] = [share(a, i, d), share(b, j, along)];
  return spare(pair, { i, t, j, u, dx: foot.x - here.x, dy: foot.y - here.y });
}
