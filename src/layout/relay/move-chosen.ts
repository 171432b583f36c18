/**
 * Moving what is chosen where it is: nudged, turned, mirrored. A track that starts from another goes where that goes; it
 * is only changed itself where both are chosen.
 */
import { andThen, done, type Edit, putRecord, refused } from "../../plan/edit.js";
import { putObstacle } from "../../plan/room-edits.js";
import type { Id, Plan, Track } from "../../plan/schema.js";
import type { Layout } from "../layout.js";
import { type Chosen, hostOf, hostsBeside, idsOf } from "./chosen.js";
import {
  type Motion,
  moveBench,
  moveHeading,
  movePoint,
  movePoints,
  moveSlip,
  moveTrack,
  moveTurnout,
  moveTurntable,
} from "./motion.js";

export function moveChosen(layout: Layout, chosen: Chosen, motion: Motion, name: string): Edit {
  const { plan } = layout;
  const tracks = movable(plan, idsOf(chosen, "tracks"));
  let edit = done(name, plan);
  const then = (next: (plan: Plan) => Edit): void => {
    edit = andThen(edit, next, name);
  };
  for (const id of tracks) {
    const track = plan.tracks[id];
    if (track) then((next) => putRecord(next, "tracks", id, moveTrack(motion, track)));
  }
  for (const [id, turnout] of Object.entries(plan.turnouts)) {
    if (tracks.has(turnout.on)) then((next) => putRecord(next, "turnouts", id, moveTurnout(motion, turnout)));
  }
  for (const [id, slip] of Object.entries(plan.slips)) {
    if (tracks.has(slip.on) && tracks.has(slip.across))
      then((next) => putRecord(next, "slips", id, moveSlip(motion, slip)));
  }
  for (const [id, turntable] of Object.entries(plan.turntables)) {
    if (tracks.has(turntable.on)) then((next) => putRecord(next, "turntables", id, moveTurntable(motion, turntable)));
  }
  for (const { collection, id } of chosen.refs) {
    if (collection === "benches") {
      const bench = plan.benches[id];
      if (bench) then((next) => putRecord(next, "benches", id, moveBench(motion, bench)));
    } else if (collection === "backdrops") {
      const drop = plan.backdrops[id];
      const line = drop?.line.map((point) => movePoint(motion, point));
      if (drop && line) then((next) => putRecord(next, "backdrops", id, { ...drop, line }));
    } else if (collection === "gates") {
      const gate = plan.gates[id];
      if (gate) then((next) => putRecord(next, "gates", id, { ...gate, outline: movePoints(motion, gate.outline) }));
    } else if (collection === "labels") {
      const label = plan.labels[id];
      if (!label) continue;
      // Lettering is turned with what it names, but never mirrored.
      const heading = motion.mirror ? label.heading : moveHeading(motion, label.heading ?? 0);
      const turned = heading === undefined || motion.turn === 0 ? {} : { heading };
      then((next) => putRecord(next, "labels", id, { ...label, at: movePoint(motion, label.at), ...turned }));
    }
  }
  for (const id of chosen.obstacles) {
    const obstacle = plan.room.obstacles[id];
    const outline = obstacle && movePoints(motion, obstacle.outline);
    if (obstacle && outline) then((next) => putObstacle(next, id, { ...obstacle, outline }));
  }
  if (!edit.ok) return edit;
  return sameRecords(plan, edit.plan) ? refused(whyNot(plan, idsOf(chosen, "tracks"))) : edit;
}

/** Chosen tracks whose start and hosts are all chosen, or places on the sheet. */
function movable(plan: Plan, chosen: ReadonlySet<Id>): ReadonlySet<Id> {
  const kept = new Set(chosen);
  const stands = (track: Track | undefined): boolean => {
    if (!track) return false;
    const host = hostOf(plan, track.start);
    if (!("pose" in track.start) && (host === undefined || !kept.has(host))) return false;
    return hostsBeside(track).every((id) => kept.has(id));
  };
  for (let last = -1; last !== kept.size; ) {
    last = kept.size;
    for (const id of kept) if (!stands(plan.tracks[id])) kept.delete(id);
  }
  return kept;
}

const sameRecords = (a: Plan, b: Plan): boolean =>
  a.tracks === b.tracks &&
  a.benches === b.benches &&
  a.backdrops === b.backdrops &&
  a.gates === b.gates &&
  a.labels === b.labels &&
  a.room === b.room;

function whyNot(plan: Plan, tracks: ReadonlySet<Id>): string {
  for (const id of tracks) {
    const track = plan.tracks[id];
    const host = track && (hostOf(plan, track.start) ?? hostsBeside(track)[0]);
    if (host !== undefined)
      return `${track?.name ?? id} goes with ${plan.tracks[host]?.name ?? host}: choose that as well`;
  }
  return "nothing chosen has a place of its own on the sheet";
}
