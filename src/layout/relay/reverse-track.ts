/**
 * A track run the other way: it starts where it ended, and all that lies along it stays where it is.
 *
 * Always holds: every line of the layout lies as it lay, the track's own turned round; what could not be laid back so
 * is refused.
 */
import { limitsOf } from "../../plan/class-limits.js";
import { poseAt, reversePath, slicePath } from "../../geometry/path.js";
import { offsetPoint, type Pose, reversePose } from "../../geometry/pose.js";
import { distance } from "../../geometry/pose.js";
import { toDegrees } from "../../geometry/units.js";
import { amend, andThen, type Edit, putRecord, recordAt, refused } from "../../plan/edit.js";
import type { Anchor, Id, Leg, Track } from "../../plan/schema.js";
import { legStationsOf } from "../derive.js";
import type { Layout } from "../layout.js";
import { plainLegs, segmentsOfLeg } from "./plain-legs.js";
import { anchorMoved, relocate, type Relocation, stretchesWithin } from "./relocate.js";
import { liesAsBefore } from "./same-way.js";

const NAME = "Turn track round";

export function reverseTrack(layout: Layout, id: Id): Edit {
  const { plan } = layout;
  const track = recordAt(plan, "tracks", id);
  const line = layout.lines.get(`track:${id}`);
  if (!track || !line) return refused(`there is no track "${id}" to turn round`);
  if (legStationsOf(layout, id).length <= track.legs.length)
    return refused("a track that is not laid to its end cannot be turned round");
  const { path } = line;
  const relocation: Relocation = {
    track: id,
    length: path.length,
    cuts: [],
    turned: true,
    place: (s) => ({ track: id, at: Math.max(0, path.length - s) }),
    end: (end) => ({ track: id, end: end === "start" ? "end" : "start" }),
  };
  const hidden = stretchesWithin(track.hidden, 0, path.length, true);
  let failed: Edit = refused("that track cannot be laid from its other end");
  for (const { start, legs } of candidates(layout, id, track, relocation)) {
    let edit = putRecord(plan, "tracks", id, amend(track, { start, legs, hidden }), NAME);
    edit = andThen(edit, (next) => relocate(next, relocation, [id], NAME), NAME);
    if (!edit.ok) failed = edit;
    else if (liesAsBefore(layout, edit.plan, new Map([[line.key, reversePath(path)]]))) return edit;
  }
  return failed;
}

/** Ways to lay the track back: a track that started from something ends by joining it, with one leg or with two. */
function candidates(layout: Layout, id: Id, track: Track, r: Relocation): Pick<Track, "start" | "legs">[] {
  const path = layout.lines.get(`track:${id}`)?.path;
  const back = path && legsBack(layout, id, track);
  if (!back) return [];
  const last = track.legs.at(-1);
  const goal = last && "join" in last ? last.join.to : undefined;
  const onSheet: Anchor = { pose: anchorPose(reversePose(path.end)) };
  // A ring ends where it began, run either way.
  const ring = goal && "track" in goal && goal.track === id;
  const joined = goal && !ring && ("turnout" in goal || "track" in goal);
  const start = joined ? goal : onSheet;
  const hangs = "turnout" in track.start || "track" in track.start;
  if (!ring && !hangs) return [{ start, legs: back }];
  const to: Anchor = ring ? { track: id, end: "start" } : anchorMoved(track.start, r);
  const closing = [1, 2, 3].filter((count) => count <= back.length);
  return closing.map((count) => ({
    start,
    legs: [...back.slice(0, back.length - count), joinInPlaceOf(back.slice(-count), to, layout, track)],
  }));
}

const anchorPose = ({ x, y, heading }: Pose) => ({ x, y, heading: toDegrees(heading) });

/** The track's legs from its end to its start; undefined where one cannot be laid back. */
function legsBack(layout: Layout, id: Id, track: Track): Leg[] | undefined {
  const stations = legStationsOf(layout, id);
  const path = layout.lines.get(`track:${id}`)?.path;
  const legs: Leg[] = [];
  for (const [i, leg] of track.legs.entries()) {
    const back = legBack(layout, leg, path && poseAt(path, stations[i] ?? 0), () => plainBack(layout, id, i));
    if (!back) return undefined;
    legs.unshift(...back);
  }
  return legs;
}

function plainBack(layout: Layout, id: Id, index: number): Leg[] | undefined {
  const stations = legStationsOf(layout, id);
  const path = layout.lines.get(`track:${id}`)?.path;
  const segments = segmentsOfLeg(layout, id, index);
  if (!path || !segments) return undefined;
  return plainLegs(reversePath(slicePath(path, stations[index] ?? 0, stations[index + 1] ?? 0)).segments);
}

function legBack(layout: Layout, leg: Leg, from: Pose | undefined, plain: () => Leg[] | undefined): Leg[] | undefined {
  if ("straight" in leg) return [leg];
  if ("curve" in leg) {
    const { easement, hand } = leg.curve;
    const turned = typeof easement === "object" ? { in: easement.out, out: easement.in } : easement;
    const curve = amend(leg.curve, { hand: hand === "left" ? "right" : "left", easement: turned });
    return [{ ...leg, curve }];
  }
  if ("beside" in leg) {
    const host = layout.lines.get(`track:${leg.beside.track}`);
    if (!host) return undefined;
    const { from: begin = 0, to = host.path.length } = leg.beside;
    return [{ ...leg, beside: { ...leg.beside, from: to, to: begin } }];
  }
  if ("flex" in leg && from) {
    const [c1, c2] = leg.flex;
    // The first handle is laid along the track, wherever it was drawn.
    const handle = offsetPoint(from, distance(from, c1), 0);
    return [{ ...leg, flex: [{ x: c2.x, y: c2.y }, handle, { x: from.x, y: from.y }] }];
  }
  return plain();
}

function joinInPlaceOf(legs: readonly Leg[], to: Anchor, layout: Layout, track: Track): Leg {
  const curve = legs.flatMap((leg) => ("curve" in leg ? [leg.curve] : []))[0];
  const radius = curve?.radius ?? limitsOf(layout.plan, track.class).radius.value;
  const easement =
    typeof curve?.easement === "object" ? Math.max(curve.easement.in, curve.easement.out) : curve?.easement;
  return { join: { to, radius, ...(easement !== undefined && { easement }) } };
}
