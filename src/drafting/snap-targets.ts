/**
 * Where on a layout something new may be caught: ends to go on from, track to leave or to lie beside, edges and corners.
 * Built once for a layout.
 */
import { limitsOf } from "../plan/class-limits.js";
import type { Area } from "../geometry/areas.js";
import { nearestOnPath } from "../geometry/nearest.js";
import { curvatureAt, poseAt } from "../geometry/path.js";
import { bearing, offsetPoint, type Point, type Pose, reversePose } from "../geometry/pose.js";
import { centreThrow, endThrow } from "../geometry/throw.js";
import { type Millimetres, type Radians, wrapAngle } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import type { NetworkEdge } from "../layout/network.js";
import { stallsTaken } from "../layout/stalls.js";
import type { Anchor, Id, Plan, Side, TrackClass } from "../plan/schema.js";

/** An end nothing follows: the pose of track that goes on from it, and the anchor that says so. */
export interface FreeEnd {
  readonly kind: "end" | "turnout";
  readonly pose: Pose;
  readonly anchor: Anchor;
  readonly deck: Id;
  readonly word: string;
  /** The track, turnout or turntable it belongs to. */
  readonly id: Id;
}

const ends = new WeakMap<Layout, readonly FreeEnd[]>();

export function freeEnds(layout: Layout): readonly FreeEnd[] {
  let found = ends.get(layout);
  if (!found) {
    found = [...freeEndsOf(layout, layout.lines.values()), ...freeStalls(layout)];
    ends.set(layout, found);
  }
  return found;
}

/** Free ends of some of the layout's lines; stalls are not among them. */
export function* freeEndsOf(layout: Layout, lines: Iterable<Line>): Generator<FreeEnd> {
  const { edges, nodes } = { edges: layout.network.byLine, nodes: layout.network.nodes };
  for (const line of lines) {
    const chain = edges.get(line.key) ?? [];
    const [first, last] = [chain[0], chain.at(-1)];
    const { deck, id } = line;
    // Whatever the node is called (a pinned end is a pin): nothing goes on from its other side.
    const free = (place: NetworkEdge["a"] | undefined): boolean => {
      const node = place && nodes.get(place.node);
      return node?.kind !== "turntable" && node?.sides[place?.side === 0 ? 1 : 0].length === 0;
    };
    if (line.kind === "slip") continue;
    if (line.kind === "turnout") {
      if (!free(last?.b)) continue;
      const turnout = layout.turnouts.get(id);
      const side = turnout?.routes.find((route) => route.line === line.key)?.side;
      const anchor: Anchor = turnout?.hand === "wye" && side ? { turnout: id, route: side } : { turnout: id };
      yield { kind: "turnout", pose: line.path.end, anchor, deck, id, word: turnoutWord(layout.plan, id, side) };
      continue;
    }
    const name = layout.plan.tracks[id]?.name ?? line.class;
    if (free(first?.a)) {
      const pose = reversePose(line.path.start);
      yield { kind: "end", pose, anchor: { track: id, end: "start" }, deck, id, word: `start of ${name}` };
    }
    if (free(last?.b)) {
      yield { kind: "end", pose: line.path.end, anchor: { track: id, end: "end" }, deck, id, word: `end of ${name}` };
    }
  }
}

/** Stalls of turntables that no track leads from or to. */
function* freeStalls({ plan, turntables }: Layout): Generator<FreeEnd> {
  const taken = stallsTaken(plan);
  for (const { id, deck, stalls } of turntables.values()) {
    const name = plan.turntables[id]?.name ?? "turntable";
    for (const [stall, pose] of stalls.entries()) {
      if (taken.has(`${id}:${stall}`)) continue;
      yield { kind: "end", pose, anchor: { turntable: id, stall }, deck, id, word: `stall ${stall + 1} of ${name}` };
    }
  }
}

function turnoutWord(plan: Plan, id: Id, side: Side | undefined): string {
  const turnout = plan.turnouts[id];
  const wye = turnout?.hand === "wye" && side ? ` ${side}` : "";
  return `${turnout?.name ?? (turnout?.hand === "wye" ? "wye" : "turnout")}${wye}, diverging`;
}

export interface OnTrack {
  readonly line: Line;
  readonly s: Millimetres;
  readonly distance: Millimetres;
  readonly pose: Pose;
  /** How far to the left of the track the point lies. */
  readonly left: Millimetres;
}

export function placeOn(line: Line, point: Point): OnTrack {
  const { s, distance, left } = nearestOnPath(line.path, point);
  return { line, s, distance, left, pose: poseAt(line.path, s) };
}

/**
 * Least distance of a new track of a class beside another at a place of it: the wider of both classes' centres on
 * straight track, and on a curve as much more as the longest car reaches toward its neighbour from either, less what
 * the plan lets the throw use up.
 */
export function centresBeside(plan: Plan, line: Line, s: Millimetres, trackClass: TrackClass): Millimetres {
  const { longestCar, curveSlack } = plan.standards;
  const centres = Math.max(limitsOf(plan, line.class).centres.value, limitsOf(plan, trackClass).centres.value);
  const k = Math.abs(curvatureAt(line.path, s));
  if (k === 0) return centres;
  const { length, truckCentres } = longestCar.value;
  const throws = centreThrow(1 / k, truckCentres) + endThrow(1 / k, length, truckCentres);
  const more = throws - (curveSlack?.value ?? 0);
  return Number.isFinite(more) ? centres + Math.max(0, more) : centres;
}

/** A place beside a track and the pose of track laid parallel from there, looking the way the track runs. */
export const besideAt = (place: OnTrack, spacing: Millimetres): Pose => ({
  ...offsetPoint(place.pose, 0, place.left >= 0 ? spacing : -spacing),
  heading: place.pose.heading,
});

/** Chords of a round corner turn less than this one by one; a corner a hand would name turns more. */
const CORNER: Radians = (15 * Math.PI) / 180;

const corners = new WeakMap<Area, readonly Point[]>();

/** The corners of an area's rings, those that approximate a round left out. */
export function cornersOf(area: Area): readonly Point[] {
  let found = corners.get(area);
  if (!found) {
    found = area.flatMap((ring) =>
      ring.filter((p, i) => {
        const before = ring[i - 1] ?? ring.at(-1) ?? p;
        const after = ring[i + 1] ?? ring[0] ?? p;
        return Math.abs(wrapAngle(bearing(p, after) - bearing(before, p))) > CORNER;
      }),
    );
    corners.set(area, found);
  }
  return found;
}
