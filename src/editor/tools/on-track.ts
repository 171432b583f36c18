/** Tools that do one thing to a track where it is clicked: part it, or turn it round. */
import { pick } from "../../drafting/pick.js";
import { poseAt } from "../../geometry/path.js";
import type { Point } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import { reverseTrack } from "../../layout/relay/reverse-track.js";
import { splitTrack } from "../../layout/relay/split-track.js";
import type { Edit } from "../../plan/edit.js";
import type { Id } from "../../plan/schema.js";
import type { Overlay, Tool, ToolInput } from "../tool.js";
import { toStep } from "./legs-toward.js";
import { committed, putAside } from "./outcomes.js";

export interface TrackSpot {
  readonly track: Id;
  readonly at: Millimetres;
  readonly point: Point;
}

/** The track under the pointer, and how far along. */
export function trackAt({ layout, deck, reach }: ToolInput, at: Point): TrackSpot | undefined {
  const hit = pick(layout, { point: { x: at.x, y: at.y }, reach, deck, only: ["tracks"] })[0];
  if (hit?.thing.kind !== "record" || hit.s === undefined) return undefined;
  return { track: hit.thing.id, at: hit.s, point: hit.point };
}

interface Deed {
  readonly id: string;
  readonly name: string;
  readonly key: string;
  readonly hint: string;
  edit(input: ToolInput, spot: TrackSpot): Edit;
  /** What is shown at the place. */
  mark(input: ToolInput, spot: TrackSpot): Overlay[];
}

interface DeedState {
  readonly spot: TrackSpot | undefined;
  readonly pressed: boolean;
}

const EMPTY: DeedState = { spot: undefined, pressed: false };

const deedTool = (deed: Deed): Tool<DeedState> => ({
  id: deed.id,
  stage: "lay",
  name: deed.name,
  key: deed.key,
  begin: () => EMPTY,
  handle(state, event, input) {
    if (event.type === "cancel") return putAside(EMPTY);
    if (event.type === "key" || event.type === "choose") return { state };
    const spot = trackAt(input, event.at);
    if (event.type !== "up") return { state: { spot, pressed: event.type === "down" || state.pressed } };
    if (!state.pressed || !spot) return { state: { spot, pressed: false } };
    return committed(deed.edit(input, spot), EMPTY, { spot, pressed: false });
  },
  show(state, input) {
    const { spot } = state;
    return {
      overlay: spot && input.layout.lines.has(`track:${spot.track}`) ? deed.mark(input, spot) : [],
      hint: deed.hint,
      cursor: "crosshair",
    };
  },
});

/** Whole steps along the track, so that the parts can be measured. */
const splitAt = ({ layout, units }: ToolInput, { track, at }: TrackSpot): Millimetres => {
  const length = layout.lines.get(`track:${track}`)?.path.length ?? 0;
  const step = toStep(at, units);
  return step > 0 && step < length ? step : at;
};

export const splitTool = deedTool({
  id: "split",
  name: "Split",
  key: "x",
  hint: "Click a track to part it there, on the straight or on an arc. Nothing moves.",
  edit: (input, spot) => {
    // Where a whole step falls into an easement the very place may still do.
    const neat = splitTrack(input.layout, spot.track, splitAt(input, spot));
    return neat.ok ? neat : splitTrack(input.layout, spot.track, spot.at);
  },
  mark: (input, spot) => [{ kind: "snap", at: spot.point, to: input.plan.tracks[spot.track]?.name ?? "part here" }],
});

export const reverseTool = deedTool({
  id: "reverse",
  name: "Turn round",
  key: "r",
  hint: "Click a track to run it the other way: it starts where it ended. Nothing moves.",
  edit: (input, spot) => reverseTrack(input.layout, spot.track),
  mark: (input, spot) => {
    const path = input.layout.lines.get(`track:${spot.track}`)?.path;
    return path
      ? [
          { kind: "path", path, style: "selected" },
          { kind: "handle", at: poseAt(path, 0), shape: "square", name: "start" },
          { kind: "handle", at: path.end, shape: "ring", name: "end" },
        ]
      : [];
  },
});
