/**
 * What an operator sees of a deck under the deck above it: the line from the eye past the front lower edge of the upper
 * deck to the lower deck's backdrop. Distances count inward from the lower deck's fascia.
 *
 * Always holds: nothing is hidden in front of the upper deck; from an eye above its underside the farther in the less is
 * seen; an eye farther from the fascia sees as much or more, and so does a lower one.
 */
import type { Stretch } from "../geometry/cut-area.js";
import type { Millimetres } from "../geometry/units.js";

/** An eye: how far in front of the fascia it is, and how high above the floor. */
export interface Eye {
  readonly before: Millimetres;
  readonly height: Millimetres;
}

/** The part of a deck above that lies over the line of sight: where it begins and ends, and the height of its underside. */
export interface Overhead extends Stretch {
  readonly underside: Millimetres;
}

/**
 * Highest point that can be seen `inside` behind the fascia, mm above the floor; infinite where nothing is over the line
 * of sight. With eye height E, eye d in front of the upper deck's fascia, its underside u and D behind that fascia it is
 * u - (E - u) D / d (common practice, no source; it is similar triangles). An eye below the underside looks along it:
 * then the underside's far edge counts, or the underside itself where the deck reaches as far.
 */
export function highestSeen(eye: Eye, over: readonly Overhead[], inside: Millimetres): Millimetres {
  let highest = Number.POSITIVE_INFINITY;
  for (const { from, to, underside } of over) {
    if (from >= inside) continue;
    const edge = eye.height > underside ? from : Math.min(to, inside);
    const before = eye.before + edge;
    if (before <= 0) continue;
    highest = Math.min(highest, underside - ((eye.height - underside) * (inside - edge)) / before);
  }
  return highest;
}

/**
 * How far behind the fascia a plane of a height (the railheads) is still seen from an eye above it; infinite where all
 * of it is.
 */
export function hiddenFrom(eye: Eye, over: readonly Overhead[], height: Millimetres): Millimetres {
  let nearest = Number.POSITIVE_INFINITY;
  for (const { from, underside } of over) {
    if (eye.height <= underside || eye.before + from <= 0) continue;
    const beyond = ((underside - height) * (eye.before + from)) / (eye.height - underside);
    nearest = Math.min(nearest, from + Math.max(0, beyond));
  }
  return nearest;
}
