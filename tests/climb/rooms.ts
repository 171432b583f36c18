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
};

export interface Room {
  readonly plan: Plan;
  readonly benches: readonly (readonly Point[])[];
  readonly room: readonly Point[];
}

type Bench = readonly [id: string, outline: readonly Point[], deck: "lower" | "upper"];

function room(rise: number, benches: readonly Bench[], lay: (draft: Draft) => Draft): Room {
  const bare = Draft.plan()
    .standards({ verticalCurve: 200, benchEdge: EDGE, wall: WALL, curveDrag: DRAG })
    .standards({ overTrack: OVER_TRACK, trackStructure: STRUCTURE })
    .limits(LIMITS)
    .deck("upper", 1000 + rise);
  const { plan } = lay(benches.reduce((draft, [id, outline, deck]) => draft.bench(id, outline, deck), bare));
  return { plan, benches: benches.map(([, outline]) => outline), room: plan.room.outline };
}

const lowAndHigh = (draft: Draft): Draft =>
  draft.track("low", at(200, 300), [straight(800)]).track("high", at(6400, 300), [straight(1200)], { deck: "upper" });

const SHELF: Bench = ["shelf", box(0, 0, 8000, 600), "lower"];
const ABOVE: Bench = ["shelf-above", box(5500, 0, 8000, 600), "upper"];

/**
 * A shelf along the south wall and a peninsula 1.5 m wide and 4.5 m long up from it. The climb leaves the west part of
 * the shelf eastward and arrives on the upper shelf in the east, still eastward: up the peninsula, round its end, down it
 * and over its own way in. Two half circles and two quarters of at least 600 mm with straights between: 12 m or so.
 */
export const peninsula = (rise: number): Room =>
  room(rise, [SHELF, ["tongue", box(3250, 500, 4750, 5300), "lower"], ABOVE], lowAndHigh);

/** The same shelf alone. The way from end to end is straight, 5400 mm: at 2.5 % less two leads of 250 it gains 122.5. */
export const shelfOnly = (rise: number): Room => room(rise, [SHELF, ABOVE], lowAndHigh);

/**
 * The shelf with a pad of 1.7 m square in the middle: a circle of 600 fits and gains 2 pi 600 x 2.5 % = 94 mm, too little
 * to pass over itself; one of at least 710 gains the 111.5, and fits a pad of 1.7 m but not one of 1.4 m.
 */
export const pad = (rise: number, size: number): Room =>
  room(rise, [SHELF, ["pad", box(4000 - size / 2, 0, 4000 + size / 2, size), "lower"], ABOVE], lowAndHigh);
