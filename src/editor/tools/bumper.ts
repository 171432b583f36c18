/** The bumper tool: a click on an end of track puts a bumper on it or takes it off; arrows go from end to end. */
import { levelWith } from "../../drafting/decks.js";
import { freeEnds } from "../../drafting/snap-targets.js";
import { distance, type Point, type Pose, reversePose } from "../../geometry/pose.js";
import { bumperShape } from "../../drafting/trackwork-shapes.js";
import type { Id, Plan } from "../../plan/schema.js";
import { setBumper } from "../../plan/track-edits.js";
import type { Outcome, Overlay, Tool, ToolInput } from "../tool.js";
import { endHandles } from "./lay-show.js";
import { committed, previewed, putAside } from "./outcomes.js";

interface TrackEnd {
  readonly track: Id;
  readonly end: "start" | "end";
  /** Looking out of it. */
  readonly pose: Pose;
}

export interface BumperState {
  readonly at: Point | undefined;
  /** The end gone to by keys, among all of them. */
  readonly step: number | undefined;
  readonly pressed: boolean;
}

const EMPTY: BumperState = { at: undefined, step: undefined, pressed: false };

/** Free ends of tracks, and those that have a bumper though track goes on. */
function endsOf({ layout, plan, deck }: ToolInput): TrackEnd[] {
  const level = levelWith(plan, deck);
  const free = freeEnds(layout).flatMap(({ anchor, pose, deck: on }): TrackEnd[] =>
    "track" in anchor && level.includes(on) ? [{ track: anchor.track, end: anchor.end, pose }] : [],
  );
  const known = new Set(free.map(({ track, end }) => `${track} ${end}`));
  const others = Object.entries(plan.tracks).flatMap(([track, { bumpers = [] }]): TrackEnd[] => {
    const line = layout.lines.get(`track:${track}`);
    if (!line || !level.includes(line.deck)) return [];
    return bumpers
      .filter((end) => !known.has(`${track} ${end}`))
      .map((end) => ({ track, end, pose: end === "end" ? line.path.end : reversePose(line.path.start) }));
  });
  return [...free, ...others];
}

function endInHand({ at, step }: BumperState, input: ToolInput): TrackEnd | undefined {
  const ends = endsOf(input);
  if (step !== undefined) return ends[step % Math.max(ends.length, 1)];
  if (!at) return undefined;
  const near = ends.filter(({ pose }) => distance(pose, at) <= input.reach);
  return near.sort((a, b) => distance(a.pose, at) - distance(b.pose, at))[0];
}

const hasBumper = (plan: Plan, { track, end }: TrackEnd): boolean =>
  plan.tracks[track]?.bumpers?.includes(end) ?? false;

const editOf = ({ plan }: ToolInput, end: TrackEnd) => setBumper(plan, end.track, end.end, !hasBumper(plan, end));

function shown(state: BumperState, input: ToolInput): Outcome<BumperState> {
  const end = endInHand(state, input);
  return { state, effects: previewed(end && editOf(input, end)) };
}

function done(state: BumperState, input: ToolInput): Outcome<BumperState> {
  const end = endInHand(state, input);
  if (!end) return shown(state, input);
  // Not shown the other way round again while the pointer rests there.
  return committed(editOf(input, end), { ...state, at: undefined, pressed: false }, state, [
    { do: "select", selection: [{ kind: "record", collection: "tracks", id: end.track }] },
  ]);
}

export const bumperTool: Tool<BumperState> = {
  id: "bumper",
  stage: "lay",
  name: "Bumper",
  key: "u",
  begin: () => EMPTY,
  handle(state, event, input) {
    if (event.type === "cancel") return putAside(EMPTY);
    if (event.type === "choose") return { state };
    if (event.type === "key") {
      if (event.key === "Enter") return done(state, input);
      const way = event.key === "ArrowRight" || event.key === "ArrowDown" ? 1 : -1;
      if (!event.key.startsWith("Arrow")) return { state };
      const count = endsOf(input).length;
      const from = state.step ?? (way === 1 ? -1 : 0);
      return shown({ ...state, step: count === 0 ? undefined : (from + way + count) % count }, input);
    }
    const moved: BumperState = { at: { x: event.at.x, y: event.at.y }, step: undefined, pressed: state.pressed };
    if (event.type === "move") return shown(moved, input);
    if (event.type === "down") return shown({ ...moved, pressed: true }, input);
    return state.pressed ? done({ ...moved, pressed: false }, input) : shown(moved, input);
  },
  show(state, input) {
    const overlay: Overlay[] = [...endHandles(input)];
    const end = endInHand(state, input);
    if (end) {
      for (const points of bumperShape(end.pose, input.plan.scale.gauge))
        overlay.push({ kind: "line", points, style: "draft" });
      const text = hasBumper(input.plan, end) ? "take the bumper off" : "a bumper";
      overlay.push({ kind: "label", at: end.pose, text, style: "draft" });
    }
    return {
      overlay,
      hint: "Click an end of track to put a bumper on it, or to take it off. The arrow keys go from end to end, Enter does it.",
      cursor: "crosshair",
    };
  },
};
