/**
 * Where a hand that comes near something is caught, and by what.
 *
 * Always holds: the caught place is within reach of the point; what catches first in SNAP_KINDS wins whatever its
 * distance within reach, and of one kind the nearest; where nothing catches, the point is given back as it is.
 */
import { distance, type Point, type Pose } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Anchor, Id, TrackClass } from "../plan/schema.js";
import { linesNear } from "../layout/line-boxes.js";
import { grownBox, pointsBox } from "./boxes.js";
import { levelWith } from "./decks.js";
import { nearestOnChain, preparedArea } from "./pick-targets.js";
import { besideAt, centresBeside, cornersOf, freeEnds, type OnTrack, placeOn } from "./snap-targets.js";

/** What may catch, first that which counts most: ends, then turnouts, then parallel spacing, then edges. */
export const SNAP_KINDS = [
  "end",
  "turnout",
  "track",
  "parallel",
  "bench-corner",
  "wall-corner",
  "bench-edge",
  "wall",
  "grid",
] as const;
export type SnapKind = (typeof SNAP_KINDS)[number];

export interface SnapWishes {
  readonly reach: Millimetres;
  /** The deck in hand; track and benches of other decks do not catch. */
  readonly deck: Id;
  /** What may catch; all where left out, the grid only where a step is given. */
  readonly kinds?: readonly SnapKind[];
  /** Class of the track to be laid: sets the parallel spacing. Main where left out. */
  readonly class?: TrackClass;
  /** Tracks and turnouts that do not catch, as those being dragged. */
  readonly except?: ReadonlySet<Id>;
  /** Step of the grid, mm. */
  readonly grid?: Millimetres;
}

export interface Snapped {
  readonly point: Point;
  /** What caught it. */
  readonly kind: SnapKind | "free";
  /** The same in words for the status line; empty where nothing did. */
  readonly word: string;
  /** Direction of track that goes on from there: out of an end, along a track. */
  readonly pose?: Pose;
  /** What to start from, where the plan can say it. */
  readonly anchor?: Anchor;
  /** The track it lies on or beside, and how far along. */
  readonly track?: Id;
  readonly s?: Millimetres;
  readonly spacing?: Millimetres;
}

export function snap(layout: Layout, point: Point, wishes: SnapWishes): Snapped {
  for (const kind of SNAP_KINDS) {
    if (wishes.kinds && !wishes.kinds.includes(kind)) continue;
    const caught = CATCHERS[kind](layout, point, wishes);
    if (caught) return caught;
  }
  return { point, kind: "free", word: "" };
}

type Catcher = (layout: Layout, point: Point, wishes: SnapWishes) => Snapped | undefined;

const CATCHERS: Readonly<Record<SnapKind, Catcher>> = {
  end: (layout, point, wishes) => catchEnd("end", layout, point, wishes),
  turnout: (layout, point, wishes) => catchEnd("turnout", layout, point, wishes),
  track(layout, point, wishes) {
    const place = nearest(
      tracksNear(layout, point, wishes, wishes.reach).filter((near) => near.distance <= wishes.reach),
      (near) => near.distance,
    );
    if (!place) return undefined;
    const { line, s, pose } = place;
    return { point: pose, kind: "track", word: `on ${trackName(layout, place)}`, pose, track: line.id, s };
  },
  parallel(layout, point, wishes) {
    const trackClass = wishes.class ?? "main";
    // Twice the widest centres of the plan is farther than any spacing beside a curve that can be built.
    const widest = Math.max(
      ...Object.values(layout.plan.standards.classes).map((limits) => 2 * (limits?.centres.value ?? 0)),
    );
    const spaced = tracksNear(layout, point, wishes, widest + wishes.reach).flatMap((place) => {
      const spacing = centresBeside(layout.plan, place.line, place.s, trackClass);
      const pose = besideAt(place, spacing);
      const off = distance(pose, point);
      return off <= wishes.reach ? [{ place, spacing, pose, off }] : [];
    });
    const best = nearest(spaced, ({ off }) => off);
    if (!best) return undefined;
    const { place, spacing, pose } = best;
    const side = place.left >= 0 ? "left" : "right";
    return {
      point: pose,
      kind: "parallel",
      word: `beside ${trackName(layout, place)}`,
      pose,
      anchor: { beside: { track: place.line.id, at: place.s, side, spacing } },
      track: place.line.id,
      s: place.s,
      spacing,
    };
  },
  "bench-corner": (layout, point, wishes) =>
    catchPoint("bench-corner", "corner of bench", benchesOf(layout, wishes).flatMap(cornersOf), point, wishes),
  "wall-corner": (layout, point, wishes) =>
    catchPoint("wall-corner", "corner of walls", layout.plan.room.outline, point, wishes),
  "bench-edge"(layout, point, wishes) {
    const edges = benchesOf(layout, wishes).flatMap(
      (area) => preparedArea(area).nearestEdge(point, wishes.reach) ?? [],
    );
    const edge = nearest(edges, (place) => place.distance);
    return edge && { point: edge.point, kind: "bench-edge", word: "edge of bench" };
  },
  wall(layout, point, wishes) {
    const { outline } = layout.plan.room;
    const first = outline[0];
    const place = first && nearestOnChain([...outline, first], point);
    return place && place.distance <= wishes.reach ? { point: place.point, kind: "wall", word: "wall" } : undefined;
  },
  grid(_layout, point, wishes) {
    const { grid } = wishes;
    if (!grid || !(grid > 0)) return undefined;
    const at = { x: Math.round(point.x / grid) * grid, y: Math.round(point.y / grid) * grid };
    return distance(at, point) <= wishes.reach ? { point: at, kind: "grid", word: "grid" } : undefined;
  },
};

function catchEnd(kind: "end" | "turnout", layout: Layout, point: Point, wishes: SnapWishes): Snapped | undefined {
  const level = levelWith(layout.plan, wishes.deck);
  const within = freeEnds(layout).filter(
    (end) =>
      end.kind === kind &&
      level.includes(end.deck) &&
      !wishes.except?.has(end.id) &&
      distance(end.pose, point) <= wishes.reach,
  );
  const end = nearest(within, ({ pose }) => distance(pose, point));
  if (!end) return undefined;
  const { pose, anchor, word } = end;
  return { point: { x: pose.x, y: pose.y }, kind, word, pose, anchor };
}

function catchPoint(
  kind: SnapKind,
  word: string,
  points: readonly Point[],
  point: Point,
  { reach }: SnapWishes,
): Snapped | undefined {
  const corner = nearest(
    points.filter((p) => distance(p, point) <= reach),
    (p) => distance(p, point),
  );
  return corner && { point: { x: corner.x, y: corner.y }, kind, word };
}

/** Tracks on the level in hand that come within a distance of the point, by their boxes. */
function tracksNear(layout: Layout, point: Point, wishes: SnapWishes, within: Millimetres): OnTrack[] {
  const level = levelWith(layout.plan, wishes.deck);
  return linesNear(layout, grownBox(pointsBox([point]), within))
    .filter((line) => line.kind === "track" && !wishes.except?.has(line.id) && level.includes(line.deck))
    .map((line) => placeOn(line, point));
}

const benchesOf = (layout: Layout, { deck }: SnapWishes) =>
  levelWith(layout.plan, deck).flatMap((id) => {
    const space = layout.space.decks.get(id);
    return space ? [space.bench] : [];
  });

const trackName = (layout: Layout, { line }: OnTrack): string => layout.plan.tracks[line.id]?.name ?? line.class;

function nearest<T>(items: readonly T[], measure: (item: T) => number): T | undefined {
  let best: T | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const item of items) {
    const size = measure(item);
    if (size < least) {
      least = size;
      best = item;
    }
  }
  return best;
}
