/**
 * Moving parts of a plan as they are: turned, mirrored, shifted. What is anchored to something that moves along follows
 * by itself; only what has a place of its own on the sheet is given another.
 *
 * Always holds: a motion and the one that undoes it give every figure back within rounding; a quarter turn is exact.
 */
import type { Point } from "../../geometry/pose.js";
import { type Degrees, type Millimetres, toRadians } from "../../geometry/units.js";
import { amend } from "../../plan/edit.js";
import type { Anchor, Bench, Leg, Side, Slip, Track, Turnout, Turntable } from "../../plan/schema.js";
import { otherSide } from "./relocate.js";

export interface Motion {
  /** Left and right exchanged first, about a line up the sheet through `about`. */
  readonly mirror: boolean;
  /** Then turned about `about`, anticlockwise. */
  readonly turn: Degrees;
  readonly about: Point;
  /** Then shifted. */
  readonly by: Point;
}

export const shift = (x: Millimetres, y: Millimetres): Motion => ({
  mirror: false,
  turn: 0,
  about: { x: 0, y: 0 },
  by: { x, y },
});
export const turnAbout = (about: Point, turn: Degrees): Motion => ({ mirror: false, turn, about, by: { x: 0, y: 0 } });
/** `across`: left and right change places; `up`: top and bottom do. */
export const mirrorAbout = (about: Point, way: "across" | "up"): Motion => ({
  mirror: true,
  turn: way === "across" ? 0 : 180,
  about,
  by: { x: 0, y: 0 },
});

/** Cosine and sine, exact for quarter turns. */
function direction(turn: Degrees): readonly [number, number] {
  const quarters = turn / 90;
  if (Number.isInteger(quarters)) {
    const at = ((quarters % 4) + 4) % 4;
    return at === 0 ? [1, 0] : at === 1 ? [0, 1] : at === 2 ? [-1, 0] : [0, -1];
  }
  return [Math.cos(toRadians(turn)), Math.sin(toRadians(turn))];
}

export function movePoint<P extends Point>(motion: Motion, point: P): P {
  const dx = (point.x - motion.about.x) * (motion.mirror ? -1 : 1);
  const dy = point.y - motion.about.y;
  const [c, s] = direction(motion.turn);
  return {
    ...point,
    x: motion.about.x + dx * c - dy * s + motion.by.x,
    y: motion.about.y + dx * s + dy * c + motion.by.y,
  };
}

export function moveHeading(motion: Motion, heading: Degrees): Degrees {
  const turned = (motion.mirror ? 180 - heading : heading) + motion.turn;
  const within = turned - 360 * Math.ceil((turned - 180) / 360);
  return within === 0 ? 0 : within;
}

export const moveHand = (motion: Motion, hand: Side): Side => (motion.mirror ? otherSide(hand) : hand);

/** Anchors to what moves along keep their ids; the sides in them change hands. */
export function moveAnchor(motion: Motion, anchor: Anchor): Anchor {
  if ("pose" in anchor) {
    const pose = { ...movePoint(motion, anchor.pose), heading: moveHeading(motion, anchor.pose.heading) };
    return { ...anchor, pose };
  }
  if ("turnout" in anchor)
    return anchor.route === undefined ? anchor : { ...anchor, route: moveHand(motion, anchor.route) };
  if ("track" in anchor || "turntable" in anchor) return anchor;
  return { ...anchor, beside: { ...anchor.beside, side: moveHand(motion, anchor.beside.side) } };
}

const MIRRORED = { LSL: "RSR", RSR: "LSL", LSR: "RSL", RSL: "LSR", LRL: "RLR", RLR: "LRL" } as const;

export function moveLeg(motion: Motion, leg: Leg): Leg {
  if ("straight" in leg) return leg;
  if ("curve" in leg) return motion.mirror ? { ...leg, curve: { ...leg.curve, hand: otherSide(leg.curve.hand) } } : leg;
  if ("toward" in leg) return { ...leg, toward: movePoint(motion, leg.toward) };
  if ("flex" in leg) {
    const [a, b, c] = leg.flex;
    return { ...leg, flex: [movePoint(motion, a), movePoint(motion, b), movePoint(motion, c)] };
  }
  if ("beside" in leg) return { ...leg, beside: { ...leg.beside, side: moveHand(motion, leg.beside.side) } };
  const { family } = leg.join;
  const to = moveAnchor(motion, leg.join.to);
  return { ...leg, join: { ...leg.join, to, ...(family && { family: motion.mirror ? MIRRORED[family] : family }) } };
}

export const moveTrack = (motion: Motion, track: Track): Track => ({
  ...track,
  start: moveAnchor(motion, track.start),
  legs: track.legs.map((leg) => moveLeg(motion, leg)),
});

export const moveTurnout = (motion: Motion, turnout: Turnout): Turnout =>
  turnout.hand === "wye" ? turnout : amend(turnout, { hand: moveHand(motion, turnout.hand) });

/** A slip lies where its tracks cross; only the side of a single one's curve changes hands. */
export const moveSlip = (motion: Motion, slip: Slip): Slip =>
  slip.kind === "double" ? slip : { ...slip, side: moveHand(motion, slip.side ?? "left") };

/** A turntable goes with its approach; seen in a mirror its stalls lie on the other side. */
export const moveTurntable = (motion: Motion, turntable: Turntable): Turntable =>
  motion.mirror ? { ...turntable, stalls: turntable.stalls.map((angle) => (angle === 0 ? 0 : -angle)) } : turntable;

/** Shelves lie along their walls and stay there. */
export function moveBench(motion: Motion, bench: Bench): Bench {
  const { shape } = bench;
  if ("outline" in shape) return { ...bench, shape: { ...shape, outline: movePoints(motion, shape.outline) } };
  if ("shelf" in shape) return bench;
  return { ...bench, shape: { ...shape, disc: { ...shape.disc, centre: movePoint(motion, shape.disc.centre) } } };
}

/** Outlines run anticlockwise; a mirrored one is read backwards so that it does again. */
export function movePoints<P extends Point>(motion: Motion, points: readonly P[]): P[] {
  const moved = points.map((point) => movePoint(motion, point));
  return motion.mirror ? moved.reverse() : moved;
}
