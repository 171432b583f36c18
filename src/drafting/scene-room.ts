/** The room of a scene: hatched walls, the floor with its marks, openings with the swing of doors, obstacles. */
import { offsetPoint, type Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { Opening, Plan, Room } from "../plan/schema.js";
import { pointsBox } from "./boxes.js";
import { type Outline, pointsOutline } from "./line-shapes.js";
import { WALL_BAND, WEIGHT } from "./line-weights.js";
import { doorSwing, openingPose, outsideOf } from "../layout/openings.js";
import { preparedArea } from "./pick-targets.js";
import type { Batch, Look } from "./batch.js";

interface Kept {
  readonly walls: Outline;
  readonly obstacles: Outline;
  /** Openings are as thick as the band, which is drawn at a constant size: they follow the scale. */
  readonly openings: Openings;
  readonly marks: Outline;
  readonly scale: number;
  readonly units: Look["units"];
}

export interface RoomShapes {
  made: number;
  readonly kept: WeakMap<Room, Kept>;
}

export const makeRoomShapes = (): RoomShapes => ({ made: 0, kept: new WeakMap() });

function shapesOf(store: RoomShapes, { room }: Plan, { scale, units }: Look): Kept {
  const before = store.kept.get(room);
  if (before && before.scale === scale && before.units === units) return before;
  if (!before) store.made++;
  const shapes: Kept = {
    walls: before?.walls ?? pointsOutline([room.outline], true),
    obstacles:
      before?.obstacles ??
      pointsOutline(
        Object.values(room.obstacles).map(({ outline }) => outline),
        true,
      ),
    openings: openingsOf(room, scale),
    marks: footMarks(room, scale, units),
    scale,
    units,
  };
  store.kept.set(room, shapes);
  return shapes;
}

/** Under the benches: the band of the walls and the floor. */
export function roomGround(store: RoomShapes, plan: Plan, look: Look): Batch[] {
  const { walls, marks } = shapesOf(store, plan, look);
  const shapes = [walls];
  const band = 2 * WALL_BAND;
  return [
    { key: "wall line", shapes, stroke: "wall", weight: band + WEIGHT.wall },
    { key: "wall ground", shapes, stroke: "paper", weight: band },
    { key: "wall hatch", shapes, stroke: "hatch", weight: band },
    { key: "floor", shapes, fill: "paper" },
    { key: "foot marks", shapes: [marks], stroke: "survey", weight: WEIGHT.dimension },
  ];
}

/** Over the benches: faces of the walls, openings, what stands in the way. */
export function roomOver(store: RoomShapes, plan: Plan, look: Look): Batch[] {
  const { walls, openings, obstacles } = shapesOf(store, plan, look);
  const batches: Batch[] = [
    { key: "wall faces", shapes: [walls], stroke: "wall", weight: WEIGHT.wall },
    { key: "opening ground", shapes: [openings.ground], fill: "paper" },
    { key: "window panes", shapes: [openings.thin], stroke: "wall", weight: WEIGHT.hatch },
    { key: "door sweeps", shapes: [openings.sweeps], stroke: "wall", weight: WEIGHT.dimension },
    { key: "jambs and leaves", shapes: [openings.heavy], stroke: "wall", weight: WEIGHT.wall },
  ];
  if (obstacles.chains.length > 0) {
    batches.push(
      { key: "obstacle ground", shapes: [obstacles], fill: "paper" },
      { key: "obstacles", shapes: [obstacles], fill: "hatch", stroke: "wall", weight: 1.2 },
    );
  }
  return batches;
}

interface Openings {
  readonly ground: Outline;
  readonly thin: Outline;
  readonly sweeps: Outline;
  readonly heavy: Outline;
}

/** Chords of a door's quarter circle. */
const SWEEP_CHORDS = 24;

function openingsOf(room: Room, scale: number): Openings {
  const ground: Point[][] = [];
  const thin: Point[][] = [];
  const sweeps: Point[][] = [];
  const heavy: Point[][] = [];
  const band: Millimetres = WALL_BAND / scale;
  const pen: Millimetres = WEIGHT.wall / scale;
  for (const opening of Object.values(room.openings)) {
    const pose = openingPose(room, opening);
    if (!pose) continue;
    const corner = (along: Millimetres, out: Millimetres) => offsetPoint(pose, along, outsideOf(room) * out);
    const { width } = opening;
    ground.push([corner(0, -pen), corner(width, -pen), corner(width, band + pen), corner(0, band + pen)]);
    for (const u of [0, width]) heavy.push([corner(u, -pen / 2), corner(u, band + pen / 2)]);
    if (opening.kind === "window") {
      for (const out of [0, band / 2, band]) thin.push([corner(0, out), corner(width, out)]);
    }
    addSwing(room, opening, sweeps, heavy);
  }
  return {
    ground: pointsOutline(ground, true),
    thin: pointsOutline(thin, false),
    sweeps: pointsOutline(sweeps, false),
    heavy: pointsOutline(heavy, false),
  };
}

function addSwing(room: Room, opening: Opening, sweeps: Point[][], heavy: Point[][]): void {
  const swing = doorSwing(room, opening);
  if (!swing) return;
  const { hinge, open, shut } = swing;
  const [ux, uy] = [open.x - hinge.x, open.y - hinge.y];
  const [vx, vy] = [shut.x - hinge.x, shut.y - hinge.y];
  sweeps.push(
    Array.from({ length: SWEEP_CHORDS + 1 }, (_, i) => {
      const angle = ((Math.PI / 2) * i) / SWEEP_CHORDS;
      const [c, s] = [Math.cos(angle), Math.sin(angle)];
      return { x: hinge.x + ux * c + vx * s, y: hinge.y + uy * c + vy * s };
    }),
  );
  heavy.push([hinge, open]);
}

/** Crosses on the floor every two feet or half metre: the eye's own scale. */
const FOOT_MARKS = { imperial: 609.6, metric: 500 } as const;
const MARK_ARM = 2.5;
/** A hall of kilometres would drown in crosses, and crosses nearer than this in one another, px. */
const MOST_MARKS = 4000;
const LEAST_MARK_GAP = 20;

function footMarks(room: Room, scale: number, units: Look["units"]): Outline {
  const step = FOOT_MARKS[units];
  const { minX, minY, maxX, maxY } = pointsBox(room.outline);
  const chains: Point[][] = [];
  const many = ((maxX - minX) / step) * ((maxY - minY) / step) > MOST_MARKS;
  if (!many && step * scale >= LEAST_MARK_GAP) {
    const floor = preparedArea([room.outline]);
    const arm = MARK_ARM / scale;
    for (let x = minX + step; x < maxX; x += step) {
      for (let y = minY + step; y < maxY; y += step) {
        if (!floor.contains({ x, y })) continue;
        chains.push([
          { x: x - arm, y },
          { x: x + arm, y },
        ]);
        chains.push([
          { x, y: y - arm },
          { x, y: y + arm },
        ]);
      }
    }
  }
  return pointsOutline(chains, false);
}
