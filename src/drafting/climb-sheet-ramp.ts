/**
 * A climb reckoned on the climb sheet laid out straight, true to scale: as flat as it looks from across the room. Across is
 * along the run, up from the railhead at the foot.
 */
import { heightAt } from "../layout/profile.js";
import { runText } from "./climb-figures.js";
import type { ClimbLook, Extent } from "./climb-sheet-helix.js";
import { FIGURE_ROW, heightChain, thin, TICK, widthChain } from "./dimension-marks.js";
import { lengthText, percentText, type Units } from "./figures.js";
import { SIZE, textWidth } from "./label.js";
import { TRACK_WEIGHTS } from "./line-weights.js";
import { line, type SectionLayer, type SectionMark, type SectionPlace } from "./section-marks.js";

/** px to the dimension of the rise, and between those of the run. */
const FIRST = 24;
const ROW = 24;
/** Chords of a vertical curve. */
const CHORDS = 12;
/** Places along the run for the grade's figures, px above it. */
const OVER = 14;

export function rampExtent({ sheet: { sums }, units }: Pick<ClimbLook, "sheet" | "units">): Extent {
  const right = FIRST + textWidth(lengthText(sums.rise, units), SIZE) + 16;
  const margin = { left: 24, right, top: 2 * OVER, bottom: 2 * ROW + 12 };
  return { left: 0, right: sums.run, bottom: 0, top: sums.rise, margin };
}

export const rampLayers = (look: ClimbLook): SectionLayer[] => [
  { name: "ramp", marks: groundMarks(look) },
  { name: "dimensions", marks: dimensionMarks(look) },
];

function groundMarks({ sheet: { sums, profile } }: ClimbLook): SectionMark[] {
  const curves = profile.curves.flatMap(({ at, length }) =>
    Array.from({ length: CHORDS + 1 }, (_, i) => at + length * (i / CHORDS - 0.5)),
  );
  const stations = [...new Set([...profile.stations, ...curves])].sort((a, b) => a - b);
  const top = stations.map((x): SectionPlace => ({ x, y: heightAt(profile, x) }));
  const { run } = sums;
  return [
    { kind: "line", points: [...top, { x: run, y: 0 }, { x: 0, y: 0 }], closed: true, fill: "lower-tint" },
    thin([
      { x: 0, y: 0 },
      { x: run, y: 0, right: FIRST + TICK },
    ]),
    line(top, "ink", TRACK_WEIGHTS.main.line),
  ];
}

function dimensionMarks(look: ClimbLook): SectionMark[] {
  const { run, rise, grade, felt, verticalCurve } = look.sheet.sums;
  const text = `${percentText(grade)} ↗ · 1 in ${(100 / grade).toFixed(0)} · felt ${percentText(felt)}`;
  const told = (mm: number, units: Units): string => runText(mm, units, "up");
  // Over the lower half, where the line leaves room above it.
  const at: SectionPlace = { x: run / 3, y: rise / 3, down: -OVER };
  const clear = 4;
  return [
    { kind: "text", at, text, size: SIZE, ink: "ink", halo: "paper" },
    thin([
      { x: run, y: rise, right: 4 },
      { x: run, y: rise, right: FIRST + TICK },
    ]),
    // However flat it comes out, its height is told.
    ...heightChain({ ...look, scale: Math.max(look.scale, (FIGURE_ROW + 1) / rise) }, run, FIRST, [0, rise], {
      ink: "ink",
      bold: true,
    }),
    ...(2 * verticalCurve < run
      ? widthChain({ ...look, told }, 0, { down: ROW, clear }, [0, verticalCurve, run - verticalCurve, run], {
          ink: "ink2",
        })
      : []),
    ...widthChain({ ...look, told }, 0, { down: 2 * ROW, clear }, [0, run], { ink: "ink", bold: true }),
  ];
}
