/**
 * Rooms drawn by lot from a seed: small ones, so that hundreds can be searched. Shelves along some walls, most with a
 * peninsula, a pad or a corner to turn on, an upper deck over a part; limits by lot too; some with other track to pass.
 */
import type { ClimbRequest } from "../../src/climb/request.js";
import type { Point } from "../../src/geometry/pose.js";
import type { Plan } from "../../src/plan/schema.js";
import { at, box, Draft, LOWER, straight } from "../readings/fixture.js";
import { seeded } from "../support/shapes.js";
import type { Surroundings } from "./dense-sampler.js";

export interface RandomRoom {
  readonly plan: Plan;
  readonly request: ClimbRequest;
  readonly around: Surroundings;
  readonly limits: {
    readonly radius: number;
    readonly easement: number;
    readonly grade: number;
    readonly felt: number;
  };
}

export const EDGE = 25;
export const WALL = 40;
export const CENTRES = 50;
export const STRUCTURE = 20;
export const OVER_TRACK = 65;
const CAR = { length: 180, truckCentres: 120, width: 36, height: 56, overCouplers: 190 };
const ROADBED = 60;

export function randomRoom(seed: number): RandomRoom {
  const random = seeded(1000 + seed);
  const pick = (from: number, to: number): number => Math.round(from + (to - from) * random());
  const chance = (share: number): boolean => random() < share;
  const [width, depth] = [pick(3200, 5200), pick(2600, 3800)];
  const radius = pick(380, 520);
  const easement = chance(0.2) ? 0 : pick(60, 180);
  const grade = pick(20, 35) / 10;
  const felt = grade + pick(0, 20) / 10;
  const shelf = pick(260, 500);
  const rise = pick(90, 230);
  const benches: { id: string; outline: Point[]; deck: "lower" | "upper" }[] = [];
  const bench = (id: string, outline: Point[], deck: "lower" | "upper" = "lower"): void => {
    benches.push({ id, outline, deck });
  };
  bench("south", box(0, 0, width, shelf));
  if (chance(0.5)) bench("east", box(width - shelf, 0, width, depth));
  if (chance(0.4)) bench("west", box(0, 0, shelf, depth));
  const middle = pick(1300, width - 1300);
  if (chance(0.75)) {
    const half = pick(radius + 60, radius + 320) * (chance(0.3) ? 0.6 : 1);
    const long = Math.min(depth - 500, pick(1400, 2600));
    bench("tongue", box(middle - half, 0, middle + half, long));
    if (chance(0.4)) {
      const head = radius + pick(60, 250);
      bench("head", box(middle - head, long - head, middle + head, Math.min(depth, long + head)));
    }
  }
  const above = chance(0.5) ? box(width - 1500, 0, width, shelf) : box(0, 0, 1500, shelf);
  bench("above", above, "upper");
  let draft = Draft.plan()
    .standards({ longestCar: CAR, verticalCurve: pick(0, 150), benchEdge: EDGE, wall: WALL, curveDrag: pick(0, 500) })
    .standards({ overTrack: OVER_TRACK, trackStructure: STRUCTURE, roadbedWidth: ROADBED })
    .limits({ radius, easement, grade, feltGrade: felt, reverseStraight: 100, centres: CENTRES })
    .deck("upper", LOWER + rise, { thickness: 40 });
  const drag = draft.plan.standards.curveDrag.value;
  for (const { id, outline, deck } of benches) draft = draft.bench(id, outline, deck);
  const [low, high] = [pick(70, shelf - 70), pick(70, shelf - 70)];
  draft = draft.track("low", at(100, low), [straight(pick(300, 500))]);
  const upper = { deck: "upper" };
  if (above[0]?.x === 0) draft = draft.track("high", at(1200, high, 180), [straight(1000)], upper);
  else draft = draft.track("high", at(width - 1300, high), [straight(1100)], upper);
  // A main along the shelf's front or back.
  if (chance(0.35)) draft = draft.track("main", at(900, chance(0.5) ? shelf - 40 : 60), [straight(width - 1800)]);
  const room = box(0, 0, width, depth);
  const plan = { ...draft.plan, room: { ...draft.plan.room, outline: room } };
  const around = {
    drag,
    near: (ROADBED + CAR.width) / 2,
    level: CAR.height / 2,
    benches: benches.map((b) => b.outline),
    room,
  };
  const request: ClimbRequest = {
    from: { track: "low", end: "end" },
    to: { track: "high", end: "start" },
    class: "main",
    most: 3,
  };
  return { plan, request, around, limits: { radius, easement, grade, felt } };
}
