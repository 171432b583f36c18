/**
 * The profile in a window of the page: the drawing's own paper, cut to the window, and the way back from a point of it
 * to a place on the track. What is drawn on it is drawn by the same hand as the printed profile.
 */
import type { Palette } from "../../../exchange/svg/palette.js";
import { passings } from "../../../exchange/svg/profile-passing.js";
import {
  distanceOn,
  type GradeRun,
  gradeRuns,
  type Leg,
  legsOf,
  type ProfilePoint,
  routeHeights,
} from "../../../exchange/svg/profile-run.js";
import { drawBeside, type ProfileBeside } from "../../../exchange/svg/profile-beside.js";
import { drawDeckBands, drawGrid } from "../../../exchange/svg/profile-ground.js";
import { drawCurvesStrip, drawGrades, drawLine, drawPassings, drawPlaces } from "../../../exchange/svg/profile-line.js";
import { heightBetween, inField, type ProfileSheet } from "../../../exchange/svg/profile-sheet.js";
import { poseAt } from "../../../geometry/path.js";
import { distance, type Point } from "../../../geometry/pose.js";
import type { Layout } from "../../../layout/layout.js";
import { recordsInHand } from "../../../layout/options.js";
import type { LinePlace } from "../../../layout/line.js";
import { type Route, routePlaceAt } from "../../../layout/route.js";
import type { Id, Plan } from "../../../plan/schema.js";

/** Kept free round the field for names, heights, the curves strip and the distances, px. */
const SPACE = { left: 66, right: 66, top: 36, strip: 42, foot: 28 } as const;
/** Room in the field below the lowest height for the pins' figures, and above the highest for the grades', px. */
const ROOM = { below: 16, above: 14 } as const;
/** A flat route is not drawn as mountains, mm. */
const LEAST_RANGE = 60;

export interface ProfileView {
  readonly sheet: ProfileSheet;
  readonly legs: readonly Leg[];
  readonly heights: readonly ProfilePoint[];
  readonly grades: readonly GradeRun[];
  readonly route: Route;
  /** The drawing without pins and pointer, as SVG markup. */
  readonly markup: string;
}

export interface ViewOptions {
  readonly plan: Plan;
  readonly layout: Layout;
  readonly route: Route;
  readonly palette: Palette;
  readonly width: number;
  readonly height: number;
  /** Scales to go on with while something is dragged, so that the ground does not move under the hand. */
  readonly scales?: ProfileSheet | undefined;
  /** The same way in other options, drawn along. */
  readonly besides?: readonly WayBeside[];
}

export interface WayBeside {
  readonly name: string;
  readonly layout: Layout;
  readonly route: Route;
}

export function profileView(options: ViewOptions): ProfileView {
  const { plan, layout, route } = options;
  const legs = legsOf(route);
  const heights = routeHeights(layout, legs);
  const passing = passings(layout, legs);
  const besides = (options.besides ?? []).map((way) => besideOf(options, way));
  const seen = [heights, ...passing.map(({ points }) => points), ...besides.map((other) => other.heights)];
  const sheet = options.scales ?? cutSheet(options, seen);
  const shown = { ...sheet, plan, palette: options.palette };
  const grades = gradeRuns(layout, legs);
  const markup = [
    drawGrid(shown),
    drawDeckBands(shown, heights),
    drawPassings(shown, legs, passing, heights, grades),
    besides.length > 0 ? drawBeside(shown, besides, heights) : "",
    drawLine(shown, layout, legs, heights),
    drawGrades(shown, layout, legs, heights, grades),
    drawPlaces(shown, layout, legs),
    drawCurvesStrip(shown, layout, legs),
  ].join("");
  return { sheet: shown, legs, heights, grades, route, markup };
}

/**
 * Two ways are laid over each other where they meet: at the end where they arrive at one place and set out from two, else
 * at the start. What then lies before the start of the way in hand is left out.
 */
function besideOf({ layout, route }: ViewOptions, { name, layout: other, route: way }: WayBeside): ProfileBeside {
  const apart = (which: "start" | "end"): number => {
    const [own, theirs] = [endPlace(layout, route, which), endPlace(other, way, which)];
    return own && theirs ? distance(own, theirs) : Number.POSITIVE_INFINITY;
  };
  const shift = apart("end") < apart("start") ? route.length - way.length : 0;
  const all = routeHeights(other, legsOf(way)).map(({ d, h }) => ({ d: d + shift, h }));
  const inside = all.filter(({ d }) => d >= 0);
  return { name, heights: shift < 0 ? [{ d: 0, h: heightBetween(all, 0) }, ...inside] : inside };
}

function endPlace(layout: Layout, { stretches }: Route, which: "start" | "end"): Point | undefined {
  const stretch = which === "start" ? stretches[0] : stretches.at(-1);
  const line = stretch && layout.lines.get(stretch.line);
  return line && poseAt(line.path, which === "start" ? stretch.from : stretch.to);
}

function cutSheet(
  { plan, palette, route, width, height }: ViewOptions,
  seen: readonly (readonly ProfilePoint[])[],
): ProfileSheet {
  const bands = Object.values(plan.decks).flatMap((deck) => [deck.height, deck.height - deck.thickness]);
  const all = [...seen.flatMap((points) => points.map(({ h }) => h)), ...bands].filter(Number.isFinite);
  const lowest = all.reduce((least, h) => Math.min(least, h), all[0] ?? 0);
  const highest = all.reduce((most, h) => Math.max(most, h), all[0] ?? 0);
  const top = SPACE.top;
  const bottom = Math.max(height - SPACE.strip - SPACE.foot, top + 40);
  const inner = Math.max(bottom - top - ROOM.below - ROOM.above, 12);
  const up = Math.max(highest - lowest, LEAST_RANGE) / inner;
  const left = SPACE.left;
  const right = Math.max(width - SPACE.right, left + 60);
  const length = seen.reduce((most, points) => Math.max(most, points.at(-1)?.d ?? 0), route.length);
  const across = length / (right - left);
  const low = lowest - ROOM.below * up;
  return {
    plan,
    palette,
    pen: 1,
    scale: across,
    origin: { x: left, y: bottom },
    across,
    up,
    length,
    low,
    high: low + (bottom - top) * up,
    left,
    right,
    top,
    bottom,
    strip: bottom + SPACE.strip / 2,
    width,
    height,
  };
}

export interface PinMark {
  readonly id: Id;
  readonly x: number;
  readonly y: number;
  readonly height: number;
  readonly at: number;
  readonly track: Id;
  /** Whether it holds a deck's height, and follows it. */
  readonly deck: Id | undefined;
  /** +1 where the route runs the track's way. */
  readonly way: 1 | -1;
}

/** The pins on the route, in order along it. */
export function pinMarks(plan: Plan, view: ProfileView): PinMark[] {
  return recordsInHand(plan, plan.pins)
    .flatMap(([id, pin]): PinMark[] => {
      const height = pin.height ?? plan.decks[pin.deck ?? ""]?.height;
      if (height === undefined) return [];
      for (const leg of view.legs) {
        const d = distanceOn(leg, { line: `track:${pin.track}`, s: pin.at });
        if (d === undefined) continue;
        const { x, y } = inField(view.sheet, d, height);
        return [{ id, x, y, height, at: pin.at, track: pin.track, deck: pin.deck, way: leg.way }];
      }
      return [];
    })
    .sort((a, b) => a.x - b.x);
}

export const heightAtY = (sheet: ProfileSheet, y: number): number => sheet.low + (sheet.bottom - y) * sheet.up;

/** The place on the track at an x of the window; undefined beside the field. */
export function placeAtX(view: ProfileView, x: number): LinePlace | undefined {
  const d = (x - view.sheet.left) * view.sheet.across;
  return d < 0 || d > view.route.length ? undefined : routePlaceAt(view.route, d);
}

export interface Spot {
  readonly x: number;
  readonly y: number;
  readonly height: number;
  /** Percent along the route. */
  readonly grade: number;
  readonly distance: number;
}

/** Where a place of the layout lies in the profile; undefined where the route does not run over it. */
export function spotOf(view: ProfileView, place: LinePlace): Spot | undefined {
  for (const leg of view.legs) {
    const distance = distanceOn(leg, place);
    if (distance === undefined) continue;
    const height = heightBetween(view.heights, distance);
    const grade = view.grades.find(({ from, to }) => distance >= from && distance <= to)?.percent ?? 0;
    return { ...inField(view.sheet, distance, height), height, grade, distance };
  }
  return undefined;
}
