/** Overall dimensions of the room along the top and the left of a drawing, ended with 45 degree ticks. */
import type { Point } from "../../geometry/pose.js";
import { lengthText } from "../figures.js";
import { element, group, type Markup } from "./markup.js";
import { paperLine } from "./shapes.js";
import { lettered, onPaper, px, type Sheet, textWidth } from "./sheet.js";

/** Off the wall's face, px: clear of the hatched band. */
const OFF = 24;

/** One dimension between two places of the paper, the text breaking the line in its middle. */
export function drawDimension(sheet: Sheet, a: Point, b: Point, text: string): Markup {
  const along = Math.atan2(b.y - a.y, b.x - a.x);
  const tick = px(sheet, 4);
  const slant = (p: Point): string =>
    paperLine(
      { x: p.x - tick * Math.cos(along + Math.PI / 4), y: p.y - tick * Math.sin(along + Math.PI / 4) },
      { x: p.x + tick * Math.cos(along + Math.PI / 4), y: p.y + tick * Math.sin(along + Math.PI / 4) },
    );
  const middle = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  const gap = textWidth(sheet, text, 12) / 2 + px(sheet, 5);
  const from = { x: middle.x - gap * Math.cos(along), y: middle.y - gap * Math.sin(along) };
  const to = { x: middle.x + gap * Math.cos(along), y: middle.y + gap * Math.sin(along) };
  const stroke = { fill: "none", stroke: sheet.palette.ink2 };
  const degrees = (along * 180) / Math.PI;
  return group({}, [
    element("path", { ...stroke, d: paperLine(a, from) + paperLine(to, b), "stroke-width": px(sheet, 0.6) }),
    element("path", { ...stroke, d: slant(a) + slant(b), "stroke-width": px(sheet, 1) }),
    lettered(sheet, middle, text, {
      size: 12,
      colour: sheet.palette.ink2,
      turn: degrees > 90 ? degrees - 180 : degrees,
    }),
  ]);
}

export function drawRoomDimensions(sheet: Sheet): Markup {
  const { outline } = sheet.plan.room;
  const xs = outline.map((p) => p.x);
  const ys = outline.map((p) => p.y);
  const low = { x: Math.min(...xs), y: Math.min(...ys) };
  const high = { x: Math.max(...xs), y: Math.max(...ys) };
  const off = px(sheet, OFF);
  const topLeft = onPaper(sheet, { x: low.x, y: high.y });
  const topRight = onPaper(sheet, high);
  const bottomLeft = onPaper(sheet, low);
  const { units } = sheet.plan;
  return group({ "data-layer": "dimensions" }, [
    drawDimension(
      sheet,
      { x: topLeft.x, y: topLeft.y - off },
      { x: topRight.x, y: topRight.y - off },
      lengthText(high.x - low.x, units),
    ),
    drawDimension(
      sheet,
      { x: bottomLeft.x - off, y: bottomLeft.y },
      { x: topLeft.x - off, y: topLeft.y },
      lengthText(high.y - low.y, units),
    ),
  ]);
}
