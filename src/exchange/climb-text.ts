/**
 * The answer of the search for a climb in words and figures, the same on a terminal and on the page: one row a route, and
 * what is missing where there is none.
 *
 * Always holds: a limit that is told as fitting is told no gentler than it was searched with (a radius is rounded down, a
 * steeper grade and a lowered deck up); a run needed is rounded up and a run found down, so that what falls short never
 * looks enough.
 */
import type { ClimbFigures, Relaxation, Shortfall } from "../climb/request.js";
import { reckonedText, runText, stepped } from "../drafting/climb-figures.js";
import { lengthText, percentText, type Units } from "../drafting/figures.js";
import { FOOT, INCH } from "../plan/parse-length.js";

export interface ClimbColumn {
  readonly id: string;
  readonly head: string;
  /** Undefined where a route has no such figure. */
  readonly text: (figures: ClimbFigures, units: Units) => string | undefined;
}

const lengthOr =
  (of: (figures: ClimbFigures) => number | undefined, none?: string): ClimbColumn["text"] =>
  (figures, units) => {
    const length = of(figures);
    return length === undefined ? none : reckonedText(length, units);
  };

const NONE = "–";
const STEP = { metric: 1, imperial: INCH / 16 } as const;

/** An area in mm2: square metres to a hundredth, or square feet to a tenth. */
export const areaText = (area: number, units: Units): string =>
  units === "metric" ? `${(area / 1e6).toFixed(2)} m²` : `${(area / (FOOT * FOOT)).toFixed(1)} ft²`;

export const CLIMB_COLUMNS: readonly ClimbColumn[] = [
  { id: "run", head: "Run", text: ({ run }, units) => runText(run, units) },
  { id: "ruling", head: "Ruling", text: ({ ruling }) => percentText(ruling) },
  { id: "felt", head: "Felt", text: ({ felt }) => percentText(felt) },
  { id: "gap", head: "Gap over itself", text: lengthOr(({ gap }) => gap) },
  { id: "hidden", head: "Hidden", text: ({ hidden }, units) => (hidden > 0 ? runText(hidden, units) : undefined) },
  { id: "level", head: "Level", text: lengthOr(({ level }) => level && level.to - level.from) },
  { id: "curvature", head: "Turning", text: ({ curvature }) => `${Math.round(curvature)}°` },
  { id: "curves", head: "Curves", text: ({ curves }) => String(curves) },
  { id: "reversals", head: "Reversals", text: ({ reversals }) => String(reversals) },
  { id: "radius", head: "Least radius", text: lengthOr(({ leastRadius }) => leastRadius) },
  {
    id: "bench",
    head: "New bench",
    text: ({ newBench }, units) => (newBench > 0 ? areaText(newBench, units) : undefined),
  },
  { id: "reach", head: "Reach", text: lengthOr(({ reach }) => reach) },
  { id: "aisle", head: "Aisle left", text: lengthOr(({ aisleLeft }) => aisleLeft) },
  { id: "cars", head: "Cars", text: ({ cars }) => (cars === undefined ? undefined : String(cars)) },
];

export interface ClimbTable {
  readonly columns: readonly ClimbColumn[];
  /** A row for each route, a text for each column; a dash where a route has no such figure. */
  readonly rows: readonly (readonly string[])[];
}

/** Columns of which no route has a figure are left out. */
export function climbTable(routes: readonly { readonly figures: ClimbFigures }[], units: Units): ClimbTable {
  const columns = CLIMB_COLUMNS.filter(({ text }) => routes.some(({ figures }) => text(figures, units) !== undefined));
  return { columns, rows: routes.map(({ figures }) => columns.map(({ text }) => text(figures, units) ?? NONE)) };
}

/** `at 2.7 %`, `at 26″ radius`, `with the deck Upper 55 mm lower`. */
export function relaxationText({ what, value }: Relaxation, units: Units, deck?: string): string {
  switch (what) {
    case "grade":
      return `at ${percentText(stepped("up", value, 0.01))}`;
    case "radius":
      return `at ${lengthText(stepped("down", value, STEP[units]), units)} radius`;
    case "rise": {
      const upper = deck === undefined ? "the upper deck" : `the deck ${deck}`;
      return `with ${upper} ${lengthText(stepped("up", value, STEP[units]), units)} lower`;
    }
  }
}

/** What is asked for, what was found, and what would have to give: one sentence each. `deck` names the upper one. */
export function shortfallSentences(
  { needed, grade, longest, fits }: Shortfall,
  units: Units,
  deck?: string,
): readonly string[] {
  const need = `It needs ${runText(needed, units, "up")} of run at ${percentText(grade)}`;
  const found =
    longest === undefined
      ? `${need}, and no way leads there within the benches at this radius.`
      : longest < needed
        ? `${need}, the longest legal run found is ${runText(longest, units)}.`
        : `${need}; runs up to ${runText(longest, units)} were found, but none that keeps every limit on the way.`;
  const eased = fits.map((one) => relaxationText(one, units, deck));
  return [
    found,
    eased.length > 0
      ? `It fits ${eased.join(", or ")}.`
      : "No steeper grade, sharper radius or lower deck was found to help.",
  ];
}

/** A search that finds nothing has proved nothing; said wherever its answer is. */
export const NONE_FOUND =
  "None found is evidence, not proof: the search looks along bench edges and round what they carry.";
