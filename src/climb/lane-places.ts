/** Where two lanes cross, how one is turned into the other, and places along a lane that turns are tried at. */
import type { Hand } from "../geometry/turn.js";
import type { Millimetres, Radians } from "../geometry/units.js";
import type { Lane } from "./lanes.js";

/** Lanes nearer parallel than this have no corner between them. */
export const NEARLY_PARALLEL: Radians = 0.02;
/** Turns of less change nothing, and of more go all round. */
const LEAST_ANGLE: Radians = 0.08;
const MOST_ANGLE: Radians = 5.3;
/** Places of half circles and helices along their lanes. */
const PLACES: Millimetres = 450;

/** Where two lanes that are not parallel cross, along either. */
export function crossing(a: Lane, b: Lane): readonly [Millimetres, Millimetres] {
  const sine = a.ux * b.uy - a.uy * b.ux;
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  return [(dx * b.uy - dy * b.ux) / sine, (dx * a.uy - dy * a.ux) / sine];
}

/** The turns of either hand into a heading so far ahead, 0 to a full circle. */
export function turnsOf(ahead: Radians): (readonly [Hand, Radians])[] {
  const turns = [
    ["left", ahead],
    ["right", 2 * Math.PI - ahead],
  ] as const;
  return turns.filter(([, angle]) => angle >= LEAST_ANGLE && angle <= MOST_ANGLE);
}

/** Both ends of a stretch and places between. */
export function placesOf([from, to]: readonly [number, number], apart = PLACES): number[] {
  const steps = Math.max(1, Math.ceil((to - from) / apart));
  return Array.from({ length: steps + 1 }, (_, i) => from + ((to - from) * i) / steps);
}
