/**
 * How far a door opens into the room before its leaf meets something, and how much of a window's glass has benchwork or
 * a backdrop across it.
 *
 * Always holds: a door opens between nothing and a right angle; more in its way never lets it open farther.
 */
import { type Area, areaSize, intersectAreas, subtractArea, uniteAreas } from "../geometry/areas.js";
import { offsetPoint, type Point } from "../geometry/pose.js";
import { type Degrees, type Millimetres, toDegrees } from "../geometry/units.js";
import type { Id, Opening, Plan } from "../plan/schema.js";
import type { Barrier, Floor } from "./floor.js";
import { doorSwing, openingPose, outsideOf } from "./openings.js";

/** Chords of the quarter circle a leaf sweeps: within half a millimetre of it for the widest doors. */
const CHORDS = 48;
/** What lies within so much of the leaf's path only touches it, mm2. */
const TOUCHES = 100;
/** Things this near to the hinge are the frame. */
const FRAME: Millimetres = 5;
/** Benchwork and backdrops within this much of the wall stand before a window in it. */
const BEFORE_GLASS: Millimetres = 300;

export interface Opens {
  readonly angle: Degrees;
  /** Where the leaf meets something first, and what. */
  readonly point: Point;
  readonly barrier: Barrier | undefined;
}

/** Undefined for what has no leaf that opens into the room. */
export function opensTo({ plan, space }: Floor, opening: Opening, barriers: readonly Barrier[]): Opens | undefined {
  const swing = opening.swing?.into === "room" ? doorSwing(plan.room, opening) : undefined;
  if (!swing) return undefined;
  const { hinge, shut, open } = swing;
  const axis = (p: Point): Point => ({ x: (p.x - hinge.x) / opening.width, y: (p.y - hinge.y) / opening.width });
  const [u, v] = [axis(shut), axis(open)];
  const leafAt = (turn: number): Point => ({
    x: hinge.x + opening.width * (Math.cos(turn) * u.x + Math.sin(turn) * v.x),
    y: hinge.y + opening.width * (Math.cos(turn) * u.y + Math.sin(turn) * v.y),
  });
  const turnTo = (p: Point): number => {
    const { x, y } = axis(p);
    return Math.atan2(x * v.x + y * v.y, x * u.x + y * u.y);
  };
  const swept = uniteAreas([
    [hinge, ...Array.from({ length: CHORDS + 1 }, (_, i) => leafAt((i / CHORDS) * (Math.PI / 2)))],
  ]);
  let found: Opens = { angle: 90, point: open, barrier: undefined };
  const meet = (area: Area, barrier: Barrier | undefined): void => {
    if (areaSize(area) <= TOUCHES) return;
    for (const p of area.flat()) {
      if (Math.hypot(p.x - hinge.x, p.y - hinge.y) < FRAME) continue;
      const angle = toDegrees(Math.min(Math.max(turnTo(p), 0), Math.PI / 2));
      if (angle < found.angle) found = { angle, point: p, barrier };
    }
  };
  for (const barrier of barriers)
    if (barrier.under < headOf(plan, opening)) meet(intersectAreas(swept, barrier.area), barrier);
  meet(subtractArea(swept, space.room), undefined);
  return found;
}

const headOf = (plan: Plan, { head }: Opening): Millimetres => head ?? plan.room.ceiling;

export interface Covered {
  /** Width of the glass that has something across it. */
  readonly width: Millimetres;
  readonly point: Point;
  readonly thing: string;
  readonly deck: Id;
}

/**
 * What lies across a window's glass, between its sill and its head: decks with the structure under them, and backdrops.
 * Undefined where sill or head are not known, or nothing does.
 */
export function coveredGlass({ plan, space }: Floor, opening: Opening): Covered | undefined {
  const { sill, head, width } = opening;
  const pose = openingPose(plan.room, opening);
  if (!pose || opening.kind !== "window" || sill === undefined || head === undefined) return undefined;
  const inward = -outsideOf(plan.room);
  const at = (along: Millimetres, into: Millimetres): Point => offsetPoint(pose, along, inward * into);
  const before = uniteAreas([[at(0, 0), at(width, 0), at(width, BEFORE_GLASS), at(0, BEFORE_GLASS)]]);
  const across: { area: Area; thing: string; deck: Id }[] = [];
  for (const [id, deck] of Object.entries(plan.decks)) {
    const own = space.decks.get(id);
    if (deck.height > sill && deck.height - deck.thickness < head) {
      for (const [bench, area] of own?.byBench ?? [])
        across.push({ area: intersectAreas(before, area), thing: `benches.${bench}`, deck: id });
    }
    for (const { id: backdrop, line, from, to } of own?.backdrops ?? []) {
      if (to <= sill || from >= head) continue;
      across.push({ area: intersectAreas(before, ribbon(line)), thing: `backdrops.${backdrop}`, deck: id });
    }
  }
  const met = across.filter(({ area }) => area.length > 0);
  const [first] = met;
  if (!first) return undefined;
  // Along the wall every piece covers the glass from its one end to its other.
  const spans = met.flatMap(({ area }) =>
    area.map((ring) => {
      const along = ring.map((p) => (p.x - pose.x) * Math.cos(pose.heading) + (p.y - pose.y) * Math.sin(pose.heading));
      return [Math.min(...along), Math.max(...along)] as const;
    }),
  );
  spans.sort(([a], [b]) => a - b);
  let [covered, to] = [0, 0];
  for (const [a, b] of spans) {
    covered += Math.max(0, b - Math.max(a, to));
    to = Math.max(to, b);
  }
  return { width: Math.min(width, covered), point: at(width / 2, 0), thing: first.thing, deck: first.deck };
}

/** Half of what a backdrop is taken to be thick, so that it covers something. */
const THIN: Millimetres = 1;

/** A line as a thin area, piece by piece. */
function ribbon(line: readonly Point[]): Area {
  const pieces = line.slice(1).flatMap((q, i): Area[] => {
    const p = line[i];
    const far = p ? Math.hypot(q.x - p.x, q.y - p.y) : 0;
    if (!p || far === 0) return [];
    const [nx, ny] = [(-THIN * (q.y - p.y)) / far, (THIN * (q.x - p.x)) / far];
    const corner = (c: Point, way: 1 | -1): Point => ({ x: c.x + way * nx, y: c.y + way * ny });
    return [[[corner(p, 1), corner(p, -1), corner(q, -1), corner(q, 1)]]];
  });
  return uniteAreas(...pieces);
}
