/**
 * Places along the fasciae of a deck from which it is looked at: where someone can stand before them, how far in the
 * deck goes there, and which decks are over it. Sampled at even steps along every smooth part of a bench's edge.
 *
 * Always holds: the place is on the bench's edge; where someone stands is floor that no deck or obstacle covers; a bench
 * edge along a wall is no view.
 */
import type { Area, Ring } from "../geometry/areas.js";
import { crossingAhead, cutArea, gapsBetween, type Stretch } from "../geometry/cut-area.js";
import { ringsNear } from "../geometry/rings-near.js";
import type { Box } from "../geometry/bounds.js";
import { bearing, distance, offsetPoint, type Point, type Pose } from "../geometry/pose.js";
import { type Millimetres, type Radians, wrapAngle } from "../geometry/units.js";
import type { Deck, Id } from "../plan/schema.js";
import { reach, STANDING_ADULT, VIEWING_DISTANCE } from "../standards/people.js";
import type { Overhead } from "./sight.js";
import { ON_DECK } from "./on-deck.js";
import type { DeckSpace } from "./space.js";

export interface DeckPlace {
  readonly id: Id;
  readonly deck: Deck;
  readonly space: DeckSpace;
}

/** A line along which someone looks in over a fascia. */
export interface LineOfView {
  /** Where it passes over the fascia, heading in. */
  readonly pose: Pose;
  /** How far before the fascia the eye is. */
  readonly before: Millimetres;
  /** How far behind it what is looked at lies. */
  readonly depth: Millimetres;
  /** Decks over it, by distance behind the fascia. */
  readonly over: readonly (Overhead & { readonly deck: Id })[];
}

/** A place on a fascia, and the lines along which the deck behind it can be looked at: square first, then askance where another deck is over it. */
export interface FasciaView {
  readonly point: Point;
  readonly lines: readonly [LineOfView, ...LineOfView[]];
}

/** Places along a fascia, about as far apart as a car is long. */
const STEP: Millimetres = 250;
/** Corners of a bench that turn by more end a fascia; those of a rounded one turn by less. */
const CORNER: Radians = Math.PI / 9;
/** One looks over so much of other decks before the fascia, no more. */
const LOOKING_OVER: Millimetres = 1000;
/** What is farther in than the longest reach is worked, and looked at, from elsewhere. */
const LOOKING_IN: Millimetres = Math.max(...reach().value.map((row) => row.reach));
/** One steps aside to look past what is in the way. */
const ASKANCE: Radians = Math.PI / 5;
/** A bench that ends this near a wall stands at it. */
const AT_WALL: Millimetres = 50;
/** A bench that is no deeper is a rounding of its corner. */
const NO_DEPTH: Millimetres = 25;
/** A backdrop that begins at the fascia is the fascia's end. */
const ON_FASCIA: Millimetres = 1;

/** Of floor that goes on for more than this no more is asked than that it does. */
const ROOM: Millimetres = Math.max(STANDING_ADULT.value.depth, 2 * VIEWING_DISTANCE.value);

/** Whether someone finds room to stand in so much floor. */
const standable = ({ from, to }: Stretch): boolean => to - from >= STANDING_ADULT.value.depth;

/** What views of a deck are found by. `blocked`: what nobody can stand in beside the decks. */
export interface Surroundings {
  readonly own: DeckPlace;
  readonly decks: readonly DeckPlace[];
  readonly room: Area;
  readonly blocked: readonly Area[];
}

/** A place of a fascia, the view there if it is one, and the box beyond which nothing of it depends on benches. */
export interface ViewAt extends Box {
  readonly place: FasciaPlace;
  readonly view: FasciaView | undefined;
}

/** The view at a place of a fascia. A room without an area has no floor and gives none. */
export function viewAt(surroundings: Surroundings, place: FasciaPlace): ViewAt {
  const { x, y } = place.pose;
  const box = { minX: x, minY: y, maxX: x, maxY: y };
  const view = findView({ ...surroundings, box }, place);
  return { place, view, ...box };
}

function findView(seen: Seen, { pose, run }: FasciaPlace): FasciaView | undefined {
  const depth = depthAt(seen, pose);
  // Along a bench from its end is no way to look at it.
  if (depth === undefined || depth < NO_DEPTH || depth > run) return undefined;
  const back = offsetPoint(pose, Math.min(depth, LOOKING_IN), 0);
  const square = lineTo(seen, back, pose.heading);
  if (!square) return undefined;
  // Where no other deck is over it one need not step aside.
  const turns = square.over.length > 0 ? [ASKANCE, -ASKANCE] : [];
  const askance = turns.flatMap((turn) => lineTo(seen, back, pose.heading + turn) ?? []);
  return { point: { x: pose.x, y: pose.y }, lines: [square, ...askance] };
}

interface Seen extends Surroundings {
  /** Grows round all that is looked at. */
  readonly box: { -readonly [K in keyof Box]: Box[K] };
}

function lookedAt({ box }: Seen, { x, y }: Point): void {
  box.minX = Math.min(box.minX, x - ROUNDING);
  box.minY = Math.min(box.minY, y - ROUNDING);
  box.maxX = Math.max(box.maxX, x + ROUNDING);
  box.maxY = Math.max(box.maxY, y + ROUNDING);
}

/** Boxes of places are looked for this much farther than they reach: more than rounding can be. */
const ROUNDING: Millimetres = 1;

/**
 * The stretches of a line in an area; of those that have no place between `from` and `to` some are left out, so that only
 * what lies near need be looked at.
 */
function cutNear(seen: Seen, area: Area, pose: Pose, from: Millimetres, to: Millimetres): Stretch[] {
  const p = offsetPoint(pose, from, 0);
  const q = offsetPoint(pose, to, 0);
  lookedAt(seen, p);
  lookedAt(seen, q);
  const near = ringsNear(
    area,
    Math.min(p.x, q.x) - ROUNDING,
    Math.min(p.y, q.y) - ROUNDING,
    Math.max(p.x, q.x) + ROUNDING,
    Math.max(p.y, q.y) + ROUNDING,
  );
  return near.length > 0 ? cutArea(near, pose) : NO_STRETCHES;
}

const NO_STRETCHES: Stretch[] = [];

/**
 * Floor along a line between two places: where nothing stands and someone finds room. What goes on beyond them is cut off
 * there.
 */
function floorAlong(seen: Seen, inside: Stretch, pose: Pose, from: Millimetres, to: Millimetres): Stretch[] {
  const { decks, blocked } = seen;
  const whole = { from: Math.max(inside.from, from), to: Math.min(inside.to, to) };
  if (whole.to <= whole.from) return NO_STRETCHES;
  const taken: Stretch[] = [];
  for (const { space } of decks) for (const one of cutNear(seen, space.bench, pose, from, to)) taken.push(one);
  for (const area of blocked) for (const one of cutNear(seen, area, pose, from, to)) taken.push(one);
  return gapsBetween(whole, taken).filter(standable);
}

/** How far in a deck goes behind a place of its fascia; undefined where the place is no fascia. */
function depthAt(seen: Seen, pose: Pose): Millimetres | undefined {
  const { space } = seen.own;
  const inside = cutArea(seen.room, pose).find(({ from, to }) => from < -ON_FASCIA && to > ON_FASCIA);
  const bench = cutNear(seen, space.bench, pose, -ON_FASCIA, ON_FASCIA).find(
    ({ from, to }) => Math.abs(from) <= ON_FASCIA && to > ON_FASCIA,
  );
  if (!inside || !bench) return undefined;
  lookedAt(seen, offsetPoint(pose, bench.to, 0));
  const back = backOf(space, bench, inside, pose);
  if (back < bench.to || inside.to - back <= AT_WALL) return back;
  // Floor that begins nearer than is asked for, or ends farther off than is looked, is told apart by a little more of it.
  const beyond = floorAlong(seen, inside, pose, back - 2 * ON_FASCIA, back + LOOKING_OVER + 2 * ROOM).some(
    ({ from }) => from >= back - ON_FASCIA && from - back <= LOOKING_OVER,
  );
  // Open behind, it is looked at from both sides.
  return beyond ? back / 2 : back;
}

/** The line that leads to a place of the deck with a heading, from an aisle; undefined where none is before it. */
function lineTo(seen: Seen, back: Point, heading: Radians): LineOfView | undefined {
  const { own, decks, room } = seen;
  const pose = { ...back, heading };
  const inside = cutArea(room, pose).find(({ from, to }) => from < 0 && to >= -ON_FASCIA);
  const bench = cutNear(seen, own.space.bench, pose, -ON_FASCIA, 0).find(
    ({ from, to }) => from < 0 && to >= -ON_FASCIA,
  );
  if (!inside || !bench) return undefined;
  const depth = -bench.from;
  const front = { ...offsetPoint(pose, -depth, 0), heading };
  lookedAt(seen, front);
  const [farthest, nearest] = [bench.from - LOOKING_OVER - 2 * ROOM, bench.from + 2 * ON_FASCIA];
  const aisle = floorAlong(seen, inside, pose, farthest, nearest).findLast(({ to }) => to <= bench.from + ON_FASCIA);
  if (!aisle || bench.from - aisle.to > LOOKING_OVER || isBehind(own.space, front, depth)) return undefined;
  const before = Math.min((aisle.to - aisle.from) / 2, VIEWING_DISTANCE.value) + bench.from - aisle.to;
  const over = decks.flatMap(({ id, deck, space }) =>
    deck.height - own.deck.height <= ON_DECK
      ? []
      : cutNear(seen, space.bench, front, -before, depth)
          .filter(({ from, to }) => to > -before && from < depth)
          .map(({ from, to }) => {
            lookedAt(seen, offsetPoint(front, from, 0));
            lookedAt(seen, offsetPoint(front, to, 0));
            return { deck: id, from, to, underside: deck.height - deck.thickness };
          }),
  );
  return { pose: front, before, depth, over };
}

/** Whether one of the deck's own backdrops stands between the fascia and what is looked at. */
const isBehind = (space: DeckSpace, front: Pose, depth: Millimetres): boolean =>
  backOf(space, { from: 0, to: depth }, { from: 0, to: depth }, front) < depth - ON_FASCIA;

/** How far behind the fascia a deck's first backdrop, the wall or its own back is. */
function backOf({ backdrops }: DeckSpace, own: Stretch, room: Stretch, pose: Pose): Millimetres {
  let back = Math.min(own.to, room.to);
  for (const { line } of backdrops) {
    for (let i = 1; i < line.length; i++) {
      const at = crossingAhead(pose, line[i - 1] as Point, line[i] as Point)?.ahead;
      if (at !== undefined && at > ON_FASCIA && at < back) back = at;
    }
  }
  return back;
}

export interface FasciaPlace {
  /** On the edge, looking into what it encloses. */
  readonly pose: Pose;
  /** Length of the smooth part of the edge it lies on. */
  readonly run: Millimetres;
}

/** Places at even steps along a ring, half a step from its corners. */
export function placesAlong(ring: Ring): FasciaPlace[] {
  const n = ring.length;
  const at = (i: number): Point => ring[((i % n) + n) % n] as Point;
  const isCorner = (i: number): boolean =>
    Math.abs(wrapAngle(bearing(at(i), at(i + 1)) - bearing(at(i - 1), at(i)))) > CORNER;
  const first = Math.max(
    0,
    ring.findIndex((_, i) => isCorner(i)),
  );
  const places: FasciaPlace[] = [];
  let begun = first;
  for (let i = first + 1; i <= first + n; i++) {
    if (i < first + n && !isCorner(i)) continue;
    places.push(...placesOnRun(Array.from({ length: i - begun + 1 }, (_, k) => at(begun + k))));
    begun = i;
  }
  return places;
}

function placesOnRun(points: readonly Point[]): FasciaPlace[] {
  const lengths = points.slice(1).map((p, i) => distance(points[i] as Point, p));
  const run = lengths.reduce((sum, length) => sum + length, 0);
  const count = Math.max(1, Math.ceil(run / STEP));
  const places: FasciaPlace[] = [];
  let edge = 0;
  let passed = 0;
  for (let k = 0; k < count; k++) {
    const along = ((k + 0.5) * run) / count;
    while (edge < lengths.length - 1 && passed + (lengths[edge] ?? 0) < along) passed += lengths[edge++] ?? 0;
    const [p, q] = [points[edge] as Point, points[edge + 1] as Point];
    const share = (along - passed) / (lengths[edge] || 1);
    // Rings run with what they enclose on their left.
    const heading = bearing(p, q) + Math.PI / 2;
    places.push({ pose: { x: p.x + share * (q.x - p.x), y: p.y + share * (q.y - p.y), heading }, run });
  }
  return places;
}
