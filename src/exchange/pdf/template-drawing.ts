/** What is drawn on a tile of a template: chosen track at full size, its marks, the grid's crosses, and the foot with its check scales. */
import { switchTiesOf } from "../../drafting/switch-ties.js";
import { TIE_LENGTH, TIE_SPACING, tiesOf } from "../../drafting/line-shapes.js";
import { DASH } from "../../drafting/line-weights.js";
import type { Box } from "../../geometry/bounds.js";
import { poseAt, slicePath } from "../../geometry/path.js";
import { offsetPoint, type Point } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import type { Layout } from "../../layout/layout.js";
import type { Line } from "../../layout/line.js";
import { INCH } from "../../plan/parse-length.js";
import { element, type Markup } from "../svg/markup.js";
import { lineData, paperLine, railData, trackData } from "../svg/shapes.js";
import { dash, lettered, onPaper, type Sheet } from "../svg/sheet.js";
import { textAt } from "./sheet-frame.js";
import type { TemplateMark } from "./template-track.js";

/** Weights of lines, mm: thin enough to cut along. */
const THIN = 0.15;
const RAIL = 0.25;
const MARK = 0.35;
/** Drawn of each tie at either end, mm. */
const TIE_END: Millimetres = 3;

const stroke = (
  sheet: Sheet,
  d: string,
  weight: number,
  more: { readonly dash?: string; readonly mark?: string; readonly colour?: string } = {},
): Markup =>
  d === ""
    ? ""
    : element("path", {
        d,
        fill: "none",
        stroke: more.colour ?? sheet.palette.ink,
        "stroke-width": weight,
        "stroke-dasharray": more.dash,
        "data-mark": more.mark,
      });

export const halfTie = (layout: Layout): Millimetres => TIE_LENGTH / layout.plan.scale.ratio / 2;

/** Stretches of a line that come into a box, so much to spare at either end. */
export function stretchesIn(line: Line, box: Box, reach: Millimetres): { from: Millimetres; to: Millimetres }[] {
  const { count, s, x, y } = line.samples;
  const found: { from: Millimetres; to: Millimetres }[] = [];
  for (let i = 0; i + 1 < count; i++) {
    const [ax, ay, bx, by] = [x[i] ?? 0, y[i] ?? 0, x[i + 1] ?? 0, y[i + 1] ?? 0];
    if (Math.max(ax, bx) < box.minX - reach || Math.min(ax, bx) > box.maxX + reach) continue;
    if (Math.max(ay, by) < box.minY - reach || Math.min(ay, by) > box.maxY + reach) continue;
    const [from, to] = [s[i] ?? 0, s[i + 1] ?? 0];
    const last = found.at(-1);
    if (last && last.to === from) last.to = to;
    else found.push({ from, to });
  }
  return found;
}

/** Centre line, rails and tie ends of the part of a line that comes into a window. */
export function drawLine(sheet: Sheet, layout: Layout, line: Line, window: Box): Markup {
  const { gauge, ratio } = layout.plan.scale;
  const [length, step] = [TIE_LENGTH / ratio, TIE_SPACING / ratio];
  const turnout = line.kind === "turnout" ? layout.turnouts.get(line.id) : undefined;
  const host = turnout && turnout.hand !== "wye" ? layout.lines.get(turnout.host) : undefined;
  let [centre, rails, ties] = ["", "", ""];
  const stretches = stretchesIn(line, window, length);
  for (const { from, to } of stretches) {
    const part = slicePath(line.path, from, to);
    centre += trackData(sheet, part);
    rails += railData(sheet, part, gauge / 2) + railData(sheet, part, -gauge / 2);
    const stretch = { from, to, sagitta: THIN };
    const { chains } =
      turnout && host ? switchTiesOf(line, host, turnout, stretch, length, step) : tiesOf(line, stretch, length, step);
    for (const [ax = 0, ay = 0, bx = 0, by = 0] of chains) {
      const all = Math.hypot(bx - ax, by - ay);
      const part1 = Math.min(TIE_END, all / 4) / all;
      const at = (t: number): Point => ({ x: ax + (bx - ax) * t, y: ay + (by - ay) * t });
      ties += lineData(sheet, [at(0), at(part1)]) + lineData(sheet, [at(1 - part1), at(1)]);
    }
  }
  return (
    stroke(sheet, ties, THIN, { mark: "ties", colour: sheet.palette.ink3 }) +
    stroke(sheet, centre, THIN, { mark: "centre", dash: dash(sheet, DASH.centre) }) +
    stroke(sheet, rails, RAIL, { mark: "rails" })
  );
}

/** A name beside the middle of each stretch on the sheet. */
export function drawName(sheet: Sheet, layout: Layout, line: Line, window: Box): Markup {
  if (line.kind !== "track") return "";
  const name = layout.plan.tracks[line.id]?.name || line.id;
  return stretchesIn(line, window, 0)
    .filter(({ from, to }) => to - from > 60)
    .map(({ from, to }) => {
      const at = offsetPoint(poseAt(line.path, (from + to) / 2), 0, -(halfTie(layout) + 5));
      return textAt(sheet, onPaper(sheet, at), name, { colour: sheet.palette.ink2 });
    })
    .join("");
}

/** Marks in a window, with their words beside the track. */
export function drawMarks(sheet: Sheet, layout: Layout, marks: readonly TemplateMark[], window: Box): Markup {
  const half = halfTie(layout);
  const drawn: Markup[] = [];
  for (const { kind, pose, text } of marks) {
    if (pose.x < window.minX || pose.x > window.maxX || pose.y < window.minY || pose.y > window.maxY) continue;
    const bar = (reach: Millimetres): string =>
      lineData(sheet, [offsetPoint(pose, 0, reach), offsetPoint(pose, 0, -reach)]);
    if (kind === "frog") {
      const at = onPaper(sheet, pose);
      const d =
        paperLine({ x: at.x - 2, y: at.y - 2 }, { x: at.x + 2, y: at.y + 2 }) +
        paperLine({ x: at.x - 2, y: at.y + 2 }, { x: at.x + 2, y: at.y - 2 });
      drawn.push(stroke(sheet, d, MARK, { mark: kind }));
    } else {
      const dashes = kind === "riser" ? dash(sheet, DASH.hidden) : undefined;
      drawn.push(
        stroke(sheet, bar(half + (kind === "joint" ? 3 : 6)), MARK, { mark: kind, ...(dashes && { dash: dashes }) }),
      );
    }
    // Joints and frogs are told on the right of the track, heights and points on its left, each at its own distance.
    const beside = { joint: -(half + 6), frog: -(half + 10), riser: half + 9, points: half + 14 }[kind];
    const words = onPaper(sheet, offsetPoint(pose, 0, beside));
    const leftward = words.x < onPaper(sheet, pose).x - 1;
    drawn.push(
      lettered(sheet, words, text, {
        size: kind === "riser" ? 13 : 10,
        colour: sheet.palette.ink,
        anchor: leftward ? "end" : "start",
        halo: sheet.palette.paper,
      }),
    );
  }
  return drawn.join("");
}

/** Along the grid, no further apart than this, mm. */
const CROSSES: Millimetres = 250;
const CROSS: Millimetres = 3;

/** Crosses on the grid lines, which sheets side by side both show, and the lines themselves to trim by. */
export function drawRegistration(sheet: Sheet, cell: Box, xs: readonly number[], ys: readonly number[]): Markup {
  const inside = (v: number, low: number, high: number): boolean => v >= low - 1e-6 && v <= high + 1e-6;
  const gx = xs.filter((x) => inside(x, cell.minX, cell.maxX));
  const gy = ys.filter((y) => inside(y, cell.minY, cell.maxY));
  const places: Point[] = [
    ...gx.flatMap((x) => between(ys, cell.minY, cell.maxY).map((y) => ({ x, y }))),
    ...gy.flatMap((y) => between(xs, cell.minX, cell.maxX).map((x) => ({ x, y }))),
  ];
  const arms = places
    .map(
      ({ x, y }) =>
        lineData(sheet, [
          { x: x - CROSS, y },
          { x: x + CROSS, y },
        ]) +
        lineData(sheet, [
          { x, y: y - CROSS },
          { x, y: y + CROSS },
        ]),
    )
    .join("");
  const { minX, maxX, minY, maxY } = cell;
  const edge = lineData(
    sheet,
    [
      { x: minX, y: minY },
      { x: maxX, y: minY },
      { x: maxX, y: maxY },
      { x: minX, y: maxY },
    ],
    true,
  );
  return (
    stroke(sheet, edge, THIN, { mark: "trim", dash: "1 3", colour: sheet.palette.strongRule }) +
    stroke(sheet, arms, RAIL, { mark: "registration" })
  );
}

/** Places that part every cell of the grid evenly, within a range: the same whichever sheet asks. */
function between(lines: readonly number[], low: number, high: number): number[] {
  const places: number[] = [];
  for (let i = 0; i + 1 < lines.length; i++) {
    const [a, b] = [lines[i] ?? 0, lines[i + 1] ?? 0];
    const parts = Math.max(1, Math.ceil(Math.abs(b - a) / CROSSES));
    for (let j = 0; j <= parts; j++) places.push(a + ((b - a) * j) / parts);
  }
  return [...new Set(places.map((v) => Math.round(v * 1e6) / 1e6))].filter((v) => v >= low - 1e-6 && v <= high + 1e-6);
}

export const WARNING = "Print at 100 %, not fitted to the page. Measure the check scale before cutting.";

/** 100 mm and 4 in to be measured, the warning, and what sheet this is; `at` is the upper left on the paper. */
export function drawFoot(sheet: Sheet, at: Point, what: readonly string[]): Markup {
  const ruler = (y: number, length: Millimetres, step: Millimetres, name: string): Markup => {
    const count = Math.round(length / step);
    const ticks = Array.from({ length: count + 1 }, (_, i) => {
      const x = at.x + i * step;
      return paperLine({ x, y }, { x, y: y - (i === 0 || i === count ? 3 : 1.5) });
    });
    const d = paperLine({ x: at.x, y }, { x: at.x + length, y }) + ticks.join("");
    return stroke(sheet, d, RAIL, { mark: name }) + textAt(sheet, { x: at.x + length + 2, y: y - 1.5 }, name);
  };
  const left = at.x + 4 * INCH + 20;
  return [
    ruler(at.y + 7, 100, 10, "100 mm"),
    ruler(at.y + 13.5, 4 * INCH, INCH / 2, "4 in"),
    textAt(sheet, { x: at.x, y: at.y + 19 }, WARNING, { bold: true }),
    ...what.map((text, i) => textAt(sheet, { x: left, y: at.y + 4.5 + i * 4.6 }, text, { bold: i === 0 })),
  ].join("");
}
