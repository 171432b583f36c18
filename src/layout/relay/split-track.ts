/**
 * Parting a track in two at a place: the second part starts from the first one's end, and all that lies along the track
 * goes with its part.
 *
 * Always holds: every line of the layout lies as it lay; a split that would move something is refused.
 */
import { nearestOnPath } from "../../geometry/nearest.js";
import { poseAt, slicePath } from "../../geometry/path.js";
import type { Millimetres } from "../../geometry/units.js";
import { amend, andThen, type Edit, putRecord, recordAt, refused } from "../../plan/edit.js";
import { freshId } from "../../plan/fresh-id.js";
import type { Anchor, Id, Leg } from "../../plan/schema.js";
import { legStationsOf } from "../derive.js";
import type { Layout } from "../layout.js";
import { isStraight, plainLegs, segmentsOfLeg } from "./plain-legs.js";
import { legMoved, relocate, type Relocation, stretchesWithin } from "./relocate.js";
import { liesAsBefore } from "./same-way.js";

/** Nobody lays, or means, track shorter than this at an end. */
const LEAST_PART: Millimetres = 1;
/** A cut this near to a joint of two legs is at the joint. */
const AT_JOINT: Millimetres = 0.01;

export function splitTrack(layout: Layout, id: Id, at: Millimetres, second?: Id): Edit {
  const { plan } = layout;
  const track = recordAt(plan, "tracks", id);
  const line = layout.lines.get(`track:${id}`);
  if (!track || !line) return refused(`there is no track "${id}" to part`);
  if (legStationsOf(layout, id).length <= track.legs.length)
    return refused("a track that is not laid to its end cannot be parted");
  const { path } = line;
  if (!(at >= LEAST_PART && at <= path.length - LEAST_PART)) return refused("that is the end of the track");
  for (const turnout of layout.turnouts.values()) {
    if (turnout.host !== line.key || turnout.hand === "wye") continue;
    const [from, to] = [Math.min(turnout.joint, turnout.heel), Math.max(turnout.joint, turnout.heel)];
    if (at > from && at < to) return refused(`a turnout lies there: part the track before or behind it`);
  }
  const parts = partLegs(layout, id, track.legs, at);
  if (!Array.isArray(parts)) return refused(parts.why);

  const other = second ?? freshId(plan, track.name ?? id);
  const relocation: Relocation = {
    track: id,
    length: path.length,
    cuts: [at],
    turned: false,
    slipAcross: (slip) => layout.slips.get(slip)?.across.s,
    place: (s, toward) => (s < at || (s === at && toward <= at) ? { track: id, at: s } : { track: other, at: s - at }),
    end: (end) => (end === "start" ? { track: id, end } : { track: other, end }),
  };
  // A ring that joins its own start goes on joining it.
  const [before, after] = parts.map((legs) => legs.flatMap((leg) => legMoved(leg, relocation)));
  if (!before || !after) return refused("there is no track there");
  const first = amend(track, { legs: before, hidden: stretchesWithin(track.hidden, 0, at) });
  const start: Anchor = { track: id, end: "end" };
  const rest = amend(track, { start, legs: after, hidden: stretchesWithin(track.hidden, at, path.length) });
  let edit = putRecord(plan, "tracks", other, rest, "Split track");
  edit = andThen(edit, (next) => putRecord(next, "tracks", id, first), "Split track");
  edit = andThen(edit, (next) => relocate(next, relocation, [id, other], "Split track"), "Split track");
  if (!edit.ok) return edit;
  const wanted = new Map([
    [line.key, slicePath(path, 0, at)],
    [`track:${other}` as const, slicePath(path, at, path.length)],
  ]);
  return liesAsBefore(layout, edit.plan, wanted)
    ? { ...edit, owned: true }
    : refused("parted there, the track could not lie as it lies");
}

type Parts = [before: Leg[], after: Leg[]] | { readonly why: string };

function partLegs(layout: Layout, id: Id, legs: readonly Leg[], at: Millimetres): Parts {
  const stations = legStationsOf(layout, id);
  const joint = stations.findIndex((station) => Math.abs(station - at) <= AT_JOINT);
  if (joint > 0) return [legs.slice(0, joint), legs.slice(joint)];
  const index = stations.findIndex((station) => station > at) - 1;
  const leg = legs[index];
  const from = stations[index] ?? 0;
  if (!leg) return { why: "there is no track there" };
  const parts = partLeg(layout, id, leg, index, at - from);
  if (!Array.isArray(parts)) return parts;
  return [
    [...legs.slice(0, index), ...parts[0]],
    [...parts[1], ...legs.slice(index + 1)],
  ];
}

function partLeg(layout: Layout, id: Id, leg: Leg, index: number, at: Millimetres): Parts {
  if ("straight" in leg) return [[{ straight: at }], [{ straight: leg.straight - at }]];
  if ("flex" in leg) return { why: "a hand-laid curve cannot be parted" };
  const from = legStationsOf(layout, id)[index] ?? 0;
  const line = layout.lines.get(`track:${id}`);
  const segments = segmentsOfLeg(layout, id, index);
  if (!line || !segments) return { why: "there is no track there" };
  if ("beside" in leg) {
    const host = layout.lines.get(`track:${leg.beside.track}`);
    if (!host) return { why: "it runs beside a track that is not there" };
    const abreast = nearestOnPath(host.path, poseAt(line.path, from + at)).s;
    return [[{ beside: { ...leg.beside, to: abreast } }], [{ beside: { ...leg.beside, from: abreast } }]];
  }
  const whole = slicePath(line.path, from, from + segments.reduce((sum, g) => sum + g.length, 0));
  const first = plainLegs(slicePath(whole, 0, at).segments);
  if ("join" in leg) {
    // What still leads to the end it joins stays a joining leg, from where the track is straight next.
    let straight = at;
    const station = whole.segments.findIndex((g, i) => isStraight(g) && (whole.stations[i + 1] ?? 0) > at);
    if (station === -1) return { why: "the last curve before a joint cannot be parted" };
    straight = Math.max(at, whole.stations[station] ?? 0);
    const between = plainLegs(slicePath(whole, at, straight).segments);
    const { family: _family, ...join } = leg.join;
    return first && between ? [first, [...between, { join }]] : IN_EASEMENT;
  }
  const second = plainLegs(slicePath(whole, at, whole.length).segments);
  return first && second ? [first, second] : IN_EASEMENT;
}

const IN_EASEMENT = { why: "a track cannot be parted within an easement: part it on the straight or on the arc" };
