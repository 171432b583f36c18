/** The climb of the sheet drawn true to scale, as large as there is room. */
import { useMemo, useRef } from "react";
import type { ClimbSheet } from "../../../climb/climb-sheet.js";
import { reckonedText, runText } from "../../../drafting/climb-figures.js";
import { climbSheetMarkup, climbSheetViewBox } from "../../../exchange/svg/climb-sheet.js";
import type { Plan } from "../../../plan/schema.js";
import { useEditor } from "../../editor-context.js";
import { DrawnMarkup } from "../DrawnMarkup.js";
import { useSizeOf } from "../use-size-of.js";

/** Below this there is nothing to be seen, px. */
const LEAST = 120;

export function SheetPicture({ ground, sheet }: { readonly ground: Plan; readonly sheet: ClimbSheet }) {
  const box = useRef<HTMLDivElement>(null);
  const size = useSizeOf(box);
  const units = useEditor((state) => state.units);
  const theme = useEditor((state) => state.theme);
  const fit = size && size.width >= LEAST && size.height >= LEAST ? size : undefined;
  const markup = useMemo(
    () => fit && climbSheetMarkup(ground, sheet, fit, { theme, units }),
    [ground, sheet, fit, theme, units],
  );
  const { turns, radius, rise, run } = sheet.sums;
  const words =
    `A helix of ${turns.toFixed(1)} turns cut through its axis, ${reckonedText(2 * radius, units)} across the track and ` +
    `${reckonedText(rise, units)} high; under it the same climb laid out straight, ${runText(run, units, "up")} long`;
  return (
    <div className="sheet-picture" ref={box}>
      {fit && markup && (
        <svg width={fit.width} height={fit.height} viewBox={climbSheetViewBox(fit)} role="img" aria-label={words}>
          <DrawnMarkup text={markup} />
        </svg>
      )}
    </div>
  );
}
