/**
 * Where new track begins: on bare paper, at an end, beside a track, or at a turnout that is put on a track for it. What
 * the plan becomes with that alone, and from which pose the new legs are laid.
 */
import { limitsOf } from "../../plan/class-limits.js";
import { levelWith } from "../../drafting/decks.js";
import { SNAP_KINDS, snap, type Snapped } from "../../drafting/snap.js";
import { freeEnds } from "../../drafting/snap-targets.js";
import { poseAt } from "../../geometry/path.js";
import { localPoint, type Point, type Pose, reversePose } from "../../geometry/pose.js";
import { type Millimetres, toDegrees } from "../../geometry/units.js";
import { deriveLayout } from "../../layout/derive.js";
import { growsInHand } from "../../layout/options.js";
import type { Layout } from "../../layout/layout.js";
import { turnoutFit } from "../../layout/relay/turnout-fit.js";
import { done, type Edit } from "../../plan/edit.js";
import { addTrack, replaceLegs } from "../../plan/track-edits.js";
import { placeTurnout } from "../../plan/turnout-edits.js";
import type { Anchor, ClassLimits, Id, Leg, Plan, Track, TrackClass, Turnout } from "../../plan/schema.js";
import type { ToolInput } from "../tool.js";
import { newId } from "./outcomes.js";

export type LayStart =
  | { readonly kind: "pose"; readonly pose: Pose }
  /** An end that is free, or a place beside a track. */
  | { readonly kind: "anchor"; readonly anchor: Anchor }
  /** On a track, where a turnout will lie. */
  | { readonly kind: "on-track"; readonly track: Id; readonly at: Millimetres }
  /** Whatever it began with, as the first leg has settled it. */
  | { readonly kind: "settled"; readonly base: LayBase };

/** The plan with all that new track needs, and the pose it leaves from. */
export interface LayBase {
  /** The plan it was made from. */
  readonly origin: Plan;
  readonly plan: Plan;
  readonly pose: Pose;
  readonly anchor: Anchor;
  /** The track that grows, where no new one begins. */
  readonly extends: Id | undefined;
  readonly class: TrackClass;
  readonly deck: Id;
}
export type LayBaseResult =
  | { readonly ok: true; readonly base: LayBase }
  | { readonly ok: false; readonly why: string };

/** Everything that catches but the bare grid, in the order of snapping itself. */
const BEGIN_AT = SNAP_KINDS.filter((kind) => kind !== "grid");

/** Where the pointer is caught before anything is laid. */
export const caughtForStart = (input: ToolInput, point: Point, trackClass: TrackClass): Snapped =>
  snap(input.layout, point, { reach: input.reach, deck: input.deck, class: trackClass, kinds: BEGIN_AT });

export function startFrom(caught: Snapped): LayStart | undefined {
  if (caught.kind === "track" && caught.track !== undefined && caught.s !== undefined) {
    return { kind: "on-track", track: caught.track, at: caught.s };
  }
  return caught.anchor && { kind: "anchor", anchor: caught.anchor };
}

/** The free end the choice offers to go on from: a turnout's, the end (else the start) of a track, a turntable's first stall. */
export function startFromSelection({ layout, selection }: ToolInput): LayStart | undefined {
  const [only, more] = selection;
  if (!only || more || only.kind !== "record") return undefined;
  const { collection, id } = only;
  const own = freeEnds(layout).filter(
    (end) => end.id === id && end.kind === (collection === "turnouts" ? "turnout" : "end"),
  );
  if (collection !== "turnouts" && collection !== "tracks" && collection !== "turntables") return undefined;
  const end = own.find(({ anchor }) => "turnout" in anchor || ("track" in anchor && anchor.end === "end")) ?? own[0];
  return end && { kind: "anchor", anchor: end.anchor };
}

export interface BaseWishes {
  readonly start: LayStart;
  readonly class: TrackClass;
  /** Frog number of a turnout put on a track. */
  readonly frog: number;
  /** Tells which way and to which side track leaves. */
  readonly toward: Point | undefined;
}

export function layBase(input: ToolInput, wishes: BaseWishes): LayBaseResult {
  const { plan, layout, deck } = input;
  const { start, class: trackClass, toward } = wishes;
  if (start.kind === "pose") {
    const { x, y, heading } = start.pose;
    const anchor: Anchor = { pose: { x, y, heading: toDegrees(heading) } };
    return based({ origin: plan, plan, pose: start.pose, anchor, extends: undefined, class: trackClass, deck });
  }
  if (start.kind === "settled") return settled(input, start.base);
  if (start.kind === "on-track") return onTrack(input, start, wishes);
  const { anchor } = start;
  if ("beside" in anchor) return beside(input, anchor.beside, trackClass, toward);
  const end = freeEnds(layout).find((free) => sameAnchor(free.anchor, anchor));
  if (!end) return { ok: false, why: "that end is no longer free" };
  const grown = "track" in anchor && anchor.end === "end" && growsInHand(plan, anchor.track) ? anchor.track : undefined;
  const own = grown === undefined ? undefined : plan.tracks[grown]?.class;
  return based({
    origin: plan,
    plan,
    pose: end.pose,
    anchor,
    extends: grown,
    class: own ?? trackClass,
    deck: end.deck,
  });
}

/** A panel may have changed the plan meanwhile; then what was settled is begun again from its anchor. */
function settled({ plan }: ToolInput, base: LayBase): LayBaseResult {
  if (base.origin === plan) return based(base);
  return { ok: false, why: "the plan has changed: begin again" };
}

const based = (base: LayBase): LayBaseResult => ({ ok: true, base });

export function sameAnchor(a: Anchor, b: Anchor): boolean {
  if ("turnout" in a && "turnout" in b) return a.turnout === b.turnout && a.route === b.route;
  if ("turntable" in a && "turntable" in b) return a.turntable === b.turntable && a.stall === b.stall;
  return "track" in a && "track" in b && a.track === b.track && a.end === b.end;
}

type Beside = Extract<Anchor, { readonly beside: unknown }>["beside"];

function beside(
  { plan, layout, deck }: ToolInput,
  place: Beside,
  trackClass: TrackClass,
  toward: Point | undefined,
): LayBaseResult {
  const line = layout.lines.get(`track:${place.track}`);
  if (!line) return { ok: false, why: "that track is no longer there" };
  const left = place.side === "left" ? place.spacing : -place.spacing;
  const along = poseAt(line.path, place.at);
  const pose: Pose = {
    x: along.x - left * Math.sin(along.heading),
    y: along.y + left * Math.cos(along.heading),
    heading: along.heading,
  };
  const against = toward !== undefined && localPoint(pose, toward).x < 0;
  const anchor: Anchor = { beside: { ...place, ...(against && { against }) } };
  const leaving = against ? reversePose(pose) : pose;
  return based({
    origin: plan,
    plan,
    pose: leaving,
    anchor,
    extends: undefined,
    class: trackClass,
    deck: plan.tracks[place.track]?.deck ?? deck,
  });
}

/** Deriving a plan for a turnout that is not there yet; the pointer moves often, the turnout seldom changes. */
const derived = new WeakMap<Layout, Map<string, LayBaseResult>>();

function onTrack(
  { plan, layout }: ToolInput,
  start: Extract<LayStart, { kind: "on-track" }>,
  { class: trackClass, frog, toward }: BaseWishes,
): LayBaseResult {
  const line = layout.lines.get(`track:${start.track}`);
  if (!line) return { ok: false, why: "that track is no longer there" };
  const seen = toward ? localPoint(poseAt(line.path, start.at), toward) : { x: 1, y: 1 };
  const facing = seen.x >= 0 ? "with" : "against";
  // Seen from the points: looking back along the track the sides change.
  const hand = seen.y >= 0 === (facing === "with") ? "left" : "right";
  const turnout: Turnout = { on: start.track, at: start.at, facing, hand, number: frog };
  const key = `${start.track} ${start.at} ${facing} ${hand} ${frog} ${trackClass}`;
  const known = derived.get(layout) ?? new Map<string, LayBaseResult>();
  derived.set(layout, known);
  const before = known.get(key);
  if (before) return before;
  const result = withTurnout(plan, layout, turnout, trackClass);
  known.set(key, result);
  return result;
}

function withTurnout(plan: Plan, layout: Layout, turnout: Turnout, trackClass: TrackClass): LayBaseResult {
  const fit = turnoutFit(layout, turnout);
  if (!fit.ok) return { ok: false, why: fit.why };
  const id = newId(plan, "turnout");
  const placed = placeTurnout(plan, id, fit.turnout);
  if (!placed.ok) return { ok: false, why: placed.message };
  const pose = deriveLayout(placed.plan, layout).lines.get(`turnout:${id}`)?.path.end;
  if (!pose) return { ok: false, why: "a turnout does not fit there" };
  const deck = plan.tracks[turnout.on]?.deck ?? "";
  return based({
    origin: plan,
    plan: placed.plan,
    pose,
    anchor: { turnout: id },
    extends: undefined,
    class: trackClass,
    deck,
  });
}

/** The id new track will have. */
export const idOfNew = ({ plan, extends: grown, class: trackClass }: LayBase): Id => grown ?? newId(plan, trackClass);

/** The whole edit: what the base needed, and the legs. */
export function layLegs(base: LayBase, legs: readonly Leg[]): Edit {
  const { plan, anchor, class: trackClass, deck } = base;
  const id = idOfNew(base);
  if (base.extends !== undefined) {
    const before = plan.tracks[id]?.legs ?? [];
    return legs.length === 0 ? done("Extend track", plan) : replaceLegs(plan, id, [...before, ...legs], "Extend track");
  }
  const track: Track = { class: trackClass, deck, start: anchor, legs: [...legs] };
  return addTrack(plan, id, track);
}

/** Ends of the deck in hand that track may go on from. */
export const endsInHand = ({ plan, layout, deck }: ToolInput) => {
  const level = levelWith(plan, deck);
  return freeEnds(layout).filter((end) => level.includes(end.deck));
};

export const limits = (plan: Plan, trackClass: TrackClass): ClassLimits => limitsOf(plan, trackClass);
