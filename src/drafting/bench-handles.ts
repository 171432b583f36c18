/**
 * Where benchwork can be taken hold of, and what becomes of it when the hand moves: corners, edges, ends and depth of
 * benches, the middle and rim of discs, corners of gates and backdrops; and all of it moved as it is.
 *
 * Always holds: a handle moved to where it is changes nothing but rounding; moves that would make an outline cross
 * itself are refused.
 */
import { bearing, distance, localPoint, offsetPoint, type Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import { outlineArea } from "../layout/bench-shape-outline.js";
import type { Layout } from "../layout/layout.js";
import { type RoomWalls, roomWalls } from "../layout/room-walls.js";
import { amendRecord, done, type Edit, refused } from "../plan/edit.js";
import type { BenchShape, Id, Plan } from "../plan/schema.js";
import { slideEdge } from "./slide-edge.js";
import { placeAtStation, stationNear, wayBetween, wrapStation } from "./wall-run.js";
import { nearestWall, pointAtWall, wallOf } from "./walls.js";

export type Benchwork = "benches" | "gates" | "backdrops" | "labels";

export interface BenchHandle {
  readonly key: string;
  readonly at: Point;
  readonly name: string;
  readonly shape: "square" | "ring";
  /** Corners that a dragged corner is caught square to. */
  readonly square: readonly Point[];
  move(to: Point): Edit;
  /** The measure that can be typed in place of dragging. */
  readonly typed?: { readonly label: string; readonly value: Millimetres; set(value: Millimetres): Edit };
}

const NAMES: Readonly<Record<Benchwork, string>> = {
  benches: "Change bench",
  gates: "Change gate",
  backdrops: "Change backdrop",
  labels: "Move label",
};

/** A shelf or disc smaller than this is a slip. */
const LEAST: Millimetres = 10;

const plain = ({ x, y }: Point): Point => ({ x, y });

/** None for what is not in the plan. */
export function handlesOf(layout: Layout, collection: Benchwork, id: Id): BenchHandle[] {
  const { plan } = layout;
  if (!Object.hasOwn(plan[collection], id)) return [];
  if (collection === "benches") {
    const shape = plan.benches[id]?.shape;
    if (!shape) return [];
    if ("disc" in shape) return discHandles(plan, id, shape.disc);
    if ("shelf" in shape) return shelfHandles(layout, id, shape.shelf);
    const put = (outline: typeof shape.outline): Edit => reshaped(plan, id, { ...shape, outline });
    return outlineHandles(shape.outline, true, put);
  }
  if (collection === "gates") {
    const outline = plan.gates[id]?.outline ?? [];
    return outlineHandles(outline, true, (next) =>
      sound(next, amendRecord(plan, "gates", id, { outline: next }, NAMES.gates)),
    );
  }
  if (collection === "backdrops") {
    const line = plan.backdrops[id]?.line ?? [];
    return outlineHandles(line, false, (next) => amendRecord(plan, "backdrops", id, { line: next }, NAMES.backdrops));
  }
  return [];
}

const sound = (outline: readonly Point[], edit: Edit): Edit => {
  const note = outlineArea(outline).trouble?.note;
  return note === undefined ? edit : refused(note);
};

function reshaped(plan: Plan, id: Id, shape: BenchShape): Edit {
  const edit = amendRecord(plan, "benches", id, { shape }, NAMES.benches);
  return "outline" in shape ? sound(shape.outline, edit) : edit;
}

function outlineHandles<P extends Point>(
  outline: readonly P[],
  closed: boolean,
  put: (outline: P[]) => Edit,
): BenchHandle[] {
  const n = outline.length;
  const beside = (i: number): Point[] =>
    (closed ? [outline[(i + n - 1) % n], outline[(i + 1) % n]] : [outline[i - 1], outline[i + 1]]).flatMap(
      (p) => p ?? [],
    );
  const corners = outline.map(
    (p, i): BenchHandle => ({
      key: `corner ${i}`,
      at: plain(p),
      name: `corner ${i + 1}`,
      shape: "square",
      square: beside(i),
      move: ({ x, y }) => put(outline.with(i, { ...p, x, y })),
    }),
  );
  if (!closed) return corners;
  const edges = outline.map((p, i): BenchHandle => {
    const q = outline[(i + 1) % n] ?? p;
    const frame = { ...plain(p), heading: bearing(p, q) };
    const slide = (by: Millimetres): Edit => {
      const next = slideEdge(outline, i, by);
      return next ? put(next) : refused("the edge would be pulled past a corner");
    };
    return {
      key: `edge ${i}`,
      at: { x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 },
      name: `edge ${i + 1}`,
      shape: "ring",
      square: [],
      move: (to) => slide(localPoint(frame, to).y),
    };
  });
  return [...corners, ...edges];
}

type Disc = Extract<BenchShape, { readonly disc: unknown }>["disc"];

function discHandles(plan: Plan, id: Id, disc: Disc): BenchHandle[] {
  const set = (radius: Millimetres): Edit =>
    radius >= LEAST ? reshaped(plan, id, { disc: { ...disc, radius } }) : refused("a disc has a radius");
  return [
    {
      key: "rim",
      at: { x: disc.centre.x + disc.radius, y: disc.centre.y },
      name: "rim",
      shape: "ring",
      square: [],
      move: (to) => set(distance(disc.centre, to)),
      typed: { label: "Radius", value: disc.radius, set },
    },
  ];
}

type Shelf = Extract<BenchShape, { readonly shelf: unknown }>["shelf"];

const wallsOf = ({ plan, space }: Layout): RoomWalls => roomWalls(plan.room.outline, space.room);

function shelfHandles(layout: Layout, id: Id, shelf: Shelf): BenchHandle[] {
  const { plan } = layout;
  const { room } = plan;
  const walls = wallsOf(layout);
  const [from, to] = [walls.placeAt(shelf.from.wall, shelf.from.at), walls.placeAt(shelf.to.wall, shelf.to.at)];
  if (from === undefined || to === undefined) return [];
  const way = wrapStation(walls, to - from) || walls.length;
  const put = (change: Partial<Shelf>): Edit => reshaped(plan, id, { shelf: { ...shelf, ...change } });
  const end = (side: "from" | "to"): BenchHandle[] => {
    const at = pointAtWall(room, shelf[side].wall, shelf[side].at, 0);
    const move = (hand: Point): Edit => {
      const station = stationNear(room, walls, hand);
      if (station === undefined) return refused("the room has no walls");
      const other = side === "from" ? to : from;
      if (Math.abs(wayBetween(walls, other, station)) < LEAST) return refused("a shelf has a length");
      return put({ [side]: placeAtStation(room, walls, station, side === "from" ? "begins" : "ends") });
    };
    return at
      ? [{ key: side, at, name: side === "from" ? "one end" : "other end", shape: "square", square: [], move }]
      : [];
  };
  const middle = placeAtStation(room, walls, from + way / 2, "begins");
  const front = pointAtWall(room, middle.wall, middle.at, shelf.depth);
  const wall = wallOf(room.outline, middle.wall);
  const setDepth = (depth: Millimetres): Edit => (depth >= LEAST ? put({ depth }) : refused("a shelf has a depth"));
  const depth: BenchHandle[] =
    front && wall
      ? [
          {
            key: "depth",
            at: front,
            name: "depth",
            shape: "ring",
            square: [],
            move: (hand) => setDepth(nearestWall(room.outline, hand)?.distance ?? 0),
            typed: { label: "Depth", value: shelf.depth, set: setDepth },
          },
        ]
      : [];
  return [...end("from"), ...end("to"), ...depth];
}

/** All of it moved from one place of the hand to another; a shelf slides along the walls. */
export function moveBenchwork(layout: Layout, collection: Benchwork, id: Id, from: Point, to: Point): Edit {
  const { plan } = layout;
  const name = NAMES[collection];
  const by = <P extends Point>(p: P): P => ({ ...p, x: p.x + to.x - from.x, y: p.y + to.y - from.y });
  if (!Object.hasOwn(plan[collection], id)) return refused("it is no longer there");
  if (from.x === to.x && from.y === to.y) return done(name, plan);
  const label = plan.labels[id];
  if (collection === "labels" && label) return amendRecord(plan, "labels", id, { at: by(label.at) }, name);
  const gate = plan.gates[id];
  if (collection === "gates" && gate) return amendRecord(plan, "gates", id, { outline: gate.outline.map(by) }, name);
  const backdrop = plan.backdrops[id];
  if (collection === "backdrops" && backdrop) {
    return amendRecord(plan, "backdrops", id, { line: backdrop.line.map(by) }, name);
  }
  const shape = plan.benches[id]?.shape;
  if (!shape) return refused("it is no longer there");
  if ("outline" in shape) return reshaped(plan, id, { ...shape, outline: shape.outline.map(by) });
  if ("disc" in shape) return reshaped(plan, id, { disc: { ...shape.disc, centre: by(shape.disc.centre) } });
  const walls = wallsOf(layout);
  const { shelf } = shape;
  const [a, b] = [walls.placeAt(shelf.from.wall, shelf.from.at), walls.placeAt(shelf.to.wall, shelf.to.at)];
  const [was, is] = [stationNear(plan.room, walls, from), stationNear(plan.room, walls, to)];
  if (a === undefined || b === undefined || was === undefined || is === undefined)
    return refused("the shelf has no wall");
  const slide = wayBetween(walls, was, is);
  const next = {
    ...shelf,
    from: { ...shelf.from, ...placeAtStation(plan.room, walls, a + slide, "begins") },
    to: {
      ...shelf.to,
      ...placeAtStation(plan.room, walls, b + slide, wrapStation(walls, b - a) === 0 ? "begins" : "ends"),
    },
  };
  return reshaped(plan, id, { shelf: next });
}

/** A place of a hand that drags an edge or a rim lies on the handle, not where it was pressed beside it. */
export const dragTo = (handle: BenchHandle, pressed: Point, to: Point): Point =>
  offsetPoint({ ...handle.at, heading: 0 }, to.x - pressed.x, to.y - pressed.y);
