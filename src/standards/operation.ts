/** Rules of thumb for running: turnouts by class of track, engines, how full yards and spurs work. */
import { longestCar } from "./cars.js";
import { type Figure, PRACTICE } from "./cited.js";
import type { Scale } from "./scales.js";

const practice = (value: number, how: string): Figure => ({ value, source: PRACTICE, known: "common practice", how });

const MAINS = practice(6, "mains #8 or #6");
const YARDS = practice(5, "yards #5 or #6");
const HIDDEN = practice(6, "hidden turnouts #6 or more");

/** Least frog number by class of track. */
export const LEAST_TURNOUT = {
  main: MAINS,
  branch: MAINS,
  siding: MAINS,
  lead: YARDS,
  yard: YARDS,
  spur: YARDS,
  staging: HIDDEN,
} as const satisfies Record<string, Figure>;

/** Least frog number of a turnout that cannot be seen. */
export const LEAST_HIDDEN_TURNOUT = HIDDEN;

/** An engine over its couplers: as long as the longest car, until the owner says otherwise. */
export function engine(scale: Scale): Figure {
  const car = longestCar(scale);
  return {
    value: car.value.overCouplers,
    source: car.source,
    known: "derived",
    how: "as long as the longest car over its couplers",
  };
}

/** Share of its length at which a yard still works, percent. */
export const yardWorks = (): Figure => practice(50, "a yard more than half full is a parking lot");
/** Share of its length at which a spur works, percent. */
export const spurWorks = (): Figure => practice(60, "a spur works at about 60 % of its length");

/** A bumper with its ties on the prototype, mm; no source, about 10 ft. */
const BUMPER = 3000;
/** Track a bumper takes off the clear length of a spur. */
export const bumperLength = ({ ratio }: { readonly ratio: number }): Figure =>
  practice(Math.round((10 * BUMPER) / ratio) / 10, "a bumper and the ties it stands on, about 10 ft");
