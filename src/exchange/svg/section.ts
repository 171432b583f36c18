/**
 * A section as a sheet of drawing, true to scale both ways, or as large as fits a screen.
 *
 * Always holds: equal input gives equal text; names appear only as escaped text; one scale serves widths and heights.
 */
import { lengthText, type Units } from "../../drafting/figures.js";
import { sectionMargins } from "../../drafting/section-dimensions.js";
import { sectionLayers, type SectionLook } from "../../drafting/section-drawing.js";
import type { Plan } from "../../plan/schema.js";
import type { Section } from "../../layout/section.js";
import { element, escapeText, figure, group, type Markup } from "./markup.js";
import { PALETTES, type Theme } from "./palette.js";
import { hatchDefs, paintLayers } from "./section-paint.js";
import { lettered, penFor, PEN_ON_SCREEN, px, type Sheet, textWidth } from "./sheet.js";
import { DEFAULT_SCALE } from "./draw.js";

export interface SectionOptions {
  /** Millimetres of room to one of paper; 20 where left out. */
  readonly scale?: number;
  readonly theme?: Theme;
  readonly units?: Units;
  readonly standing?: SectionLook["standing"];
  /** For a screen: as large as fits this many px, without a heading. */
  readonly fit?: { readonly width: number; readonly height: number };
}

/** px of the heading, and the least that a drawing is given on a screen. */
const HEAD = 40;
const LEAST = 60;

export interface SectionPaper extends Sheet {
  readonly width: number;
  readonly height: number;
}

/** Where a section lies on its paper, and how large the paper is. */
export function layOutSection(plan: Plan, section: Section, options: SectionOptions): SectionPaper {
  const { fit, theme = "light" } = options;
  const margin = sectionMargins({ plan, section, units: options.units ?? plan.units, close: fit !== undefined });
  const across = margin.left + margin.right;
  const up = margin.top + margin.bottom + (fit ? 0 : HEAD);
  const scale = fit
    ? Math.max(
        section.length / (Math.max(fit.width - across, LEAST) * PEN_ON_SCREEN),
        section.ceiling / (Math.max(fit.height - up, LEAST) * PEN_ON_SCREEN),
      )
    : (options.scale ?? DEFAULT_SCALE);
  const pen = fit ? PEN_ON_SCREEN : penFor(scale);
  const width = Math.max(section.length / scale + across * pen, (fit?.width ?? 0) * pen);
  const height = Math.max(section.ceiling / scale + up * pen, (fit?.height ?? 0) * pen);
  const spare = { x: width - section.length / scale - across * pen, y: height - section.ceiling / scale - up * pen };
  const origin = {
    x: margin.left * pen + spare.x / 2,
    y: height - margin.bottom * pen - spare.y / 2,
  };
  return { plan, scale, pen, palette: PALETTES[theme], origin, width, height };
}

/** The drawing as a document of its own. */
export function drawSectionSvg(plan: Plan, section: Section, options: SectionOptions = {}): string {
  const sheet = layOutSection(plan, section, options);
  const unit = options.fit ? sheet.pen : 1;
  const attributes = {
    xmlns: "http://www.w3.org/2000/svg",
    width: figure(sheet.width / unit) + (options.fit ? "" : "mm"),
    height: figure(sheet.height / unit) + (options.fit ? "" : "mm"),
    viewBox: `0 0 ${figure(sheet.width)} ${figure(sheet.height)}`,
    role: "img",
    "stroke-linejoin": "round",
    "data-scale": options.fit ? undefined : figure(sheet.scale),
    "data-length": figure(section.length),
  };
  const marks = [
    element("title", {}, escapeText(`${plan.title}: section`)),
    element("rect", { width: sheet.width, height: sheet.height, fill: sheet.palette.paper }),
    options.fit ? "" : heading(sheet, section, options),
    sectionMarkup(sheet, section, options),
  ];
  return `${element("svg", attributes, ...marks)}\n`;
}

/** What is drawn, without the paper round it. */
export function sectionMarkup(sheet: Sheet, section: Section, { units, standing, fit }: SectionOptions): Markup {
  const { plan } = sheet;
  const scale = 1 / (sheet.scale * sheet.pen);
  const layers = sectionLayers({
    plan,
    section,
    scale,
    units: units ?? plan.units,
    standing,
    close: fit !== undefined,
  });
  return hatchDefs(sheet) + paintLayers(sheet, layers);
}

function heading(sheet: Sheet, section: Section, { units, standing }: SectionOptions): Markup {
  const { plan, palette } = sheet;
  const y = px(sheet, 24);
  const x = px(sheet, 18);
  const title = "Section A to B";
  const length = (mm: number): string => lengthText(mm, units ?? plan.units);
  const facts = [
    plan.title,
    length(section.length),
    `drawn 1:${figure(sheet.scale)}`,
    ...(standing
      ? [`${standing.operator.name}, eye at ${length(standing.operator.eye)}, ${length(standing.at)} from A`]
      : []),
  ];
  return group({ "data-layer": "heading" }, [
    lettered(sheet, { x, y }, title, { size: 17, colour: palette.ink, face: "name", anchor: "start" }),
    lettered(sheet, { x: x + textWidth(sheet, title, 17, "name") + px(sheet, 16), y }, facts.join("   ·   "), {
      size: 12,
      colour: palette.ink2,
      anchor: "start",
    }),
  ]);
}
