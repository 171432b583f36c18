/**
 * Where a straight line runs through an area: the stretches of it that lie inside.
 *
 * Always holds: stretches are in order, none touches the next, each has length; the middle of each is in the area, and
 * the middle of each gap is not; the line run the other way gives the same stretches reversed.
 */
import type { Area } from "./areas.js";
import { localPoint, type Point, type Pose } from "./pose.js";
import type { Millimetres } from "./units.js";

/** Part of a line, as distances along it; from < to. */
export interface Stretch {
  readonly from: Millimetres;
  readonly to: Millimetres;
}

/** A stretch or a gap shorter than this is rounding: areas are held to a thousandth of a millimetre. */
const NOTHING: Millimetres = 2e-3;

/**
 * The stretches of the line through a pose that lie in an area, as distances ahead of the pose (behind it less than
 * nothing). An edge that lies along the line belongs to whichever side the rest of its ring is on. None for no area.
 */
export function cutArea(area: Area, { x, y, heading }: Pose): Stretch[] {
  const cos = Math.cos(heading);
  const sin = Math.sin(heading);
  const crossings: { readonly at: Millimetres; readonly turn: 1 | -1 }[] = [];
  for (const ring of area) {
    const last = ring.at(-1);
    if (!last) continue;
    let along = (last.x - x) * cos + (last.y - y) * sin;
    let left = (last.y - y) * cos - (last.x - x) * sin;
    for (const p of ring) {
      const ahead = (p.x - x) * cos + (p.y - y) * sin;
      const beside = (p.y - y) * cos - (p.x - x) * sin;
      if (left <= 0 !== beside <= 0) {
        const share = left / (left - beside);
        crossings.push({ at: along + share * (ahead - along), turn: beside > left ? 1 : -1 });
      }
      [along, left] = [ahead, beside];
    }
  }
  crossings.sort((a, b) => a.at - b.at);
  const found: Stretch[] = [];
  let winding = 0;
  let begun = 0;
  for (const { at, turn } of crossings) {
    if (winding === 0) begun = at;
    winding += turn;
    if (winding === 0) found.push({ from: begun, to: at });
  }
  return uniteStretches(found);
}

/** Everything in any of the stretches, in order; those that touch are one. */
export function uniteStretches(stretches: readonly Stretch[]): Stretch[] {
  const united: Stretch[] = [];
  for (const one of [...stretches].sort((a, b) => a.from - b.from)) {
    const last = united.at(-1);
    if (last && one.from - last.to <= NOTHING) {
      if (one.to > last.to) united[united.length - 1] = { from: last.from, to: one.to };
    } else united.push(one);
  }
  return united.filter(({ from, to }) => to - from > NOTHING);
}

/** What is in none of the stretches but in the whole. */
export function gapsBetween(whole: Stretch, stretches: readonly Stretch[]): Stretch[] {
  const gaps: Stretch[] = [];
  let from = whole.from;
  for (const one of uniteStretches(stretches)) {
    if (one.to <= whole.from || one.from >= whole.to) continue;
    if (one.from - from > NOTHING) gaps.push({ from, to: one.from });
    from = Math.max(from, one.to);
  }
  if (whole.to - from > NOTHING) gaps.push({ from, to: whole.to });
  return gaps;
}

/** The parts of stretches that lie within a whole. */
export const clipStretches = (stretches: readonly Stretch[], { from, to }: Stretch): Stretch[] =>
  stretches
    .map((one) => ({ from: Math.max(one.from, from), to: Math.min(one.to, to) }))
    .filter((one) => one.to - one.from > NOTHING);

/** Where the line through a pose crosses the way from p to q. */
export interface Crossing {
  /** Distance ahead of the pose, behind it less than nothing. */
  readonly ahead: Millimetres;
  /** Share of the way from p to q. */
  readonly share: number;
}

/** Undefined where it does not cross, or runs along. A chain of ways crosses in its corners once. */
export function crossingAhead(pose: Pose, p: Point, q: Point): Crossing | undefined {
  const a = localPoint(pose, p);
  const b = localPoint(pose, q);
  if (a.y <= 0 === b.y <= 0) return undefined;
  const share = a.y / (a.y - b.y);
  return { ahead: a.x + share * (b.x - a.x), share };
}
