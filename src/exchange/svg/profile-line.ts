/** On the profile: the line itself with grades, vertical curves and pins, what passes it, names, and the curves strip. */
import { DASH } from "../../drafting/line-weights.js";
import type { Layout } from "../../layout/layout.js";
import { recordsInHand } from "../../layout/options.js";
import { placesNear } from "../../layout/place-names.js";
import { lengthText, drawnGrade } from "../../drafting/figures.js";
import { element, group, type Markup } from "./markup.js";
import { distanceOn, type GradeRun, type Leg, type ProfilePoint, routeCurvature, routePieces } from "./profile-run.js";
import type { Passing } from "./profile-passing.js";
import { heightBetween, inField, type ProfileSheet } from "./profile-sheet.js";
import { paperLine } from "./shapes.js";
import { dash, lettered, px, textWidth } from "./sheet.js";

export function drawLine(
  sheet: ProfileSheet,
  layout: Layout,
  legs: readonly Leg[],
  heights: readonly ProfilePoint[],
): Markup {
  const marks = routePieces(layout, legs).map(({ from, to, hidden }) => {
    const inner = heights.filter((point) => point.d > from && point.d < to);
    const ends = [from, to].map((d) => ({ d, h: heightBetween(heights, d) }));
    const points = [ends[0], ...inner, ends[1]].flatMap((p) => (p ? inField(sheet, p.d, p.h) : []));
    return element("path", {
      d: paperLine(...points),
      fill: "none",
      stroke: sheet.palette.ink,
      "stroke-width": px(sheet, 1.7),
      "stroke-dasharray": hidden ? dash(sheet, DASH.hidden) : undefined,
    });
  });
  return group({ "data-layer": "line" }, marks);
}

/** Grades below this are called level, percent. */
const LEVEL = 0.05;

/** Figures along the line, and ticks where vertical curves begin and end. */
export function drawGrades(
  sheet: ProfileSheet,
  layout: Layout,
  legs: readonly Leg[],
  heights: readonly ProfilePoint[],
  grades: readonly GradeRun[],
): Markup {
  const marks = grades.flatMap((run) => {
    const level = Math.abs(run.percent) < LEVEL;
    const text = level ? "level" : `${drawnGrade(Math.abs(run.percent))} ${run.percent > 0 ? "↗" : "↘"}`;
    const wide = textWidth(sheet, text, 12);
    if ((run.to - run.from) / sheet.across < wide) return [];
    const d = (run.from + run.to) / 2;
    const at = inField(sheet, d, heightBetween(heights, d));
    const turn = (-Math.atan2(run.percent / 100 / sheet.up, 1 / sheet.across) * 180) / Math.PI;
    const off = px(sheet, 10);
    const radians = (turn * Math.PI) / 180;
    return lettered(sheet, { x: at.x + off * Math.sin(radians), y: at.y - off * Math.cos(radians) }, text, {
      size: 12,
      colour: level ? sheet.palette.ink2 : sheet.palette.ink,
      turn,
    });
  });
  const tick = px(sheet, 3);
  const ends = legs.flatMap((leg) =>
    (layout.profiles.get(leg.stretch.line)?.curves ?? []).flatMap((curve) =>
      [-0.5, 0.5].flatMap(
        (part) => distanceOn(leg, { line: leg.stretch.line, s: curve.at + part * curve.length }) ?? [],
      ),
    ),
  );
  const d = [...new Set(ends)]
    .map((end) => inField(sheet, end, heightBetween(heights, end)))
    .map((p) => paperLine({ x: p.x, y: p.y - tick }, { x: p.x, y: p.y + tick }))
    .join("");
  if (d)
    marks.push(
      element("path", {
        d,
        fill: "none",
        stroke: sheet.palette.ink2,
        "stroke-width": px(sheet, 0.6),
        "data-mark": "vertical-curves",
      }),
    );
  return group({ "data-layer": "grades" }, marks);
}

const RING = 8;
const STEM = 14;

/** Pins of the route in order of distance, with the height each holds. */
function pinsOn({ plan }: ProfileSheet, legs: readonly Leg[]): { readonly d: number; readonly height: number }[] {
  return recordsInHand(plan, plan.pins)
    .flatMap(([, pin]) => {
      const height = pin.height ?? (pin.deck === undefined ? undefined : plan.decks[pin.deck]?.height);
      const d = legs.flatMap((leg) => distanceOn(leg, { line: `track:${pin.track}`, s: pin.at }) ?? [])[0];
      return height === undefined || d === undefined ? [] : [{ d, height }];
    })
    .sort((a, b) => a.d - b.d);
}

/** Heights the owner has fixed: a ring on the line, a stem, the figure under it. */
export function drawPins(sheet: ProfileSheet, legs: readonly Leg[]): Markup {
  const { plan, palette } = sheet;
  let free = Number.NEGATIVE_INFINITY;
  const pins = pinsOn(sheet, legs);
  const marks = pins.flatMap(({ d, height }) => {
    const p = inField(sheet, d, height);
    const r = px(sheet, RING / 2);
    const text = lengthText(height, plan.units);
    const half = textWidth(sheet, text, 12) / 2;
    const room = p.x - half > free;
    if (room) free = p.x + half + px(sheet, 4);
    const low = { x: p.x, y: p.y + px(sheet, STEM) };
    return [
      room
        ? element("path", {
            d: paperLine({ x: p.x, y: p.y + r }, low),
            stroke: palette.ink,
            "stroke-width": px(sheet, 0.9),
          })
        : "",
      element("circle", {
        cx: p.x,
        cy: p.y,
        r,
        fill: palette.paper,
        stroke: palette.ink,
        "stroke-width": px(sheet, 1.4),
      }),
      room
        ? lettered(sheet, { x: p.x, y: low.y + px(sheet, 8) }, text, {
            size: 12,
            colour: palette.ink,
            halo: palette.paper,
          })
        : "",
    ];
  });
  return group({ "data-layer": "pins" }, marks);
}

/** Other railheads as thin lines at their height, with the least gap of each that has room for a figure. */
export function drawPassings(
  sheet: ProfileSheet,
  legs: readonly Leg[],
  passings: readonly Passing[],
  heights: readonly ProfilePoint[],
  grades: readonly GradeRun[],
): Markup {
  const { palette } = sheet;
  const half = px(sheet, 5) * sheet.across;
  // The pins' figures, and the grades' in the middle of their runs, stand there already.
  const taken = [...pinsOn(sheet, legs).map(({ d }) => d), ...grades.map(({ from, to }) => (from + to) / 2)].map(
    (d) => inField(sheet, d, 0).x,
  );
  const marks = passings.flatMap(({ points, at, gap }) => {
    const wide = points.length > 1 && (points.at(-1)?.d ?? 0) - (points[0]?.d ?? 0) > half;
    const h = heightBetween(heights, at) + gap;
    const line = wide ? points : [at - half, at + half].map((d) => ({ d, h }));
    const top = inField(sheet, at, Math.max(h, h - gap));
    const foot = inField(sheet, at, Math.min(h, h - gap));
    const stroke = { fill: "none", stroke: palette.ink3 };
    const drawn = [
      element("path", {
        ...stroke,
        d: paperLine(...line.map((p) => inField(sheet, p.d, p.h))),
        "stroke-width": px(sheet, wide ? 0.6 : 1.2),
      }),
    ];
    const text = lengthText(Math.abs(gap), sheet.plan.units);
    const apart = textWidth(sheet, text, 12) + px(sheet, 24);
    if (foot.y - top.y > px(sheet, 16) && taken.every((x) => Math.abs(x - top.x) > apart)) {
      taken.push(top.x);
      drawn.push(
        element("path", {
          ...stroke,
          d: paperLine(top, foot),
          "stroke-width": px(sheet, 0.6),
          "stroke-dasharray": dash(sheet, [2, 2]),
        }),
        lettered(sheet, { x: top.x + px(sheet, 5), y: (top.y + foot.y) / 2 }, text, {
          size: 12,
          colour: palette.ink2,
          anchor: "start",
          halo: palette.paper,
        }),
      );
    }
    return drawn;
  });
  return group({ "data-layer": "passings" }, marks);
}

/** Names of places whose track the route runs over, above where it passes nearest to them. */
export function drawPlaces(sheet: ProfileSheet, layout: Layout, legs: readonly Leg[]): Markup {
  const { plan, palette } = sheet;
  const places = recordsInHand(plan, plan.labels)
    .flatMap(([, label]) => {
      const passed = placesNear(layout, label.at, label.deck).flatMap((place) =>
        legs.flatMap((leg) => distanceOn(leg, place) ?? []),
      );
      const d = passed[0];
      return d === undefined ? [] : [{ text: label.text, d }];
    })
    .sort((a, b) => a.d - b.d);
  let free = Number.NEGATIVE_INFINITY;
  const marks = places.flatMap(({ text, d }) => {
    const half = textWidth(sheet, text, 15, "name") / 2;
    const x = Math.min(
      Math.max(inField(sheet, d, 0).x, sheet.left + half),
      Math.max(sheet.right - half, sheet.left + half),
    );
    if (x - half < free) return [];
    free = x + half + px(sheet, 8);
    const y = sheet.top - px(sheet, 16);
    const stem = inField(sheet, d, 0).x;
    return [
      lettered(sheet, { x, y }, text, { size: 15, colour: palette.ink, face: "name", italic: true }),
      element("path", {
        d: paperLine({ x: stem, y: y + px(sheet, 10) }, { x: stem, y: sheet.top }),
        stroke: palette.strongRule,
        "stroke-width": px(sheet, 0.9),
      }),
    ];
  });
  return group({ "data-layer": "places" }, marks);
}

/** Depth of the sharpest curve in the strip, px. */
const DEPTH = 18;

/** Left turns up, right turns down, by sharpness. */
export function drawCurvesStrip(sheet: ProfileSheet, layout: Layout, legs: readonly Leg[]): Markup {
  const points = routeCurvature(layout, legs);
  const sharpest = points.reduce((most, p) => Math.max(most, Math.abs(p.k)), 0);
  const y = sheet.strip;
  const { palette } = sheet;
  const at = (d: number, k: number) => ({
    x: sheet.left + d / sheet.across,
    y: sharpest > 0 ? y - (k / sharpest) * px(sheet, DEPTH) : y,
  });
  const end = sheet.left + sheet.length / sheet.across;
  return group({ "data-layer": "curves" }, [
    element("path", {
      d: paperLine({ x: sheet.left, y }, { x: end, y }),
      stroke: palette.strongRule,
      "stroke-width": px(sheet, 0.6),
    }),
    lettered(sheet, { x: sheet.left - px(sheet, 8), y }, "curves", { size: 12, colour: palette.ink2, anchor: "end" }),
    points.length > 1
      ? element("path", {
          d: paperLine(...points.map((p) => at(p.d, p.k))),
          fill: "none",
          stroke: palette.ink2,
          "stroke-width": px(sheet, 0.9),
        })
      : "",
    ...(sharpest > 0
      ? [
          lettered(sheet, { x: end + px(sheet, 4), y }, `R ${lengthText(1 / sharpest, sheet.plan.units)}`, {
            size: 12,
            colour: palette.ink3,
            anchor: "start",
          }),
        ]
      : []),
  ]);
}
