/**
 * Body tracks of a ladder or yard, side by side: each runs beside the one before, so that they stay parallel whatever is
 * done to the first. Places are told along the bodies' direction, x, from any one origin.
 *
 * Always holds: every body but the first has a `beside` leg at the spacing; all end abreast.
 */
import type { Millimetres } from "../../geometry/units.js";
import type { Anchor, Id, Leg, Side, Track, TrackClass } from "../../plan/schema.js";
import type { Building } from "./building.js";

export interface Body {
  readonly start: Anchor;
  /** Legs before it runs straight beside the others, and how long they are. */
  readonly before: readonly Leg[];
  readonly beforeLength: Millimetres;
  /** Where it is straight from. */
  readonly x: Millimetres;
  /** How it ends at the far end of a double-ended yard: where it is straight to, and the legs on from there. */
  readonly after?: { readonly x: Millimetres; readonly legs: readonly Leg[] };
}

export interface Bodies {
  readonly class: TrackClass;
  readonly deck: Id;
  readonly names: readonly string[];
  /** The side of the one before each lies on. */
  readonly side: Side;
  readonly spacing: Millimetres;
  readonly radius: Millimetres;
  /** Straight before a body is taken to run beside the one before. */
  readonly settle: Millimetres;
  /** Where those without an end of their own end. */
  readonly end: Millimetres;
}

/** A body laid already that the first runs beside: where it is straight from, and its distance along it there. */
export interface LaidBody {
  readonly id: Id;
  readonly x: Millimetres;
  readonly s: Millimetres;
  /** Where it is straight to. */
  readonly to: Millimetres;
}

export function layBodies(building: Building, bodies: readonly Body[], how: Bodies, first?: LaidBody): LaidBody[] {
  const laid: LaidBody[] = [];
  let last = first;
  for (const [i, body] of bodies.entries()) {
    const to = body.after?.x ?? how.end;
    const legs = [
      ...body.before,
      ...(last ? besideLegs(body, to, last, how) : straightLegs(body, to)),
      ...(body.after?.legs ?? []),
    ];
    const track: Track = {
      name: how.names[i] ?? "",
      class: how.class,
      deck: how.deck,
      start: body.start,
      legs,
      ...(body.after === undefined && { bumpers: ["end"] }),
    };
    const id = building.add("tracks", how.names[i] ?? "road", track);
    last = { id, x: body.x, s: body.beforeLength, to };
    laid.push(last);
  }
  return laid;
}

const straightLegs = (body: Body, to: Millimetres): Leg[] => [{ straight: to - body.x }];

function besideLegs(body: Body, to: Millimetres, last: LaidBody, how: Bodies): Leg[] {
  const { side, spacing, radius, settle } = how;
  const from = Math.max(body.x, last.x) + settle;
  const until = Math.min(to, last.to);
  const on = (x: Millimetres): Millimetres => last.s + x - last.x;
  const open = body.after === undefined && last.to <= to;
  const ending: Leg[] = until < to && !open ? [{ straight: to - until }] : [];
  return [
    { join: { to: { beside: { track: last.id, at: on(from), side, spacing } }, radius, easement: 0 } },
    { beside: { track: last.id, from: on(from), ...(!open && { to: on(until) }), side, spacing } },
    ...ending,
  ];
}
