/**
 * Rooms whose answer is known: with a route laid by hand that the readings have nothing against, or with a bound no route
 * can meet. Limits are those of rooms.ts: radius 600, easement 200, 2.5 %, felt 4 % with a drag of 800: 2.5 % on any
 * curve wider than 534 mm, and a whole circle gains the 111.5 mm it must have over itself from 710 mm on.
 */
import type { ClimbRequest } from "../../src/climb/request.js";
import { turnExtent } from "../../src/geometry/turn.js";
import type { Leg } from "../../src/plan/schema.js";
import { at, box, join, left, right, startOf, straight } from "../readings/fixture.js";
import {
  ABOVE,
  balloon,
  LIMITS,
  lowAndHigh,
  pad,
  peninsula,
  REQUEST,
  type Room,
  room,
  SHELF,
  shelfOnly,
} from "./rooms.js";

export interface KnownRoom extends Room {
  readonly name: string;
  readonly request: ClimbRequest;
  /** A route laid by hand, and how far along it the grade begins and ends. */
  readonly built?: { readonly legs: readonly Leg[]; readonly from: number; readonly to: number };
  /** Why there can be none. */
  readonly impossible?: string;
}

const { radius: R, easement: E } = LIMITS;
const L = (angle: number, radius = R): Leg => left(radius, angle, E);
const home = join(startOf("high"), R, E);
/** Centre of a turn from the straights it joins, and how far before abreast of it the turn begins. */
const off = (radius: number): number => radius + turnExtent(radius, E).shift;
const before = (radius: number): number => turnExtent(radius, E).advance;

/** In and out of a balloon by swings of an angle: half the way between in and out, and from the swing to abreast of its middle. */
function bulb(radius: number, degrees: number): { readonly half: number; readonly along: number } {
  const angle = (degrees * Math.PI) / 180;
  const [rho, k] = [off(radius), before(radius)];
  return {
    half: rho * (2 * Math.cos(angle) - 1) - 2 * k * Math.sin(angle),
    along: k + 2 * k * Math.cos(angle) + 2 * rho * Math.sin(angle),
  };
}

/** Once round the peninsula between lanes 85 mm in from its sides: up at x = 4665 and down at 3335. */
const lap = (lean = 0): Leg[] => {
  const up = 4665 - off(R) - before(R) - 1000;
  return [straight(up), L(90 + lean), straight(1600), L(180, 665 - turnExtent(665, E).shift), straight(1600)];
};

const wall = (rise: number): Room =>
  room(
    rise,
    [
      SHELF,
      ["east", box(7400, 0, 8000, 6000), "lower"],
      ["north", box(0, 5400, 8000, 6000), "lower"],
      ["above", box(0, 5400, 4000, 6000), "upper"],
    ],
    (draft) =>
      draft
        .track("low", at(200, 300), [straight(800)])
        .track("high", at(3600, 5700, 180), [straight(2000)], { deck: "upper" }),
  );

const corner = (rise: number): Room =>
  room(
    rise,
    [
      SHELF,
      ["pad", box(6200, 0, 8000, 1800), "lower"],
      ["east", box(7400, 0, 8000, 6000), "lower"],
      ["above", box(7400, 3500, 8000, 6000), "upper"],
    ],
    (draft) =>
      draft
        .track("low", at(200, 300), [straight(800)])
        .track("high", at(7700, 3800, 90), [straight(1800)], { deck: "upper" }),
  );

/** A head wide enough for a circle of 720. */
const head = (rise: number): Room =>
  room(
    rise,
    [
      ["shelf", box(0, 0, 8000, 600), "lower"],
      ["neck", box(3600, 500, 4400, 3000), "lower"],
      ["head", box(3050, 2900, 4950, 4800), "lower"],
      ["shelf-above", box(0, 0, 3000, 600), "upper"],
    ],
    (draft) =>
      draft
        .track("low", at(200, 200), [straight(800)])
        .track("high", at(1400, 400, 180), [straight(1100)], { deck: "upper" }),
  );

function intoHead(radius: number, centre: number, more: number): Leg[] {
  const swing = 40;
  const { half, along } = bulb(radius, swing);
  // Up the west lane and down the east one, so that neither turn off the shelf cuts the corner of the neck.
  const up = 4000 - half - off(radius) - before(radius) - 1000;
  const rise = centre - along - (200 + off(radius) + before(radius));
  return [
    straight(up),
    L(90, radius),
    straight(rise),
    left(radius, swing, E),
    right(radius, 180 + 2 * swing + more, E),
    left(radius, swing, E),
    straight(rise - 200),
    right(radius, 90, E),
    home,
  ];
}

const slanted = (rise: number): Room => {
  const lean = Math.tan((20 * Math.PI) / 180);
  const tongue = [
    { x: 3250, y: 300 },
    { x: 4850, y: 300 },
    { x: 4850 + 4000 * lean, y: 4300 },
    { x: 3250 + 4000 * lean, y: 4300 },
  ];
  return room(rise, [SHELF, ["tongue", tongue, "lower"], ABOVE], lowAndHigh);
};

const dogbone = (rise: number): Room =>
  room(
    rise,
    [
      ["west", box(1000, 2000, 2700, 3700), "lower"],
      ["neck", box(2600, 2500, 5400, 3200), "lower"],
      ["east", box(5300, 2000, 7000, 3700), "lower"],
      ["above", box(2700, 2500, 5300, 3200), "upper"],
    ],
    (draft) =>
      draft
        .track("low", at(3000, 2600), [straight(600)])
        .track("high", at(3100, 2600), [straight(1800)], { deck: "upper" }),
  );

const withTrack = (base: Room, x0: number, y0: number, x1: number): Room => {
  const legs = [straight(x1 - x0)];
  const tracks = { ...base.plan.tracks, main: { class: "main", deck: "lower", start: at(x0, y0), legs } as const };
  return { ...base, plan: { ...base.plan, tracks } };
};

const known = (
  name: string,
  base: Room,
  more: Omit<KnownRoom, "name" | "request" | keyof Room> & { readonly request?: ClimbRequest },
): KnownRoom => {
  return { name, request: REQUEST, ...base, ...more };
};

export const KNOWN: readonly KnownRoom[] = [
  known("straight up a shelf", shelfOnly(130), { built: { legs: [home], from: 0, to: 5400 } }),
  known("once round a peninsula", peninsula(290), { built: { legs: [...lap(), L(90), home], from: 250, to: 12_000 } }),
  known("two laps of a peninsula", peninsula(480), {
    built: {
      legs: [
        ...lap(),
        L(180, 665 - turnExtent(665, E).shift),
        straight(1600),
        L(180, 665 - turnExtent(665, E).shift),
        straight(1600),
        L(90),
        home,
      ],
      from: 250,
      to: 19_800,
    },
  }),
  known("out and back by a balloon", balloon(250), { built: { legs: intoHead(R, 3800, 0), from: 250, to: 10_500 } }),
  known("a helix at the peninsula's end", head(400), {
    built: { legs: intoHead(720, 3850, 360), from: 250, to: 16_500 },
  }),
  known("once round a pad", pad(210, 1700), {}),
  known("a helix in a corner", corner(300), {
    built: { legs: [straight(7100 - before(R) - 1000 - 100), L(450, 720), home], from: 250, to: 12_500 },
  }),
  known("round the walls", wall(280), {
    built: {
      legs: [
        straight(7700 - off(R) - before(R) - 1000),
        L(90),
        straight(5400 - 2 * off(R) - 2 * before(R)),
        L(90),
        home,
      ],
      from: 250,
      to: 12_000,
    },
  }),
  known("a slanted peninsula", slanted(290), {}),
  known("two pads and a neck", dogbone(230), {}),
  known("a peninsula with a track up the shelf", withTrack(peninsula(290), 5200, 100, 7600), {
    built: { legs: [...lap(), L(90), home], from: 250, to: 12_000 },
  }),
  known("a balloon beside a track", withTrack(balloon(250), 4600, 300, 7600), {
    built: { legs: intoHead(R, 3800, 0), from: 250, to: 10_500 },
  }),
  // A shelf 600 deep gives room for a change of lane and back, some 40 mm; 250 mm of rise want 10 m.
  known("shelves only", shelfOnly(250), { impossible: "5.44 m at the most, of 10 m" }),
  // A circle of 600 mm and 30 to either edge takes 1260 mm.
  known("a pad too small for the radius", pad(210, 1200), { impossible: "no circle of 600 mm lies on a pad of 1200" }),
];
