/**
 * The profile of a route: height against distance, the heights drawn larger than the distances, with deck bands, grade
 * figures, vertical curves, pins, hidden stretches, what passes over and under, and the curves strip below.
 *
 * Always holds: equal input gives equal text; the line ends at the route's length; both scales are written on it.
 */
import type { Layout } from "../../layout/layout.js";
import type { Route } from "../../layout/route.js";
import type { Plan } from "../../plan/schema.js";
import { lengthText, percentText } from "../../drafting/figures.js";
import { element, escapeText, figure, type Markup } from "./markup.js";
import { PALETTES, type Palette, type Theme } from "./palette.js";
import { drawDeckBands, drawGrid, drawHeading } from "./profile-ground.js";
import { drawCurvesStrip, drawGrades, drawLine, drawPassings, drawPins, drawPlaces } from "./profile-line.js";
import { passings } from "./profile-passing.js";
import { gradeRuns, legsOf, routeHeights } from "./profile-run.js";
import { chooseScales, type ProfileSheet } from "./profile-sheet.js";
import { px } from "./sheet.js";

export interface ProfileOptions {
  /** What the ends were called, for the heading. */
  readonly ends?: { readonly from: string; readonly to: string };
  readonly theme?: Theme;
  /** In place of a theme's own. */
  readonly palette?: Palette;
  /** Widest that the route may come out, mm of paper. */
  readonly widest?: number;
}

/** The drawing as a document of its own. A route of no length is drawn as an empty profile. */
export function drawProfileSvg(plan: Plan, layout: Layout, route: Route, options: ProfileOptions = {}): string {
  const legs = legsOf(route);
  const heights = routeHeights(layout, legs);
  const passing = passings(layout, legs);
  const drawn = [...heights, ...passing.flatMap((one) => one.points)].map((point) => point.h);
  const palette = options.palette ?? PALETTES[options.theme ?? "light"];
  const sheet: ProfileSheet = chooseScales(plan, palette, route.length, drawn, options.widest);
  const grades = gradeRuns(layout, legs);
  const ruling = Math.max(0, ...grades.map((run) => Math.abs(run.percent)));
  const rise = (heights.at(-1)?.h ?? 0) - (heights[0]?.h ?? 0);
  const facts = [
    lengthText(route.length, plan.units),
    `${rise < 0 ? "falls" : "rises"} ${lengthText(Math.abs(rise), plan.units)}`,
    `ruling grade ${percentText(ruling)}`,
    `distances 1:${figure(sheet.across)}, heights 1:${figure(sheet.up)}`,
  ];
  const ends = options.ends ? `${options.ends.from} to ${options.ends.to}` : "";
  const marks: Markup[] = [
    element("title", {}, escapeText(`${plan.title}: profile${ends ? ` from ${ends}` : ""}`)),
    element("rect", { width: sheet.width, height: sheet.height, fill: sheet.palette.paper }),
    drawHeading(sheet, ends, facts),
    drawGrid(sheet),
    drawDeckBands(sheet, heights),
    drawPassings(sheet, legs, passing, heights, grades),
    drawLine(sheet, layout, legs, heights),
    drawGrades(sheet, layout, legs, heights, grades),
    drawPins(sheet, legs),
    drawPlaces(sheet, layout, legs),
    drawCurvesStrip(sheet, layout, legs),
  ];
  return `${element(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      width: `${figure(sheet.width)}mm`,
      height: `${figure(sheet.height)}mm`,
      viewBox: `0 0 ${figure(sheet.width)} ${figure(sheet.height)}`,
      role: "img",
      "stroke-linejoin": "round",
      "data-length": figure(route.length),
      "font-size": px(sheet, 12),
    },
    ...marks,
  )}\n`;
}
