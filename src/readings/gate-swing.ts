/**
 * How far a swing gate opens about its hinge before it meets a bench of its deck, a wall, or something that stands as
 * high: the better of the two ways round. Its free end swings out by more than it is wide; where only that is in the
 * way, bevelling the end or a gap before it lets it go.
 *
 * Always holds: a gate opens between nothing and a right angle; more in its way never lets it open farther.
 */
import { type Area, areaSize, intersectAreas, offsetArea, subtractArea, uniteAreas } from "../geometry/areas.js";
import { distance, type Point } from "../geometry/pose.js";
import { discRing } from "../geometry/rings.js";
import { type Degrees, type Millimetres, toRadians } from "../geometry/units.js";
import type { Floor } from "../layout/floor.js";
import type { Gate } from "../plan/schema.js";
import { rememberBeside } from "./remember.js";

export interface Swings {
  /** Up to 90. */
  readonly opens: Degrees;
  /** What the free end must be bevelled by, or its joint widened; 0 where it swings free as it is. */
  readonly bevel: Millimetres;
}

/** Turned by so much at a time: less than a gate is wide, at its free end. */
const STEP: Degrees = 3;
/** What is met with less than this only touches, mm2. */
const TOUCHES = 100;
/** A closed gate rests on, and fits between, benches to within this. */
const FIT: Millimetres = 3;

/** Undefined for an outline or a deck that is none. */
export const swingOf = rememberBeside((gate: Gate, { plan, space }: Floor): Swings | undefined => {
  const hinge = gate.outline[gate.hinge ?? 0];
  const leaf = uniteAreas([gate.outline]);
  const deck = plan.decks[gate.deck];
  if (!hinge || !deck || leaf.length === 0) return undefined;
  const bottom = deck.height - deck.thickness;
  const standing = [
    ...(space.decks.get(gate.deck)?.byBench.values() ?? []),
    ...space.obstacles.filter(({ from, to }) => from < deck.height && to > bottom).map(({ area }) => area),
  ];
  const seat = offsetArea(leaf, FIT);
  const inWay = standing.length > 0 ? subtractArea(uniteAreas(...standing), seat) : [];
  const outside = (at: Area): Area => subtractArea(at, uniteAreas(space.room, seat));
  const meets = (at: Area): boolean =>
    (inWay.length > 0 && areaSize(intersectAreas(at, inWay)) > TOUCHES) || areaSize(outside(at)) > TOUCHES;
  const { whole, end } = freeEnd(gate.outline, hinge);
  const bevelled = intersectAreas(leaf, [discRing(hinge, end)]);
  let best: Swings = { opens: 0, bevel: 0 };
  for (const way of [1, -1] as const) {
    for (const [shape, bevel] of [
      [leaf, 0],
      [bevelled, whole - end],
    ] as const) {
      const opens = opensTo(shape, hinge, way, meets);
      if (opens > best.opens || (opens === best.opens && bevel < best.bevel)) best = { opens, bevel };
    }
  }
  return best;
});

/** Farthest corner from the hinge, and the nearer corner of the end it is of. */
function freeEnd(outline: readonly Point[], hinge: Point): { readonly whole: Millimetres; readonly end: Millimetres } {
  const far = outline.map((p) => distance(hinge, p));
  const whole = Math.max(...far);
  const n = far.indexOf(whole);
  return { whole, end: Math.max(far.at(n - 1) ?? whole, far[(n + 1) % far.length] ?? whole) };
}

function opensTo(shape: Area, hinge: Point, way: 1 | -1, meets: (at: Area) => boolean): Degrees {
  for (let angle = STEP; angle <= 90; angle += STEP)
    if (meets(turned(shape, hinge, toRadians(way * angle)))) return angle - STEP;
  return 90;
}

function turned(area: Area, { x, y }: Point, by: number): Area {
  const [c, d] = [Math.cos(by), Math.sin(by)];
  return area.map((ring) =>
    ring.map((p) => ({ x: x + (p.x - x) * c - (p.y - y) * d, y: y + (p.x - x) * d + (p.y - y) * c })),
  );
}
