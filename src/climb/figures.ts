/** The figures of a route, taken from the layout it is laid in. */
import { type Millimetres, toDegrees } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { LineKey } from "../layout/line.js";
import { feltPercent, feltPlaces } from "../readings/felt-grade.js";
import { reachOfLine } from "../readings/reach.js";
import { aislesOf, floorOf, hasBenches } from "../readings/walkable.js";
import type { Way } from "./find-ways.js";
import type { ClimbHeights } from "./heights.js";
import type { ClimbFigures, ClimbRequest } from "./request.js";
import type { RouteEdit } from "./route-edit.js";

/** Share of its weight an engine pulls with, and of their weight that cars resist with on level straight track. */
const ADHESION = 0.22;
const ROLLING = 0.025;

/**
 * Cars an engine takes up a grade, from those it takes on the level. An engine of weight W pulls W (A - g) up a grade g
 * felt, cars of weight w resist w (r + g) each; the level tells W / w. Common practice, no source: A about 0.22, r 2 to 3
 * percent; every engine has its own.
 */
export function carsUp(onLevel: number, felt: number): number {
  const grade = felt / 100;
  const weight = (onLevel * ROLLING) / ADHESION;
  return Math.max(0, Math.floor((weight * (ADHESION - grade)) / (ROLLING + grade)));
}

export function figuresOf(
  layout: Layout,
  { track, newBench }: RouteEdit,
  way: Way,
  rise: Millimetres,
  heights: ClimbHeights,
  { engineCars }: Pick<ClimbRequest, "engineCars">,
): ClimbFigures {
  const key: LineKey = `track:${track}`;
  const line = layout.lines.get(key);
  const profile = layout.profiles.get(key);
  const places = line && profile ? feltPlaces(line, profile) : [];
  const drag = layout.plan.standards.curveDrag.value;
  const felt = places.reduce((most, place) => Math.max(most, feltPercent(place, drag)), 0);
  let hidden = 0;
  for (const stretch of layout.hidden) if (stretch.line === key) hidden += stretch.to - stretch.from;
  const curves = way.turns.flatMap(({ parts }) => parts);
  return {
    run: line?.path.length ?? 0,
    rise,
    ruling: places.reduce((most, { slope }) => Math.max(most, 100 * Math.abs(slope)), 0),
    felt,
    gap: gapOver(layout, key),
    hidden,
    curvature: toDegrees(curves.reduce((sum, { shape }) => sum + shape.angle, 0)),
    curves: curves.length,
    reversals: curves.filter(({ hand }, i) => i > 0 && curves[i - 1]?.hand !== hand).length,
    leastRadius: curves.length > 0 ? Math.min(...curves.map(({ shape }) => shape.radius)) : undefined,
    newBench,
    reach: line && reachOfLine(layout, line),
    aisleLeft: aisleLeft(layout),
    cars: engineCars === undefined ? undefined : carsUp(engineCars, felt),
    level: heights.level && { from: heights.level[0], to: heights.level[1] },
  };
}

/** Least height over itself; nearer in height than half a car it lies beside itself. */
function gapOver({ meetings, plan }: Layout, key: LineKey): Millimetres | undefined {
  const car = plan.standards.longestCar.value.height;
  let gap = Number.POSITIVE_INFINITY;
  for (const { a, b, places } of meetings) {
    if (a !== key || b !== key) continue;
    for (const place of places) if (Math.abs(place.rise) > car / 2) gap = Math.min(gap, Math.abs(place.rise));
  }
  return Number.isFinite(gap) ? gap : undefined;
}

/** The narrowest of the ways on foot that the reading of aisles knows. */
function aisleLeft(layout: Layout): Millimetres | undefined {
  if (!hasBenches(layout)) return undefined;
  const widths = aislesOf(floorOf(layout)).parts.flatMap(({ width }) => (width > 0 ? [width] : []));
  return widths.length > 0 ? Math.min(...widths) : undefined;
}
