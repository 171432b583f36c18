/**
 * Pins that make a track climb at a grade from a place until it has a height, and pins that hold it level.
 *
 * Always holds: between the two places no pin is left that would bend the grade; the grade between them is the one
 * asked for; where the track is too short nothing is pinned and what is missing is told.
 */
import type { Millimetres, Percent } from "../../geometry/units.js";
import { amend, andThen, done, type Edit, refused, without } from "../../plan/edit.js";
import { freshId } from "../../plan/fresh-id.js";
import type { Id, Pin, Plan } from "../../plan/schema.js";
import { setPin } from "../../plan/turnout-edits.js";
import type { Layout } from "../layout.js";
import type { LineKey } from "../line.js";
import { recordsInHand } from "../options.js";
import { heightOn } from "../place-names.js";

/** Heights nearer than this are one. */
const SAME_HEIGHT: Millimetres = 0.01;
/** A pin this near to a place holds its height. */
const AT_PIN: Millimetres = 0.5;
/** Tracks followed one after another; more would be going round in circles. */
const MOST_TRACKS = 200;

export interface TrackPlace {
  readonly track: Id;
  readonly at: Millimetres;
}
export type PinTo = { readonly height: Millimetres } | { readonly deck: Id };

export interface ClimbWishes {
  readonly from: TrackPlace;
  /** 1: the way the track runs. */
  readonly way: 1 | -1;
  /** Steepness, above 0; up or down follows from the heights. */
  readonly grade: Percent;
  readonly to: PinTo;
}

export type Climb =
  | {
      readonly ok: true;
      readonly run: Millimetres;
      readonly rise: Millimetres;
      readonly top: TrackPlace;
      /** Pins between the two places, which give way. */
      readonly givesWay: readonly Id[];
      readonly edit: Edit;
    }
  | { readonly ok: false; readonly message: string; readonly run?: Millimetres; readonly missing?: Millimetres };

export function climbTo(layout: Layout, { from, way, grade, to }: ClimbWishes): Climb {
  const { plan } = layout;
  const line = layout.lines.get(`track:${from.track}`);
  if (!line) return { ok: false, message: "there is no track to climb on" };
  if (!(grade > 0)) return { ok: false, message: "a climb needs a grade above nothing" };
  const goal = heightOf(plan, to);
  if (goal === undefined) return { ok: false, message: "there is no such deck" };
  const rise = goal - heightOn(layout, line.key, from.at);
  if (Math.abs(rise) <= SAME_HEIGHT) return { ok: false, message: "it is at that height already" };
  const run = (Math.abs(rise) * 100) / grade;
  const way0 = stretchesAhead(layout, from, way, run);
  const missing = run - way0.reduce((sum, part) => sum + Math.abs(part.to - part.from), 0);
  const last = way0.at(-1);
  if (missing > SAME_HEIGHT || !last) return { ok: false, message: "the track is too short", run, missing };
  const top = { track: last.track, at: last.to };
  const between = pinsOn(layout, way0).filter((id) => !isAt(plan.pins[id], from) && !isAt(plan.pins[id], top));
  const bottom = pinAt(layout, from);
  let edit = done(
    "Climb",
    without(
      plan,
      between.map((id) => ({ collection: "pins", id })),
    ),
  );
  if (!bottom)
    edit = andThen(edit, (next) => pinHere(next, layout, from, { height: heightOn(layout, line.key, from.at) }));
  edit = andThen(edit, (next) => pinHere(next, layout, top, to), "Climb");
  return { ok: true, run, rise, top, givesWay: between, edit };
}

/** Both places pinned to the height the first one has. */
export function holdLevel(layout: Layout, from: TrackPlace, to: TrackPlace): Edit {
  if (from.track !== to.track) return refused("a level stretch lies on one track");
  const line = layout.lines.get(`track:${from.track}`);
  if (!line) return refused("there is no track to hold level");
  if (Math.abs(from.at - to.at) <= AT_PIN) return refused("a level stretch has a length");
  const stretch = { track: from.track, from: from.at, to: to.at };
  const { plan } = layout;
  const here = pinAt(layout, from);
  const pinned = here === undefined ? undefined : plan.pins[here];
  const height: PinTo =
    pinned?.deck === undefined ? { height: heightOn(layout, line.key, from.at) } : { deck: pinned.deck };
  const between = pinsOn(layout, [stretch]).filter((id) => !isAt(plan.pins[id], from) && !isAt(plan.pins[id], to));
  let edit = done(
    "Hold level",
    without(
      plan,
      between.map((id) => ({ collection: "pins", id })),
    ),
  );
  edit = andThen(edit, (next) => pinHere(next, layout, from, height));
  return andThen(edit, (next) => pinHere(next, layout, to, height), "Hold level");
}

/** Pins a place, or gives the pin that is there another height. */
export function pinHere(plan: Plan, layout: Layout, place: TrackPlace, to: PinTo, id?: Id): Edit {
  const there = pinAt(layout, place);
  const before = there === undefined ? undefined : plan.pins[there];
  if (there !== undefined && before) {
    return setPin(plan, there, amend(before, { height: undefined, deck: undefined, ...to }));
  }
  return setPin(plan, id ?? freshId(plan, `${place.track} height`), { track: place.track, at: place.at, ...to });
}

export const heightOf = (plan: Plan, to: PinTo): Millimetres | undefined =>
  "height" in to ? to.height : plan.decks[to.deck]?.height;

export function pinAt(layout: Layout, place: TrackPlace): Id | undefined {
  return recordsInHand(layout.plan, layout.plan.pins).find(([, pin]) => isAt(pin, place))?.[0];
}

const isAt = (pin: Pin | undefined, { track, at }: TrackPlace): boolean =>
  pin?.track === track && Math.abs(pin.at - at) <= AT_PIN;

interface Along {
  readonly track: Id;
  readonly from: Millimetres;
  readonly to: Millimetres;
}

const pinsOn = (layout: Layout, stretches: readonly Along[]): Id[] =>
  recordsInHand(layout.plan, layout.plan.pins)
    .filter(([, pin]) =>
      stretches.some(
        (s) => s.track === pin.track && pin.at >= Math.min(s.from, s.to) && pin.at <= Math.max(s.from, s.to),
      ),
    )
    .map(([id]) => id);

/** Track ahead of a place, at most `run` of it, going on where one track is plainly joined to another. */
function stretchesAhead(layout: Layout, from: TrackPlace, way: 1 | -1, run: Millimetres): Along[] {
  const found: Along[] = [];
  let place: TrackPlace | undefined = from;
  let goes = way;
  let left = run;
  while (place && left > 0 && found.length < MOST_TRACKS) {
    const length = layout.lines.get(`track:${place.track}`)?.path.length ?? 0;
    const end = goes === 1 ? length : 0;
    const step = Math.min(left, Math.abs(end - place.at));
    found.push({ track: place.track, from: place.at, to: place.at + goes * step });
    left -= step;
    const next: Entered | undefined = left > 0 ? trackBeyond(layout, `track:${place.track}`, goes) : undefined;
    // A ring leads back to where it began.
    if (next && found.some((s) => s.track === next.track)) break;
    place = next && { track: next.track, at: next.at };
    goes = next?.way ?? goes;
  }
  return found;
}

type Entered = TrackPlace & { readonly way: 1 | -1 };

function trackBeyond({ network, lines }: Layout, key: LineKey, way: 1 | -1): Entered | undefined {
  const edges = network.byLine.get(key) ?? [];
  const end = way === 1 ? edges.at(-1)?.b : edges[0]?.a;
  const node = end && network.nodes.get(end.node);
  const others = node && end ? node.sides[end.side === 0 ? 1 : 0] : [];
  const edge = others.length === 1 ? network.edges[others[0] ?? -1] : undefined;
  const line = edge && lines.get(edge.line);
  if (!edge || line?.kind !== "track") return undefined;
  const enters = edge.a.node === end?.node ? 1 : -1;
  return { track: line.id, at: enters === 1 ? edge.from : edge.to, way: enters };
}
