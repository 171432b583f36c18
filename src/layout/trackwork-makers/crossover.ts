/**
 * Crossovers: two turnouts of one number and hand on parallel straight tracks and a straight between them; double, with
 * another of the other hand across it, whose straights cross in a diamond midway (a scissors).
 *
 * Always holds: the straight routes' corners lie c cot F apart along the tracks and c / sin F along the crossover, c
 * being the spacing and F the frog angle; the diamond's angle is 2 F; what does not fit is refused with how much is short.
 */
import { nearestOnPath } from "../../geometry/nearest.js";
import { curvatureAt, poseAt } from "../../geometry/path.js";
import { type Millimetres, wrapAngle } from "../../geometry/units.js";
import { type Edit, refused } from "../../plan/edit.js";
import type { Id, Side, TrackClass, Turnout } from "../../plan/schema.js";
import type { Layout } from "../layout.js";
import type { Line } from "../line.js";
import { otherSide } from "../relay/relocate.js";
import { turnoutFit } from "../relay/turnout-fit.js";
import { Building } from "./building.js";
import { clearRadius, mm, type TurnoutSize, turnoutSize } from "./turnout-size.js";

export interface CrossoverWishes {
  readonly kind: "single" | "double";
  /** The track the first turnout lies on, and the distance of its points along it. */
  readonly track: Id;
  readonly at: Millimetres;
  readonly onto: Id;
  readonly number: number;
  /** Hand of the first crossover's turnouts; it says which way along the track the first one faces. */
  readonly hand: Side;
  /** Class of the track between; left out, that of the first track. */
  readonly class?: TrackClass;
}

/** Tracks nearer to parallel than this, mm over the crossover, are; beyond it rails would be forced. */
const PARALLEL: Millimetres = 0.1;
/** Distances typed to a tenth of a millimetre. */
const SLACK: Millimetres = 0.1;

interface Place {
  readonly line: Line;
  /** Distance of a turnout's corner along it, and which way the crossover runs along it. */
  readonly corner: Millimetres;
  readonly way: 1 | -1;
}

export function makeCrossover(layout: Layout, wishes: CrossoverWishes): Edit {
  const { plan } = layout;
  const { kind, hand, number } = wishes;
  const line = layout.lines.get(`track:${wishes.track}`);
  const onto = layout.lines.get(`track:${wishes.onto}`);
  if (!line || !onto || line === onto) return refused("a crossover leads from one track to another");
  const size = turnoutSize(plan, number);
  const beside = nearestOnPath(onto.path, poseAt(line.path, wishes.at));
  const there = poseAt(line.path, wishes.at);
  const towards = -(beside.left * Math.cos(wrapAngle(poseAt(onto.path, beside.s).heading - there.heading)));
  const spacing = beside.distance;
  const side: Side = towards > 0 ? "left" : "right";
  const way = hand === side ? 1 : -1;
  const least = 2 * size.behind * Math.sin(size.angle);
  if (spacing < least - SLACK) {
    const has = `the tracks are ${mm(spacing)} apart, ${mm(least - spacing)} short`;
    return refused(`a crossover of number ${number} turnouts wants tracks ${mm(least)} apart; ${has}`);
  }
  const near: Place = { line, corner: wishes.at + way * size.corner, way };
  const far = oppositeOf(near, onto, way * (spacing / Math.tan(size.angle)));
  const bad = notStraight(near, far, spacing, size);
  if (bad !== undefined) return refused(bad);

  const trackClass = wishes.class ?? line.class;
  const building = new Building(layout, kind === "double" ? "Lay double crossover" : "Lay crossover");
  const lay = (from: Place, to: Place, turns: Side, word: string): string | undefined => {
    const first = turnoutAt(from, size, turns);
    const second = turnoutAt({ ...to, way: to.way === 1 ? -1 : 1 }, size, turns);
    for (const turnout of [first, second]) {
      const fit = turnoutFit(layout, turnout, undefined, 0);
      if (!fit.ok) return fit.why;
    }
    const a = building.add("turnouts", word, first);
    const b = building.add("turnouts", word, second);
    const radius = clearRadius(plan, trackClass);
    building.add("tracks", word, {
      class: trackClass,
      deck: line.deck,
      start: { turnout: a },
      legs: [{ join: { to: { turnout: b }, radius, easement: 0 } }],
    });
    return undefined;
  };
  let why = lay(near, far, hand, "crossover");
  if (why === undefined && kind === "double") {
    // The second leaves the other track abreast of where the first left this one.
    const back = oppositeOf(near, onto, 0);
    const end: Place = { line, corner: near.corner + way * (spacing / Math.tan(size.angle)), way };
    why = lay(back, end, otherSide(hand), "crossover");
  }
  return why === undefined ? building.finish() : refused(why);
}

/** The place on the other track abreast of one `along` mm farther on. */
function oppositeOf({ line, corner, way }: Place, onto: Line, along: Millimetres): Place {
  const pose = poseAt(line.path, corner + along);
  const { s } = nearestOnPath(onto.path, pose);
  const sameWay = Math.cos(poseAt(onto.path, s).heading - pose.heading) > 0;
  return { line: onto, corner: s, way: sameWay ? way : way === 1 ? -1 : 1 };
}

function turnoutAt({ line, corner, way }: Place, { corner: toCorner, number }: TurnoutSize, hand: Side): Turnout {
  const at = corner - way * toCorner;
  return { on: line.id, at: Math.abs(at) < SLACK ? 0 : at, facing: way === 1 ? "with" : "against", hand, number };
}

/** Both tracks must be straight and parallel from the first turnout's joint to the second's. */
function notStraight(near: Place, far: Place, spacing: Millimetres, size: TurnoutSize): string | undefined {
  const reach = size.corner + size.joint;
  const along = spacing / Math.tan(size.angle);
  for (const [place, ahead] of [
    [near, along + reach],
    [{ ...far, way: far.way === 1 ? -1 : 1 }, along + reach],
  ] as const) {
    const { line, corner, way } = place;
    const { length } = line.path;
    const [from, to] = [corner - way * reach, corner + way * ahead];
    // Toward the other track's turnout only as much as its own through route is wanted.
    const heel = corner + way * size.behind;
    const lacks = Math.max(-from, from - length, -heel, heel - length);
    if (lacks > SLACK) return `track ${line.id} is ${mm(lacks)} too short for the turnout`;
    for (let i = 0; i <= 8; i++) {
      const s = from + (i / 8) * (to - from);
      if (s < 0 || s > length || curvatureAt(line.path, s) === 0) continue;
      return `a crossover wants straight track; track ${line.id} curves ${mm(Math.abs(s - corner))} from where it is to leave`;
    }
  }
  const apart = nearestOnPath(far.line.path, poseAt(near.line.path, near.corner + near.way * along)).distance;
  const off = Math.abs(apart - spacing);
  return off > PARALLEL
    ? `the tracks are not parallel: they part or close by ${mm(off)} over the crossover`
    : undefined;
}
