/** Dimensions of a drawing made of section marks: lines that end in ticks at 45 degrees, their figures beside them. */
import type { Millimetres } from "../geometry/units.js";
import type { Ink } from "./batch.js";
import { lengthText, type Units } from "./figures.js";
import { SIZE, textWidth } from "./label.js";
import { WEIGHT } from "./line-weights.js";
import { line, type SectionMark, type SectionPlace } from "./section-marks.js";

/** Half a tick, px. */
export const TICK = 4;
/** Figures one above the other stand at least this far apart, px. */
export const FIGURE_ROW = 14;

export interface DimensionLook {
  /** px to a millimetre. */
  readonly scale: number;
  readonly units: Units;
  /** How lengths are told; `lengthText` where left out. */
  readonly told?: (mm: number, units: Units) => string;
}

export const tick = (at: SectionPlace): SectionMark =>
  line(
    [
      { ...at, right: (at.right ?? 0) - TICK, down: (at.down ?? 0) + TICK },
      { ...at, right: (at.right ?? 0) + TICK, down: (at.down ?? 0) - TICK },
    ],
    "ink2",
    1,
  );

export const thin = (points: readonly SectionPlace[]): SectionMark => line(points, "ink3", WEIGHT.dimension);

/** Heights in a chain beside the drawing, at its right where `right` is above 0; figures where there is height for them. */
export function heightChain(
  { scale, units, told = lengthText }: DimensionLook,
  x: Millimetres,
  right: number,
  heights: readonly Millimetres[],
  style: { readonly ink: Ink; readonly bold?: boolean } = { ink: "ink2" },
): SectionMark[] {
  const at = (y: Millimetres): SectionPlace => ({ x, y, right });
  const side = right < 0 ? -1 : 1;
  const marks: SectionMark[] = [
    thin([at(heights[0] ?? 0), at(heights.at(-1) ?? 0)]),
    ...heights.map((y) => tick(at(y))),
  ];
  for (let i = 1; i < heights.length; i++) {
    const [low, high] = [heights[i - 1] ?? 0, heights[i] ?? 0];
    if ((high - low) * scale < FIGURE_ROW) continue;
    marks.push({
      kind: "text",
      at: { ...at((low + high) / 2), right: right + 6 * side },
      text: told(high - low, units),
      size: SIZE,
      anchor: side < 0 ? "end" : "start",
      halo: "paper",
      ...style,
    });
  }
  return marks;
}

/** Widths in a chain under the drawing, at a height of it; `clear` px are left to the drawing. */
export function widthChain(
  { scale, units, told = lengthText }: DimensionLook,
  y: Millimetres,
  { down, clear }: { readonly down: number; readonly clear: number },
  stations: readonly Millimetres[],
  style: { readonly ink: Ink; readonly bold?: boolean },
  name = "",
): SectionMark[] {
  const at = (x: Millimetres): SectionPlace => ({ x, y, down });
  const marks: SectionMark[] = [
    thin([at(stations[0] ?? 0), at(stations.at(-1) ?? 0)]),
    ...stations.map((x) => tick(at(x))),
  ];
  for (const x of stations)
    marks.push(
      thin([
        { x, y, down: clear },
        { ...at(x), down: down + TICK },
      ]),
    );
  for (let i = 1; i < stations.length; i++) {
    const [from, to] = [stations[i - 1] ?? 0, stations[i] ?? 0];
    const text = `${name}${told(to - from, units)}`;
    if ((to - from) * scale < textWidth(text, SIZE) + 10) continue;
    marks.push({
      kind: "text",
      at: { ...at((from + to) / 2), down: down - 8 },
      text,
      size: SIZE,
      halo: "paper",
      ...style,
    });
  }
  return marks;
}
