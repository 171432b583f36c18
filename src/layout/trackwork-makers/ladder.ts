/**
 * Ladders: a straight track with turnouts along it, from which parallel body tracks leave.
 *
 * straight: the ladder lies at the frog angle F to the bodies; its turnouts are p / sin F apart for bodies p apart, and
 * bodies begin p cot F farther on one after another (elementary; engineering tables print the same).
 * compound: it lies at 2 F, every turnout of it leads to two bodies over a second turnout, and its turnouts are
 * 2 p / sin 2F apart: shorter by the square of cos F for each pair, and steeper.
 * curved-lead: a curve first turns the lead by F onto a straight ladder, so that the bodies run on as the lead came.
 */
import { limitsOf } from "../../plan/class-limits.js";
import type { Millimetres } from "../../geometry/units.js";
import { type Edit, refused } from "../../plan/edit.js";
import type { Anchor, Id, Leg, Plan, Side, TrackClass } from "../../plan/schema.js";
import type { Layout } from "../layout.js";
import { otherSide } from "../relay/relocate.js";
import { type Body, layBodies } from "./bodies.js";
import { Building, placeOfAnchor } from "./building.js";
import { compoundBodies } from "./ladder-compound.js";
import { type Bend, bendOf, clearRadius, mm, type TurnoutSize, turnoutSize } from "./turnout-size.js";

export interface LadderWishes {
  readonly kind: "straight" | "compound" | "curved-lead";
  /** End of a track or of a turnout's route. */
  readonly from: Anchor;
  /** Body tracks, 2 or more. */
  readonly tracks: number;
  readonly spacing: Millimetres;
  readonly number: number;
  /** Side of the ladder the bodies lie on. */
  readonly hand: Side;
  /** Straight length of the shortest body. */
  readonly length: Millimetres;
  readonly deck: Id;
  /** Class of the bodies; yard where left out. */
  readonly class?: TrackClass;
  readonly name?: string;
}

/** What all parts of a ladder are laid by. */
export interface LadderPlan {
  readonly size: TurnoutSize;
  /** Turns by the frog angle, to the bodies' side. */
  readonly bend: Bend;
  readonly spacing: Millimetres;
  readonly hand: Side;
  readonly class: TrackClass;
  readonly deck: Id;
  readonly name: string;
}

type LadderFigures = Pick<LadderWishes, "spacing" | "number" | "hand" | "deck" | "class" | "name">;

function partsOf(plan: Plan, { spacing, number, hand, deck, ...wishes }: LadderFigures): LadderPlan {
  const trackClass = wishes.class ?? "yard";
  const size = turnoutSize(plan, number);
  const bend = bendOf(plan, trackClass, size.angle, hand);
  return { size, bend, spacing, hand, class: trackClass, deck, name: wishes.name ?? "Ladder" };
}

/** What does not fit between bodies so near together, and by how much; undefined where all does. */
export const ladderLacks = (
  plan: Plan,
  wishes: LadderFigures & Pick<LadderWishes, "kind" | "tracks">,
): string | undefined => shortOf(partsOf(plan, wishes), wishes.tracks, wishes.kind === "compound");

export function makeLadder(layout: Layout, wishes: LadderWishes): Edit {
  const { plan } = layout;
  const { kind, tracks, spacing, hand, from, deck, length } = wishes;
  if (!(Number.isInteger(tracks) && tracks >= 2)) return refused("a ladder leads to two tracks or more");
  if (!(length > 0)) return refused("the body tracks have no length");
  const start = placeOfAnchor(layout, from);
  if ("why" in start) return refused(start.why);
  const how = partsOf(plan, wishes);
  const { size, class: trackClass } = how;
  const why = ladderLacks(plan, wishes);
  if (why !== undefined) return refused(why);

  const building = new Building(layout, "Lay ladder");
  const lead = kind === "curved-lead" ? bendOf(plan, trackClass, size.angle, otherSide(hand)) : undefined;
  const begin = lead?.length ?? 0;
  // The first turnout turns back what curves before it, or may: that wants its straight.
  const wanted = limitsOf(plan, trackClass).reverseStraight.value - (lead ? 0 : start.straight);
  const corner = Math.max(size.joint + size.corner, wanted + size.tangent);
  const legs = lead ? [lead.leg] : [];
  const bodies =
    kind === "compound"
      ? compoundBodies(building, how, { from, corner }, tracks)
      : ladderBodies(building, how, { from, legs, legsLength: begin, corner: begin + corner }, tracks);
  const settle = plan.scale.gauge;
  const farthest = Math.max(...bodies.map(({ x }) => x));
  layBodies(building, bodies, {
    class: trackClass,
    deck,
    names: bodies.map((_, i) => `${how.name} road ${i + 1}`),
    side: otherSide(hand),
    spacing,
    radius: clearRadius(plan, trackClass),
    settle,
    end: farthest + settle + length,
  });
  return building.finish();
}

/** What does not fit in a ladder of so many bodies and by how much; undefined where all does. */
export function shortOf({ size, bend, spacing }: LadderPlan, tracks: number, compound = false): string | undefined {
  if (tracks < 2) return undefined;
  const { angle, behind } = size;
  const step = spacing / Math.sin(angle);
  const between = compound ? (2 * spacing) / Math.sin(2 * angle) : step;
  if (tracks > (compound ? 4 : 2) && size.length > between) {
    const short = `${mm(size.length)} of ladder and has ${mm(between)}, ${mm(size.length - between)} short`;
    return `a number ${size.number} turnout takes ${short}; bodies ${mm(size.length * (spacing / between))} apart would do`;
  }
  const room = step - behind - bend.tangent;
  if (room >= 0) return undefined;
  return `the curve behind the last turnout lacks ${mm(-room)}: a greater spacing or a smaller radius would do`;
}

/** Where a straight ladder begins: its first corner is `corner` along the track. */
export interface LadderStart {
  readonly from: Anchor;
  readonly legs: readonly Leg[];
  readonly legsLength: Millimetres;
  readonly corner: Millimetres;
}

/** A straight ladder with its turnouts, and the bodies that leave it; x counts from abreast of the first corner. */
export function ladderBodies(building: Building, how: LadderPlan, start: LadderStart, tracks: number): Body[] {
  const { size, bend, spacing, hand, name, deck, class: trackClass } = how;
  const step = spacing / Math.sin(size.angle);
  const along = spacing / Math.tan(size.angle);
  const last = tracks - 1;
  const legLength = start.corner + last * step - bend.tangent - start.legsLength;
  const ladder = building.add("tracks", name, {
    name,
    class: trackClass,
    deck,
    start: start.from,
    legs: [...start.legs, { straight: legLength }],
  });
  return Array.from({ length: tracks }, (_, i): Body => {
    if (i === last) {
      const x = i * along + bend.tangent;
      return { start: { track: ladder, end: "end" }, before: [bend.leg], beforeLength: bend.length, x };
    }
    const at = start.corner + i * step - size.corner;
    const turnout = building.add("turnouts", name, { on: ladder, at, facing: "with", hand, number: size.number });
    return { start: { turnout }, before: [], beforeLength: 0, x: i * along + size.behind };
  });
}
