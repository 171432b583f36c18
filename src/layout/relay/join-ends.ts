/**
 * Joining two free ends by the shortest eased way. The track that ends at the first one grows; a turnout's route or the
 * start of a track gets a new one.
 */
import { limitsOf } from "../../plan/class-limits.js";
import { joinPoses } from "../../geometry/join.js";
import { makePath, type Path } from "../../geometry/path.js";
import { type Pose, reversePose } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import { type Edit, refused } from "../../plan/edit.js";
import { freshId } from "../../plan/fresh-id.js";
import { addTrack, appendLeg } from "../../plan/track-edits.js";
import { type Anchor, type Id, type Leg, PATH_FAMILIES, type Plan, type TrackClass } from "../../plan/schema.js";
import { layLeg } from "../legs.js";
import { growsInHand } from "../options.js";

export type Family = (typeof PATH_FAMILIES)[number];

export interface JoinEnd {
  readonly anchor: Anchor;
  /** Leaving the end. */
  readonly pose: Pose;
  readonly deck: Id;
}

export interface JoinWishes {
  readonly from: JoinEnd;
  readonly to: JoinEnd;
  readonly radius: Millimetres;
  readonly class: TrackClass;
  readonly family?: Family | undefined;
}

const joinLeg = ({ to, radius, family }: JoinWishes): Leg => ({
  join: { to: to.anchor, radius, ...(family && { family }) },
});

/** The way a join takes; undefined where no way of that radius and family leads there. */
export function joinWay(plan: Plan, wishes: JoinWishes): Path | undefined {
  const easement = limitsOf(plan, wishes.class).easement.value;
  const { from, to } = wishes;
  const laid = layLeg({ leg: joinLeg(wishes), from: from.pose, easement, goal: reversePose(to.pose) });
  return laid.ok ? makePath(from.pose, laid.value) : undefined;
}

/** Families that lead from one end to the other, shortest first. */
export function joinFamilies(plan: Plan, { from, to, radius, class: trackClass }: JoinWishes): Family[] {
  const easement = limitsOf(plan, trackClass).easement.value;
  const ways = PATH_FAMILIES.flatMap((family) => {
    const way = joinPoses(from.pose, reversePose(to.pose), { radius, easement, family });
    return way ? [{ family, length: way.length }] : [];
  });
  return ways.sort((a, b) => a.length - b.length).map(({ family }) => family);
}

export function joinEnds(plan: Plan, wishes: JoinWishes): Edit {
  const { from, to, class: trackClass } = wishes;
  // The end of a track grows; where only the other end is one, that grows instead.
  const grows = (anchor: Anchor): boolean =>
    "track" in anchor && anchor.end === "end" && growsInHand(plan, anchor.track);
  if (!grows(from.anchor) && grows(to.anchor)) return joinEnds(plan, { ...wishes, from: to, to: from });
  const leg = joinLeg(wishes);
  if (!joinWay(plan, wishes)) return refused(`no way of that radius joins the two ends`);
  if (grows(from.anchor) && "track" in from.anchor) {
    const edit = appendLeg(plan, from.anchor.track, leg);
    return edit.ok ? { ...edit, name: "Join ends" } : edit;
  }
  const id = freshId(plan, trackClass);
  const edit = addTrack(plan, id, { class: trackClass, deck: from.deck, start: from.anchor, legs: [leg] });
  return edit.ok ? { ...edit, name: "Join ends" } : edit;
}
