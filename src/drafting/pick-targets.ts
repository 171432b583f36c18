/**
 * What of a layout can be pointed at, each with its box and how far a point is from it. Built once for a layout; lines
 * and areas keep their boxes and trees beside them, so that the next layout only measures what is new.
 */
import type { Area } from "../geometry/areas.js";
import { type PreparedArea, prepareArea } from "../geometry/area-distance.js";
import type { Box } from "../geometry/bounds.js";
import { nearestOnPath } from "../geometry/nearest.js";
import { poseAt } from "../geometry/path.js";
import { distance, offsetPoint, type Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import { legStationsOf } from "../layout/derive.js";
import type { Layout } from "../layout/layout.js";
import type { Line, PlacedTurnout } from "../layout/line.js";
import { recordsInHand } from "../layout/options.js";
import type { PlacedSlip } from "../layout/slip.js";
import type { PlacedTurntable } from "../layout/turntable.js";
import type { Collection, Id } from "../plan/schema.js";
import { lineBox } from "../layout/line-boxes.js";
import { grownBox, pointsBox, unitedBox } from "./boxes.js";
import { openingPose } from "../layout/openings.js";
import type { Thing } from "./thing.js";
import { pitEdge } from "./trackwork-shapes.js";

/** Kinds of things in the order they are offered where they lie equally near. */
export const PICK_KINDS = [
  "pins",
  "labels",
  "turnouts",
  "slips",
  "tracks",
  "turntables",
  "openings",
  "backdrops",
  "gates",
  "obstacles",
  "benches",
  "walls",
] as const;
export type PickKind = (typeof PICK_KINDS)[number];

/** What is drawn over what: marks over track, track over edges, edges over the areas they bound. */
export type Tier = "mark" | "line" | "edge" | "inside";

export interface Measured {
  readonly distance: Millimetres;
  readonly point: Point;
  readonly tier: Tier;
  readonly s?: Millimetres;
  readonly leg?: number;
}

export interface Target {
  readonly thing: Thing;
  readonly kind: PickKind;
  /** Undefined for what belongs to every deck. */
  readonly deck: Id | undefined;
  readonly box: Box;
  measure(point: Point, px: Millimetres): Measured | undefined;
}

const record = (collection: Collection, id: Id): Thing => ({ kind: "record", collection, id });

export function* targetsOf(layout: Layout): Generator<Target> {
  const { plan } = layout;
  for (const line of layout.lines.values()) if (line.kind === "track") yield trackTarget(layout, line);
  for (const turnout of layout.turnouts.values()) yield* turnoutTarget(layout, turnout);
  for (const slip of layout.slips.values()) yield* slipTarget(layout, slip);
  for (const turntable of layout.turntables.values()) {
    yield areaTarget("turntables", record("turntables", turntable.id), turntable.deck, pitArea(turntable));
  }
  for (const [id, pin] of recordsInHand(plan, plan.pins)) {
    const line = layout.lines.get(`track:${pin.track}`);
    if (line) yield pointTarget("pins", record("pins", id), line.deck, poseAt(line.path, pin.at));
  }
  for (const [id, label] of recordsInHand(plan, plan.labels)) {
    yield labelTarget(record("labels", id), label.deck, label.at, label.text.length, label.heading ?? 0);
  }
  for (const [deck, space] of layout.space.decks) {
    for (const [id, area] of space.byBench) yield areaTarget("benches", record("benches", id), deck, area);
    for (const { id, line } of space.backdrops) yield lineTarget("backdrops", record("backdrops", id), deck, line);
  }
  for (const [id, gate] of recordsInHand(plan, plan.gates)) {
    yield areaTarget("gates", record("gates", id), gate.deck, [gate.outline]);
  }
  for (const { id, area } of layout.space.obstacles) {
    yield areaTarget("obstacles", { kind: "obstacle", id }, undefined, area);
  }
  const { room } = plan;
  for (const [id, opening] of Object.entries(room.openings)) {
    const from = openingPose(room, opening);
    const to = from && offsetPoint(from, opening.width, 0);
    if (from && to) yield lineTarget("openings", { kind: "opening", id }, undefined, [from, to]);
  }
  for (const [wall, from] of room.outline.entries()) {
    const to = room.outline[wall + 1] ?? room.outline[0];
    if (to) yield lineTarget("walls", { kind: "wall", wall }, undefined, [from, to]);
  }
}

function trackTarget(layout: Layout, line: Line): Target {
  return {
    thing: record("tracks", line.id),
    kind: "tracks",
    deck: line.deck,
    box: lineBox(line),
    measure(point) {
      const { s, distance: apart } = nearestOnPath(line.path, point);
      const leg = legAt(legStationsOf(layout, line.id), s);
      return { distance: apart, point: poseAt(line.path, s), tier: "line", s, ...(leg === undefined ? {} : { leg }) };
    },
  };
}

/** The leg that holds a distance along a track; undefined where the legs are not known. */
export function legAt(stations: readonly Millimetres[], s: Millimetres): number | undefined {
  const after = stations.findIndex((station) => station > s);
  if (stations.length < 2) return undefined;
  return after === -1 ? stations.length - 2 : Math.max(after - 1, 0);
}

/** A turnout is pointed at on its diverging routes, and on its host from joint to heel. */
function* turnoutTarget(layout: Layout, turnout: PlacedTurnout): Generator<Target> {
  const host = layout.lines.get(turnout.host);
  if (!host) return;
  const from = Math.min(turnout.joint, turnout.heel, turnout.at);
  const to = Math.max(turnout.joint, turnout.heel, turnout.at);
  const routes = turnout.routes.flatMap(({ line }) => layout.lines.get(line) ?? []);
  const stretch = pointsBox([from, (from + to) / 2, to].map((s) => poseAt(host.path, s)));
  const box = routes.reduce<Box>((all, line) => unitedBox(all, lineBox(line)) ?? all, stretch);
  yield {
    thing: record("turnouts", turnout.id),
    kind: "turnouts",
    deck: host.deck,
    box,
    measure(point) {
      const on = nearestOnPath(host.path, point);
      let best: Measured | undefined =
        on.s >= from && on.s <= to
          ? { distance: on.distance, point: poseAt(host.path, on.s), tier: "line", s: on.s }
          : undefined;
      for (const { path } of routes) {
        const near = nearestOnPath(path, point);
        if (!best || near.distance < best.distance) {
          best = { distance: near.distance, point: poseAt(path, near.s), tier: "line" };
        }
      }
      return best;
    },
  };
}

/** A slip is pointed at on its curves; they lie beside the tracks, which are pointed at themselves. */
function* slipTarget(layout: Layout, slip: PlacedSlip): Generator<Target> {
  const routes = slip.routes.flatMap(({ line }) => layout.lines.get(line) ?? []);
  const box = routes.reduce<Box>((all, line) => unitedBox(all, lineBox(line)) ?? all, pointsBox([slip.point]));
  yield {
    thing: record("slips", slip.id),
    kind: "slips",
    deck: slip.deck,
    box,
    measure(point) {
      let best: Measured = { distance: distance(slip.point, point), point: slip.point, tier: "line", s: slip.on.s };
      for (const { path } of routes) {
        const near = nearestOnPath(path, point);
        if (near.distance < best.distance)
          best = { distance: near.distance, point: poseAt(path, near.s), tier: "line", s: slip.on.s };
      }
      return best;
    },
  };
}

const pits = new WeakMap<PlacedTurntable, Area>();

/** The pit as an area, made once for a turntable. */
export function pitArea(turntable: PlacedTurntable): Area {
  let area = pits.get(turntable);
  if (!area) pits.set(turntable, (area = [pitEdge(turntable)]));
  return area;
}

function pointTarget(kind: PickKind, thing: Thing, deck: Id | undefined, at: Point): Target {
  return {
    thing,
    kind,
    deck,
    box: pointsBox([at]),
    measure: (point) => ({ distance: distance(at, point), point: at, tier: "mark" }),
  };
}

/** Lettering of names of places, px (LOOK: 15 px italic): half the mean width of a letter, and half the height. */
const HALF_LETTER = 3.6;
const HALF_HEIGHT = 9;
/** Labels are as large on the sheet as the scale makes them; this bounds the search, not the answer. */
const FARTHEST_LABEL: Millimetres = 1e5;

function labelTarget(thing: Thing, deck: Id | undefined, at: Point, letters: number, heading: number): Target {
  const [c, s] = [Math.cos((heading * Math.PI) / 180), Math.sin((heading * Math.PI) / 180)];
  return {
    thing,
    kind: "labels",
    deck,
    box: grownBox(pointsBox([at]), FARTHEST_LABEL),
    measure(point, px) {
      const [dx, dy] = [point.x - at.x, point.y - at.y];
      const beyond = Math.max(0, Math.abs(dx * c + dy * s) - letters * HALF_LETTER * px);
      const off = Math.max(0, Math.abs(dy * c - dx * s) - HALF_HEIGHT * px);
      return { distance: Math.hypot(beyond, off), point: at, tier: "mark" };
    },
  };
}

const prepared = new WeakMap<Area, PreparedArea>();

export function preparedArea(area: Area): PreparedArea {
  let known = prepared.get(area);
  if (!known) {
    known = prepareArea(area);
    prepared.set(area, known);
  }
  return known;
}

function areaTarget(kind: PickKind, thing: Thing, deck: Id | undefined, area: Area): Target {
  return {
    thing,
    kind,
    deck,
    box: pointsBox(area.flat()),
    measure(point) {
      const ready = preparedArea(area);
      const edge = ready.nearestEdge(point);
      if (!edge) return undefined;
      const inside = ready.contains(point);
      return { distance: edge.distance, point: edge.point, tier: inside ? "inside" : "edge" };
    },
  };
}

function lineTarget(kind: PickKind, thing: Thing, deck: Id | undefined, line: readonly Point[]): Target {
  return {
    thing,
    kind,
    deck,
    box: pointsBox(line),
    measure: (point) => ({ ...nearestOnChain(line, point), tier: "edge" }),
  };
}

/** The nearest place of a chain of straight pieces. */
export function nearestOnChain(
  line: readonly Point[],
  p: Point,
): { readonly distance: Millimetres; readonly point: Point } {
  let best = { distance: Number.POSITIVE_INFINITY, point: line[0] ?? p };
  line.forEach((a, i) => {
    const b = line[i + 1] ?? a;
    const [dx, dy] = [b.x - a.x, b.y - a.y];
    const square = dx * dx + dy * dy;
    const t = square > 0 ? Math.min(1, Math.max(0, ((p.x - a.x) * dx + (p.y - a.y) * dy) / square)) : 0;
    const point = { x: a.x + t * dx, y: a.y + t * dy };
    const apart = distance(point, p);
    if (apart < best.distance) best = { distance: apart, point };
  });
  return best;
}
