/** A way with its heights as an edit of the plan: a track of ordinary legs that joins both ends, its height pins, and benches. */
import { limitsOf } from "../plan/class-limits.js";
import type { Area } from "../geometry/areas.js";
import { areaSize, intersectAreas, offsetArea, subtractArea, uniteAreas } from "../geometry/areas.js";
import { prepareArea } from "../geometry/area-distance.js";
import { type Millimetres, toDegrees } from "../geometry/units.js";
import { andThen, type Edit, putRecord } from "../plan/edit.js";
import { freshId } from "../plan/fresh-id.js";
import type { Id, Leg, Pin, Plan } from "../plan/schema.js";
import { addTrack } from "../plan/track-edits.js";
import type { Layout } from "../layout/layout.js";
import type { Way } from "./find-ways.js";
import type { ClimbHeights } from "./heights.js";
import type { PlacedEnd } from "./ends.js";
import type { ClimbRequest, FreeEnd } from "./request.js";

/** Straights shorter than this are rounding, mm. */
const NO_STRAIGHT: Millimetres = 1e-6;
/** Pins nearer to one another than this are one, mm. */
const ONE_PLACE: Millimetres = 0.01;
/** Corners of an outline nearer than this are one, mm. */
const BENCH_MARGIN: Millimetres = 1;

export interface RouteEdit {
  readonly edit: Edit;
  readonly track: Id;
  readonly legs: readonly Leg[];
  readonly newBench: number;
}

export function routeEdit(
  layout: Layout,
  request: ClimbRequest,
  [from, to]: readonly [PlacedEnd, PlacedEnd],
  way: Way,
  heights: ClimbHeights,
): RouteEdit {
  const { plan } = layout;
  const legs = legsOf(plan, request, to.anchor, way);
  const track = freshId(plan, "climb");
  const { deck } = from;
  let edit = andThen(from.lay(plan), to.lay);
  edit = andThen(edit, (next) => addTrack(next, track, { class: request.class, deck, start: from.anchor, legs }));
  for (const [at, height] of pinsOf(way, heights, from.height, to.height)) {
    const pin: Pin = { track, at, height };
    edit = andThen(edit, (next) => putRecord(next, "pins", freshId(next, `${track}-pin`), pin), "Lay climb");
  }
  const { benches, size } = benchesFor(layout, request, way);
  for (const area of benches) {
    for (const outline of area) {
      const shape = { outline: outline.map(({ x, y }) => ({ x, y })) };
      edit = andThen(edit, (next) => putRecord(next, "benches", freshId(next, `${track}-bench`), { deck, shape }));
    }
  }
  return { edit, track, legs, newBench: size };
}

/** Pins where the grade changes, and at a joint that it does not run on over. */
function pinsOf(
  way: Way,
  { knots, endings }: ClimbHeights,
  low: Millimetres,
  high: Millimetres,
): (readonly [at: Millimetres, height: Millimetres])[] {
  const pins: (readonly [Millimetres, Millimetres])[] = [];
  const put = (at: Millimetres, height: Millimetres): void => {
    if (at - (pins.at(-1)?.[0] ?? Number.NEGATIVE_INFINITY) > ONE_PLACE) pins.push([at, height]);
  };
  if (endings[0] === "own") put(0, low);
  for (const { s, h } of knots) if (s > ONE_PLACE && s < way.length - ONE_PLACE) put(s, low + h);
  if (endings[1] === "own") put(way.length, high);
  return pins;
}

function legsOf(plan: Plan, request: ClimbRequest, to: FreeEnd, way: Way): Leg[] {
  const legs: Leg[] = [];
  let at: Millimetres = 0;
  let gone: Millimetres = 0;
  for (const { leaves, arrives, parts } of way.turns) {
    gone += leaves - at;
    for (const { straight, hand, shape } of parts) {
      gone += straight;
      if (gone > NO_STRAIGHT) legs.push({ straight: gone });
      const { radius, easement } = shape;
      legs.push({ curve: { radius, angle: toDegrees(shape.angle), hand, easement } });
      gone = 0;
    }
    at = arrives;
  }
  const limits = limitsOf(plan, request.class);
  legs.push({ join: { to, radius: limits.radius.value } });
  return legs;
}

/** The allowed areas a way needs, each whole, and what they add to the benches. */
function benchesFor(
  { space }: Layout,
  { allow = [] }: ClimbRequest,
  way: Way,
): { readonly benches: readonly Area[]; readonly size: number } {
  if (allow.length === 0) return { benches: [], size: 0 };
  const there = uniteAreas(...[...space.decks.values()].map(({ bench }) => bench));
  const known = prepareArea(offsetArea(there, -BENCH_MARGIN));
  const used = allow.filter((area) => {
    const more = prepareArea(area);
    return way.elements.some(({ points }) => {
      for (let i = 0; i < points.length; i += 2) {
        const p = { x: points[i] ?? 0, y: points[i + 1] ?? 0 };
        if (more.contains(p) && !known.contains(p)) return true;
      }
      return false;
    });
  });
  const inRoom = used.map((area) => intersectAreas(area, space.room));
  return { benches: inRoom, size: inRoom.reduce((sum, area) => sum + areaSize(subtractArea(area, there)), 0) };
}
