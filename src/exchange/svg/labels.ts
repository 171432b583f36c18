/** Labels on the paper: what the drafting rules have placed, as markup, one group for each kind. */
import { type Label, type LabelKind, type LabelMark } from "../../drafting/label.js";
import { type LabelWishes, labelsOf } from "../../drafting/labels.js";
import type { Point } from "../../geometry/pose.js";
import type { Layout } from "../../layout/layout.js";
import { element, group, type Markup } from "./markup.js";
import { inkOf } from "./palette.js";
import { paperLine } from "./shapes.js";
import { lettered, px, type Sheet } from "./sheet.js";

const LAYERS: Readonly<Record<LabelKind, string>> = {
  room: "room-names",
  flag: "flags",
  place: "places",
  grade: "grades",
  radius: "radii",
  turnout: "turnouts",
  siding: "sidings",
  height: "heights",
  "pale-place": "places",
  dimension: "dimensions",
};

/** px of the drafting rules to a millimetre of the room. */
export const rulesScale = (sheet: Sheet): number => 1 / (sheet.scale * sheet.pen);

export function drawLabels(sheet: Sheet, layout: Layout, wishes: Omit<LabelWishes, "scale" | "units">): Markup {
  const labels = labelsOf(layout, { ...wishes, scale: rulesScale(sheet), units: sheet.plan.units });
  const kinds = new Map<LabelKind, Markup[]>();
  for (const label of labels) {
    const marks = kinds.get(label.kind);
    if (marks) marks.push(...paintLabel(sheet, label));
    else kinds.set(label.kind, paintLabel(sheet, label));
  }
  return [...kinds].map(([kind, marks]) => group({ "data-layer": LAYERS[kind] }, marks)).join("");
}

const paintLabel = (sheet: Sheet, { marks }: Label): Markup[] => marks.map((mark) => paintMark(sheet, mark));

function paintMark(sheet: Sheet, mark: LabelMark): Markup {
  const { palette } = sheet;
  const at = (p: Point): Point => ({ x: sheet.origin.x + px(sheet, p.x), y: sheet.origin.y + px(sheet, p.y) });
  if (mark.kind === "ring") {
    const { x, y } = at(mark.at);
    return element("circle", {
      cx: x,
      cy: y,
      r: px(sheet, mark.radius),
      fill: "none",
      stroke: inkOf(palette, mark.ink),
      "stroke-width": px(sheet, mark.weight),
    });
  }
  if (mark.kind === "stroke") {
    return element("path", {
      d: `${paperLine(...mark.points.map(at))}${mark.closed ? "Z" : ""}`,
      fill: mark.fill ? inkOf(palette, mark.fill) : "none",
      stroke: mark.ink && inkOf(palette, mark.ink),
      "stroke-width": mark.weight === undefined ? undefined : px(sheet, mark.weight),
    });
  }
  const { text, ink, halo, ...style } = mark;
  return lettered(sheet, at(mark.at), text, {
    ...style,
    colour: inkOf(palette, ink),
    ...(halo ? { halo: inkOf(palette, halo) } : {}),
  });
}
