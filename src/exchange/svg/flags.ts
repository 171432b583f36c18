/** Tight and failing readings beside what they measure: sign and word, then colour. */
import type { Reading } from "../../readings/reading.js";
import { VERDICTS } from "../readings-text.js";
import { beside, type Ground, settle } from "./labels.js";
import { element, group, type Markup } from "./markup.js";
import { paperLine } from "./shapes.js";
import { lettered, onPaper, px, type Sheet, textWidth } from "./sheet.js";

/** Worst places flagged of one reading: more would hide the plan. */
const FLAGS = 3;
const SIGN = 12;
const SIZE = 12;

export function drawFlags(sheet: Sheet, ground: Ground, deck: string, readings: readonly Reading[]): Markup {
  const marks: Markup[] = [];
  const worstFirst = [...readings].sort((a, b) => Number(b.verdict === "fails") - Number(a.verdict === "fails"));
  for (const reading of worstFirst) {
    if (reading.verdict !== "tight" && reading.verdict !== "fails") continue;
    for (const place of reading.places.slice(0, FLAGS)) {
      if (place.deck !== deck) continue;
      const text = `${VERDICTS[reading.verdict].word}: ${reading.label}`;
      const width = px(sheet, SIGN + 4) + textWidth(sheet, text, SIZE);
      const pose = { ...place.point, heading: 0 };
      const box = settle(sheet, ground, beside(sheet, pose, 1, width, [8, 16, 28, 44]));
      const colour = reading.verdict === "fails" ? sheet.palette.fails : sheet.palette.tight;
      const at = onPaper(sheet, place.point);
      marks.push(
        element("circle", {
          cx: at.x,
          cy: at.y,
          r: px(sheet, 4),
          fill: "none",
          stroke: colour,
          "stroke-width": px(sheet, 1.2),
        }),
      );
      if (!box) continue;
      const left = box.x - box.width / 2;
      marks.push(
        drawSign(sheet, reading.verdict, { x: left + px(sheet, SIGN / 2), y: box.y }, colour),
        lettered(sheet, { x: left + px(sheet, SIGN + 4), y: box.y }, text, {
          size: SIZE,
          colour,
          anchor: "start",
          bold: reading.verdict === "fails",
        }),
      );
    }
  }
  return group({ "data-layer": "flags" }, marks);
}

/** Triangle with a bar, or solid square with a cross. */
function drawSign(sheet: Sheet, verdict: "tight" | "fails", at: { x: number; y: number }, colour: string): Markup {
  const r = px(sheet, SIGN / 2);
  const p = (x: number, y: number) => ({ x: at.x + x * r, y: at.y + y * r });
  if (verdict === "fails") {
    const cross = paperLine(p(-0.5, -0.5), p(0.5, 0.5)) + paperLine(p(-0.5, 0.5), p(0.5, -0.5));
    return (
      element("path", { d: `${paperLine(p(-0.9, -0.9), p(0.9, -0.9), p(0.9, 0.9), p(-0.9, 0.9))}Z`, fill: colour }) +
      element("path", { d: cross, fill: "none", stroke: sheet.palette.paper, "stroke-width": px(sheet, 1.4) })
    );
  }
  const d = `${paperLine(p(0, -0.9), p(1, 0.8), p(-1, 0.8))}Z${paperLine(p(0, -0.2), p(0, 0.4))}`;
  return element("path", { d, fill: "none", stroke: colour, "stroke-width": px(sheet, 1.2) });
}
