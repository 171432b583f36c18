/**
 * When a track is cut, turned round or begins elsewhere, everything that lies along it keeps its place on the sheet:
 * turnouts, pins, hidden stretches, and whatever starts from it, joins it or runs beside it.
 */
import { amend, andThen, done, type Edit, putRecord } from "../../plan/edit.js";
import type { Anchor, Id, Leg, Plan, Side, Slip, Track } from "../../plan/schema.js";
import type { Millimetres } from "../../geometry/units.js";

export interface Relocation {
  readonly track: Id;
  /** Length of the track before. */
  readonly length: Millimetres;
  /** Distances at which it is parted, if at all. */
  readonly cuts: readonly Millimetres[];
  /** Where a place has gone; `toward` lies in the same part as the place where that is a cut. */
  place(at: Millimetres, toward: Millimetres): { readonly track: Id; readonly at: Millimetres };
  end(end: "start" | "end"): { readonly track: Id; readonly end: "start" | "end" };
  /** Whether the track now runs the other way. */
  readonly turned: boolean;
  /** Where along the track a slip lies that leads across to it. */
  slipAcross?(slip: Id): Millimetres | undefined;
}

export const otherSide = (side: Side): Side => (side === "left" ? "right" : "left");

/** Everything along the track but the tracks the caller has laid anew, the track itself among them. */
export function relocate(plan: Plan, r: Relocation, laid: readonly Id[], name: string): Edit {
  let edit = done(name, plan);
  for (const [id, turnout] of Object.entries(plan.turnouts)) {
    if (turnout.on !== r.track) continue;
    const isWye = turnout.hand === "wye";
    const at = isWye ? (turnout.facing === "with" ? r.length : 0) : (turnout.at ?? 0);
    const goes = turnout.facing === "with" ? 1 : -1;
    const to = isWye ? r.end(at === 0 ? "start" : "end") : r.place(at, at + goes);
    const facing = r.turned ? (turnout.facing === "with" ? "against" : "with") : turnout.facing;
    const moved = amend(turnout, { on: to.track, facing, ...("at" in to && { at: to.at }) });
    edit = andThen(edit, (next) => putRecord(next, "turnouts", id, moved), name);
  }
  for (const [id, slip] of Object.entries(plan.slips)) {
    const moved = slipMoved(id, slip, r);
    if (moved !== slip) edit = andThen(edit, (next) => putRecord(next, "slips", id, moved), name);
  }
  for (const [id, turntable] of Object.entries(plan.turntables)) {
    if (turntable.on !== r.track) continue;
    const to = r.end(turntable.end);
    const moved = amend(turntable, { on: to.track, end: to.end });
    edit = andThen(edit, (next) => putRecord(next, "turntables", id, moved), name);
  }
  for (const [id, pin] of Object.entries(plan.pins)) {
    if (pin.track !== r.track) continue;
    const at = Math.min(pin.at, r.length);
    const to = r.place(at, 0);
    edit = andThen(edit, (next) => putRecord(next, "pins", id, amend(pin, { track: to.track, at: to.at })), name);
  }
  for (const id of Object.keys(plan.tracks)) {
    if (laid.includes(id)) continue;
    edit = andThen(
      edit,
      (next) => {
        const track = next.tracks[id];
        return track ? putRecord(next, "tracks", id, relocated(track, r)) : done(name, next);
      },
      name,
    );
  }
  return edit;
}

/** The side of a single slip's curve is seen along its own track, so it changes where that is turned. */
function slipMoved(id: Id, slip: Slip, r: Relocation): Slip {
  let moved = slip;
  if (slip.across === r.track) moved = amend(moved, { across: r.place(r.slipAcross?.(id) ?? 0, 0).track });
  if (slip.on !== r.track) return moved;
  const to = r.place(Math.min(slip.at, r.length), 0);
  const side = r.turned && slip.kind === "single" ? otherSide(slip.side ?? "left") : slip.side;
  return amend(moved, { on: to.track, at: to.at, side });
}

function relocated(track: Track, r: Relocation): Track {
  const start = anchorMoved(track.start, r);
  const legs = track.legs.flatMap((leg) => legMoved(leg, r));
  const same = legs.length === track.legs.length && legs.every((leg, i) => leg === track.legs[i]);
  return start === track.start && same ? track : { ...track, start, legs };
}

export function anchorMoved(anchor: Anchor, r: Relocation): Anchor {
  if ("track" in anchor && anchor.track === r.track) {
    const to = r.end(anchor.end);
    return to.track === anchor.track && to.end === anchor.end ? anchor : { ...anchor, ...to };
  }
  if (!("beside" in anchor) || anchor.beside.track !== r.track) return anchor;
  const { beside } = anchor;
  const to = r.place(beside.at, beside.at + (beside.against === true ? -1 : 1));
  const side = r.turned ? otherSide(beside.side) : beside.side;
  const against = r.turned ? beside.against !== true : beside.against;
  return { ...anchor, beside: amend(beside, { ...to, side, against: against === true ? true : undefined }) };
}

export function legMoved(leg: Leg, r: Relocation): Leg[] {
  if ("join" in leg) {
    const to = anchorMoved(leg.join.to, r);
    return [to === leg.join.to ? leg : { ...leg, join: { ...leg.join, to } }];
  }
  if (!("beside" in leg) || leg.beside.track !== r.track) return [leg];
  const { beside } = leg;
  const from = beside.from ?? 0;
  const to = beside.to ?? r.length;
  const borders = [from, ...r.cuts.filter((cut) => cut > Math.min(from, to) && cut < Math.max(from, to)), to];
  // Borders in the way the leg goes.
  borders.sort((a, b) => (from <= to ? a - b : b - a));
  const legs: Leg[] = [];
  for (const [i, a] of borders.entries()) {
    const b = borders[i + 1];
    if (b === undefined) continue;
    const [begin, finish] = [r.place(a, b), r.place(b, a)];
    const side = r.turned ? otherSide(beside.side) : beside.side;
    legs.push({ ...leg, beside: { ...beside, track: begin.track, from: begin.at, to: finish.at, side } });
  }
  return legs;
}

/** Stretches along a track, within a part of it, as distances from where that part begins. */
export function stretchesWithin(
  hidden: Track["hidden"],
  from: Millimetres,
  to: Millimetres,
  turned = false,
): Track["hidden"] {
  if (typeof hidden !== "object") return hidden;
  const kept = hidden
    .map((span) => ({ ...span, from: Math.max(from, span.from), to: Math.min(to, span.to) }))
    .filter((span) => span.to > span.from)
    .map((span) => ({
      ...span,
      ...(turned ? { from: to - span.to, to: to - span.from } : { from: span.from - from, to: span.to - from }),
    }));
  if (turned) kept.reverse();
  return kept.length > 0 ? kept : undefined;
}
