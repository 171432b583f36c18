/** Decks one above the other, and the structure that carries a track. */
import { type Cited, type Figure, inches, PRACTICE, roundTo } from "./cited.js";
import { lengthFor, type Scale, type ScaleName, SCALE_NAMES, standardScale } from "./scales.js";

/** Least separation of scenic decks, railhead to railhead, inches, and the usual range. */
export const DECK_SEPARATION: Readonly<Partial<Record<ScaleName, readonly [least: number, most: number]>>> = {
  N: [12, 16],
  HO: [14, 20],
  O: [20, 26],
};

/**
 * Least separation of scenic decks. Hands and sight lines do not shrink with the scale, so other scales lie between
 * N, HO and O in proportion to 1/ratio; Z takes N's.
 */
export function deckSeparation(scale: Scale): Figure {
  const rows = SCALE_NAMES.flatMap((name) => {
    const range = DECK_SEPARATION[name];
    return range === undefined ? [] : [{ name, size: 1 / standardScale(name, "NMRA").ratio, range }];
  });
  const own = rows.find(({ name }) => name === scale.base);
  if (own !== undefined)
    return {
      value: inches(own.range[0]),
      source: PRACTICE,
      known: "common practice",
      how: `least of the usual ${own.range[0]} to ${own.range[1]} in in ${own.name}`,
    };
  const size = 1 / scale.ratio;
  const above = rows.findIndex((row) => row.size >= size);
  const high = rows[Math.max(0, above)];
  const low = rows[Math.max(0, above - 1)];
  if (high === undefined || low === undefined) throw new Error("separations are tabled from small to large");
  const share = high === low ? 0 : (size - low.size) / (high.size - low.size);
  return {
    value: roundTo(inches(low.range[0] + share * (high.range[0] - low.range[0])), 0.1),
    source: PRACTICE,
    known: "derived",
    how:
      high === low
        ? `as ${low.name}, ${low.range[0]} in: hands and sight lines do not shrink`
        : `between ${low.name}'s ${low.range[0]} in and ${high.name}'s ${high.range[0]} in in proportion to 1/ratio`,
  };
}

/** Railhead to railhead from a staging deck to the deck above it: a hand has one size in every scale. */
export const stagingSeparation = (): Figure => ({
  value: inches(8),
  source: PRACTICE,
  known: "common practice",
  how: "8 in to reach over three tracks; 12 in is better, 6 in has been built",
});

/** NEM 122: height of track and ballast, and width of the formation, mm. */
export const NEM_122_ROWS = {
  Z: { height: 4, width: 28 },
  N: { height: 6, width: 38 },
  TT: { height: 8, width: 50 },
  HO: { height: 10, width: 70 },
  S: { height: 12, width: 94 },
  O: { height: 16, width: 134 },
} as const;
export const NEM_122: Cited = { source: "NEM 122 (2007)", known: "read" };
const SUBROADBED = inches(0.75);

const formation = (scale: Scale) => NEM_122_ROWS[scale.base === "OO" ? "HO" : scale.base];

/** Structure below the railhead of track on its own roadbed: track, ballast and a subroadbed of 3/4 in plywood. */
export function trackStructure(scale: Scale): Figure {
  const { height } = formation(scale);
  return {
    value: roundTo(height + SUBROADBED, 0.1),
    source: NEM_122.source,
    known: "derived",
    how: `track and ballast ${height} mm (column by its place in the figure) and 3/4 in plywood (common practice)`,
  };
}

/** Width of that roadbed for one track. */
export function roadbedWidth(scale: Scale): Figure {
  const american: Figure = { value: inches(3), source: PRACTICE, known: "common practice", how: "3 in a track in HO" };
  if (scale.body === "NMRA") return lengthFor(scale, { HO: american }, "NMRA");
  const table = Object.fromEntries(
    Object.entries(NEM_122_ROWS).map(([name, { width }]): [string, Figure] => [
      name,
      { ...NEM_122, value: width, how: "formation width, column by its place in the figure" },
    ]),
  );
  return lengthFor(scale, table, "NEM");
}

/** Usual height of a lower deck's railhead, and the structure below it. */
export const LOWER_DECK: Figure = { value: inches(42), source: PRACTICE, known: "common practice", how: "36 to 48 in" };
export const DECK_THICKNESS: Figure = {
  value: inches(3.5),
  source: PRACTICE,
  known: "common practice",
  how: "framing 1 to 2.5 in, subroadbed 0.5 to 2 in, track and ballast",
};
/** Height of an ordinary room, mm. */
export const CEILING: Figure = { value: 2440, source: PRACTICE, known: "common practice", how: "8 ft room" };
