/** Marks of a section, and of what else is drawn in its words, as markup on a sheet. */
import type { Ink } from "../../drafting/batch.js";
import type { SectionHatch, SectionLayer, SectionMark, SectionPlace } from "../../drafting/section-marks.js";
import type { Point } from "../../geometry/pose.js";
import { element, group, type Markup } from "./markup.js";
import { inkOf, type Palette } from "./palette.js";
import { paperLine } from "./shapes.js";
import { dash, lettered, px, type Sheet } from "./sheet.js";

/** The hatches that marks may name; once in a document, all its drawings having one pen. */
export const hatchDefs = (sheet: Sheet): Markup => element("defs", {}, ...HATCHES.map((name) => hatchOf(sheet, name)));

/** A group for every layer. */
export const paintLayers = (sheet: Sheet, layers: readonly SectionLayer[]): Markup =>
  layers
    .map(({ name, marks }) =>
      group(
        { "data-layer": name },
        marks.map((mark) => paintMark(sheet, mark)),
      ),
    )
    .join("");

const HATCHES: readonly SectionHatch[] = ["lower-edge", "upper-edge", "staging-edge", "wall"];
/** Between the lines of a hatch, px: structure closer than walls, since its bodies are thin. */
const STEP = { deck: 4, wall: 5 } as const;

function hatchOf(sheet: Sheet, name: SectionHatch): Markup {
  const wall = name === "wall";
  const step = px(sheet, wall ? STEP.wall : STEP.deck);
  const stroke = { stroke: inkOf(sheet.palette, name), "stroke-width": px(sheet, wall ? 0.7 : 0.6) };
  return element(
    "pattern",
    {
      id: `section-${name}`,
      width: step,
      height: step,
      patternUnits: "userSpaceOnUse",
      patternTransform: `rotate(${wall ? 45 : -45})`,
    },
    element("line", { x1: step / 2, y1: 0, x2: step / 2, y2: step, ...stroke }),
  );
}

const onPaper = (sheet: Sheet, { x, y, right = 0, down = 0 }: SectionPlace): Point => ({
  x: sheet.origin.x + x / sheet.scale + px(sheet, right),
  y: sheet.origin.y - y / sheet.scale + px(sheet, down),
});

function paintMark(sheet: Sheet, mark: SectionMark): Markup {
  const { palette } = sheet;
  if (mark.kind === "text") {
    const { at, text, ink, halo, ...style } = mark;
    return lettered(sheet, onPaper(sheet, at), text, {
      ...style,
      colour: inkOf(palette, ink),
      ...(halo && { halo: inkOf(palette, halo) }),
    });
  }
  if (mark.kind === "ring") {
    const { x, y } = onPaper(sheet, mark.at);
    const stroke = { stroke: inkOf(palette, mark.ink), "stroke-width": px(sheet, mark.weight) };
    return element("circle", {
      cx: x,
      cy: y,
      r: px(sheet, mark.radius),
      fill: colourOr(palette, mark.fill),
      ...stroke,
    });
  }
  const d = `${paperLine(...mark.points.map((p) => onPaper(sheet, p)))}${mark.closed ? "Z" : ""}`;
  const stroke = {
    stroke: mark.ink && inkOf(palette, mark.ink),
    "stroke-width": mark.weight === undefined ? undefined : px(sheet, mark.weight),
    "stroke-dasharray": mark.dash && dash(sheet, mark.dash),
  };
  if (!mark.hatch) return element("path", { d, fill: colourOr(palette, mark.fill), ...stroke });
  const ground = mark.fill ? element("path", { d, fill: inkOf(palette, mark.fill) }) : "";
  return ground + element("path", { d, fill: `url(#section-${mark.hatch})`, ...stroke });
}

const colourOr = (palette: Palette, ink: Ink | undefined): string => (ink ? inkOf(palette, ink) : "none");
