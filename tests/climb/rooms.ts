/**
 * Rooms with a known answer: an HO plan with round limits, a lower and an upper deck, and a track end on either to join.
 * Radius 600, easement 200, steepest grade 2.5 percent, gap over track 80 and 30 of structure; 200 mm of vertical curve
 * per percent, so that a climb at the limit begins and ends with 250 mm of level track.
 */
import type { Point } from "../../src/geometry/pose.js";
import type { ClimbRequest } from "../../src/climb/request.js";
import type { Plan } from "../../src/plan/schema.js";
import { at, box, Draft, straight } from "../readings/fixture.js";

export const LIMITS = { radius: 600, easement: 200, grade: 2.5, feltGrade: 4, reverseStraight: 0, centres: 50 };
export const OVER_TRACK = 80;
export const STRUCTURE = 30;
export const EDGE = 30;
export const WALL = 50;
export const DRAG = 800;

export const REQUEST: ClimbRequest = {
  from: { track: "low", end: "end" },
  to: { track: "high", end: "start" },
  class: "main",
  most: 3,
};

export interface Room {
  readonly plan: Plan;
  readonly benches: readonly (readonly Point[])[];
  readonly room: readonly Point[];
}

export type Bench = readonly [id: string, outline: readonly Point[], deck: "lower" | "upper"];

export function room(rise: number, benches: readonly Bench[], lay: (draft: Draft) => Draft): Room {
  const bare = Draft.plan()
    .standards({ verticalCurve: 200, benchEdge: EDGE, wall: WALL, curveDrag: DRAG })
    .standards({ overTrack: OVER_TRACK, trackStructure: STRUCTURE })
    .limits(LIMITS)
    .deck("upper", 1000 + rise);
  const { plan } = lay(benches.reduce((draft, [id, outline, deck]) => draft.bench(id, outline, deck), bare));
  return { plan, benches: benches.map(([, outline]) => outline), room: plan.room.outline };
}

export const lowAndHigh = (draft: Draft): Draft =>
  draft.track("low", at(200, 300), [straight(800)]).track("high", at(6400, 300), [straight(1200)], { deck: "upper" });

export const SHELF: Bench = ["shelf", box(0, 0, 8000, 600), "lower"];
export const ABOVE: Bench = ["shelf-above", box(5500, 0, 8000, 600), "upper"];

/**
 * A shelf along the south wall and a peninsula 1.5 m wide and 3.7 m long up from it. The climb leaves the west part of
 * the shelf eastward and arrives on the upper shelf in the east, still eastward: up the peninsula, round its end, down it
 * and over its own way in: a quarter left, a half left and a little more, a quarter left, none the other way. 12.1 m are
 * needed for 290 mm, two leads of 250 among them.
 */
export const peninsula = (rise: number): Room =>
  room(rise, [SHELF, ["tongue", box(3250, 500, 4750, 4300), "lower"], ABOVE], lowAndHigh);

/** What routes of these rooms are held against: 76 mm of roadbed over a car 40 wide, and half a car's height. */
export const around = ({ benches, room: walls }: Room) => ({
  drag: DRAG,
  near: (76 + 40) / 2,
  level: 30,
  benches,
  room: walls,
});

/** The same shelf alone. The way from end to end is straight, 5400 mm: at 2.5 % less two leads of 250 it gains 122.5. A
 * change to the shelf's edge and back makes it 40 mm longer, and no more. */
export const shelfOnly = (rise: number): Room => room(rise, [SHELF, ABOVE], lowAndHigh);

/**
 * The shelf with a pad 1.7 m square in the middle, on which a closed turn of 5 m just gains the 111.5 mm it must have
 * over itself: once round, and on.
 */
export const pad = (rise: number, size: number): Room =>
  room(rise, [SHELF, ["pad", box(4000 - size / 2, 0, 4000 + size / 2, size), "lower"], ABOVE], lowAndHigh);

/**
 * A shelf along the south wall, both decks', and up from it a neck 700 mm wide that ends in a pad 1.8 m square: in by the
 * neck, round the pad, out by the neck over the way in, and on along the shelf the way one came. Out and back is 2 x 1.9 m
 * of neck and a balloon of more than a circle.
 */
export const balloon = (rise: number): Room =>
  room(
    rise,
    [
      ["shelf", box(0, 0, 8000, 600), "lower"],
      ["neck", box(3650, 500, 4350, 3000), "lower"],
      ["head", box(3100, 2900, 4900, 4700), "lower"],
      ["shelf-above", box(0, 0, 3000, 600), "upper"],
    ],
    (draft) =>
      draft
        .track("low", at(200, 200), [straight(800)])
        .track("high", at(1400, 400, 180), [straight(1100)], { deck: "upper" }),
  );
