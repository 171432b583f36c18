/**
 * Where two ways that begin at one place have parted: the spacing is looked at from point to point of the one, then the
 * place is found on the lines themselves.
 *
 * Always holds: what is found is worth the centres asked for, within 0.1 mm, and so is all for a car's length beyond it.
 */
import { poseAt } from "../geometry/path.js";
import type { Millimetres } from "../geometry/units.js";
import type { Standards } from "../plan/schema.js";
import { ALONG, CENTRES, figureAt, figureBetween, LEFT, type LegShape, placeAlong, RIGHT, X, Y } from "./leg-shape.js";
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
 * How far along a it has parted from b for good; undefined where it does not, `further on` where they were not followed
 * far enough to tell. Both begin at one place.
 */
export const partsAt = rememberBeside(
  (a: LegShape, b: LegShape, standards: Standards): Millimetres | "further on" | undefined => {
    const car = standards.longestCar.value.length;
    const pair: Pair = { a, b, slack: standards.curveSlack?.value ?? 0 };
    let j = 0;
    let clearFrom: number | undefined;
    let settled = false;
    for (let i = 0; i < a.count && !settled; i++) {
      j = nearestChord(b, figureAt(a, X, i), figureAt(a, Y, i), j);
      if (b.cut && j + 2 >= b.count) break;
      const clear = spareAt(pair, i, j) >= 0;
      if (!clear) clearFrom = undefined;
      else clearFrom ??= i;
      // As long as a car stands clear, whatever comes after is another matter; so it is where the rails end.
      settled = clearFrom !== undefined && figureAt(a, ALONG, i) - figureAt(a, ALONG, clearFrom) >= car;
      if (i === a.count - 1 && !a.cut) settled = true;
    }
    if (!settled) return "further on";
    if (clearFrom === undefined) return undefined;
    return clearFrom === 0 ? 0 : between(pair, clearFrom);
  },
);

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
  return (figureBetween(b, X, j, t) - x) ** 2 + (figureBetween(b, Y, j, t) - y) ** 2;
}

function shareOf(b: LegShape, j: number, x: number, y: number): number {
  const [x0, y0] = [figureAt(b, X, j), figureAt(b, Y, j)];
  const [dx, dy] = [figureAt(b, X, j + 1) - x0, figureAt(b, Y, j + 1) - y0];
  const square = dx * dx + dy * dy;
  return square > 0 ? Math.min(1, Math.max(0, ((x - x0) * dx + (y - y0) * dy) / square)) : 0;
}

/** What the spacing is worth at point i of a against chord j of b, over what is asked: below 0 where cars foul. */
function spareAt(pair: Pair, i: number, j: number): Millimetres {
  const { a, b } = pair;
  const [x, y] = [figureAt(a, X, i), figureAt(a, Y, i)];
  const u = shareOf(b, j, x, y);
  return spare(pair, { i, t: 0, j, u, dx: figureBetween(b, X, j, u) - x, dy: figureBetween(b, Y, j, u) - y });
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
  return (
    apart - Math.max(0, throws - slack) - Math.max(figureAt(a, CENTRES, i), figureAt(b, CENTRES, j)) + FOUND_WITHIN
  );
}

/** Throw at a share of a chord toward a direction. */
function toward(shape: LegShape, i: number, t: number, dx: number, dy: number, apart: Millimetres): Millimetres {
  const [left, right] = [figureBetween(shape, LEFT, i, t), figureBetween(shape, RIGHT, i, t)];
  if (apart < NO_SIDE) return Math.max(left, right);
  const k = Math.max(0, Math.min(i, shape.count - 2));
  const [ax, ay] = [
    figureAt(shape, X, k + 1) - figureAt(shape, X, k),
    figureAt(shape, Y, k + 1) - figureAt(shape, Y, k),
  ];
  return ax * dy - ay * dx > 0 ? left : right;
}

/** Where cars cease to foul between point i - 1 of a, where they do, and point i: on the lines themselves. */
function between(pair: Pair, i: number): Millimetres {
  const { a, b } = pair;
  let low = figureAt(a, ALONG, i - 1);
  let high = figureAt(a, ALONG, i);
  const j = nearestChord(b, figureAt(a, X, i), figureAt(a, Y, i), 0);
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
  let along = figureBetween(b, ALONG, j, shareOf(b, j, here.x, here.y));
  let foot = here;
  // From the chord's foot by Newton's steps, which the small curvature of track hardly bends.
  for (let step = 0; step < FOOT_STEPS; step++) {
    const place = placeAlong(b, along);
    if (!place) return Number.NEGATIVE_INFINITY;
    foot = poseAt(place.line.path, place.s);
    const onward = (here.x - foot.x) * Math.cos(foot.heading) + (here.y - foot.y) * Math.sin(foot.heading);
    if (Math.abs(onward) < EXACT / 10) break;
    along = Math.min(Math.max(0, along + (place.forwards ? onward : -onward)), figureAt(b, ALONG, b.count - 1));
  }
  const share = (shape: LegShape, k: number, at: Millimetres): number => {
    const step = figureAt(shape, ALONG, k + 1) - figureAt(shape, ALONG, k);
    return step > 0 ? Math.min(1, Math.max(0, (at - figureAt(shape, ALONG, k)) / step)) : 0;
  };
  const [t, u] = [share(a, i, d), share(b, j, along)];
  return spare(pair, { i, t, j, u, dx: foot.x - here.x, dy: foot.y - here.y });
}
