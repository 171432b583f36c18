/** People at the railway: the aisles they walk and work in, how far they reach, and where their eyes are. */
import type { Millimetres } from "../geometry/units.js";
import { type Figure, inches, PRACTICE } from "./cited.js";

const practice = <T>(value: T, how: string): Figure<T> => ({ value, source: PRACTICE, known: "common practice", how });

/** Least aisle. Exits, and aisles on the way to them, are a matter of local codes. */
export const aisle = (): Figure =>
  practice(
    inches(24),
    "24 in is the least; 30 in for one person at work, 36 in where two pass; local codes decide about ways out",
  );

/** For one person at work in it. */
export const aisleWork = (): Figure => practice(inches(30), "30 in for one person at work");

/** Where two pass. */
export const aislePass = (): Figure => practice(inches(36), "36 in where two pass");

/** Where people work back to back, and at the entrance. */
export const aisleBackToBack = (): Figure =>
  practice(inches(42), "42 to 48 in where jobs stand back to back and at the entrance");

/** A standing adult seen from above is an oval this wide and deep, mm. */
export const STANDING_ADULT: Figure<{ readonly width: Millimetres; readonly depth: Millimetres }> = practice(
  { width: inches(21), depth: inches(14) },
  "an oval of 21 by 14 in",
);

/** What fascia gear takes of an aisle. */
export const FASCIA_GEAR: Figure = practice(inches(3), "fascia gear takes 3 in");

export interface ReachRow {
  readonly height: Millimetres;
  readonly reach: Millimetres;
}

const REACH_INCHES = [
  [40, 30],
  [42, 28],
  [48, 24],
  [50, 24],
  [56, 20],
  [62, 16],
] as const;

/** How far one reaches in from the aisle, by height of the railhead, lowest first. */
export const reach = (): Figure<readonly ReachRow[]> =>
  practice(
    REACH_INCHES.map(([height, far]) => ({ height: inches(height), reach: inches(far) })),
    "30 in at rail height 40 in, 28 at 42, 24 at 48 to 50, 20 at 56, 16 above 62",
  );

/** How much less one reaches under an upper deck or over something in the foreground. */
export const reachUnder = (): Figure =>
  practice(inches(4), "4 in less under an upper deck or over foreground structures");

/** A corner reaches in this many times the shelf's depth. */
export const CORNER_REACH = Math.SQRT2;

export interface OperatorEye {
  readonly name: string;
  readonly eye: Millimetres;
}

/**
 * Eyes to check sight lines for. The hobby asks for a tall, a short and a seated operator; the first two heights are
 * ours, the third follows from a seated crew seeing a 42 in deck as a standing one sees one of 57 in.
 */
export const operators = (): Figure<readonly OperatorEye[]> => ({
  value: [
    { name: "Tall, standing", eye: inches(68) },
    { name: "Short, standing", eye: inches(58) },
    { name: "Seated", eye: inches(48) },
  ],
  source: PRACTICE,
  known: "derived",
  how: "a tall, a short and a seated operator; seated 15 in below the mean of the standing ones, eyes chosen here",
});

/** Ways to pass below a line across the door, by height of the railhead: up to each height, what one must do. */
export const CROSSING_THE_DOOR: readonly (Figure & { readonly way: "crawl" | "duckunder" | "nod-under" })[] = [
  { ...practice(inches(40), "under 40 in crawl"), way: "crawl" },
  { ...practice(inches(54), "40 to 54 in duckunder"), way: "duckunder" },
  { ...practice(inches(76), "56 to 66 in nod-under, above 76 in walk-under"), way: "nod-under" },
];

/** Dead rail before an open gate that stops an engine; a backing train needs its own length. */
export const gateDead = (): Figure =>
  practice(inches(16), "16 in stops an engine, a backing train needs a train length");

/** Free floor before an electrical panel. Local codes decide. */
export const PANEL_CLEARANCE: Figure = practice(
  inches(36),
  "36 in in front of an electrical panel; local codes decide",
);

/** How far before a fascia one looks from where the aisle is wide enough; in a narrower one, from its middle. */
export const VIEWING_DISTANCE: Figure = practice(inches(30), "30 in before the fascia, or the middle of the aisle");

export type WayUnder = (typeof CROSSING_THE_DOOR)[number]["way"] | "walk-under";

/** Where there is less clear height than this, one does not walk under upright. */
export const WALK_UNDER: Millimetres = CROSSING_THE_DOOR.at(-1)?.value ?? 0;

/** What one must do to pass below something with that clear height under it. */
export const wayUnder = (clear: Millimetres): WayUnder =>
  CROSSING_THE_DOOR.find(({ value }) => clear < value)?.way ?? "walk-under";
