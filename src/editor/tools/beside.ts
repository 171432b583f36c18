/**
 * The beside tool: a track along another, at the pointer's side and distance (the class's track centres catch), from
 * where the button goes down to where it comes up, or from one click to the next. A typed number is the spacing.
 */
import { pick } from "../../drafting/pick.js";
import { centresBeside } from "../../drafting/snap-targets.js";
import { nearestOnPath } from "../../geometry/nearest.js";
import { distance, offsetPoint, type Point } from "../../geometry/pose.js";
import { poseAt } from "../../geometry/path.js";
import type { Millimetres } from "../../geometry/units.js";
import type { Line } from "../../layout/line.js";
import { formatLength } from "../../plan/format-length.js";
import type { Edit } from "../../plan/edit.js";
import { addTrack } from "../../plan/track-edits.js";
import type { Id, Side, Track, TrackClass } from "../../plan/schema.js";
import type { Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import { asClass, classChoice } from "./lay-show.js";
import { limits } from "./lay-start.js";
import { lengthStep, toStep } from "./legs-toward.js";
import { committed, newId, previewed, putAside } from "./outcomes.js";
import { entryOf, entryWhile, type Field, startTyping, typeKey, type Typing } from "./typing.js";

const FIELDS: readonly Field<"spacing">[] = [{ key: "spacing", label: "Track centres", takes: "length" }];

export interface BesideState {
  readonly class: TrackClass;
  readonly typing: Typing<"spacing">;
  /** Typed. */
  readonly spacing: Millimetres | undefined;
  readonly at: Point | undefined;
  /** Begun beside this track, at this distance along it. */
  readonly from: { readonly track: Id; readonly at: Millimetres } | undefined;
  readonly pressed: Point | undefined;
}

const begun = (trackClass: TrackClass): BesideState => ({
  class: trackClass,
  typing: startTyping("spacing"),
  spacing: undefined,
  at: undefined,
  from: undefined,
  pressed: undefined,
});

/** The track looked for beside the pointer is at most so many track centres away. */
const FARTHEST_CENTRES = 3;

export const besideTool: Tool<BesideState> = {
  id: "beside",
  stage: "lay",
  name: "Beside",
  key: "b",
  begin: () => begun("siding"),
  handle(state, event, input) {
    if (event.type === "cancel") {
      return state.from ? { state: begun(state.class), effects: [{ do: "abandon" }] } : putAside(begun(state.class));
    }
    if (event.type === "choose") {
      return shown({ ...state, class: (event.choice === "class" && asClass(event.value)) || state.class }, input);
    }
    if (event.type === "key") return keyed(state, event, input);
    const at = { x: event.at.x, y: event.at.y };
    const moved = { ...state, at };
    if (event.type === "move") return shown(moved, input);
    if (event.type === "down") {
      if (state.from) return shown({ ...moved, pressed: at }, input);
      const host = hostNear(moved, input);
      if (!host) return { state: moved };
      return shown({ ...moved, pressed: at, from: { track: host.id, at: stationOn(host, at, input) } }, input);
    }
    const { pressed } = state;
    const released = { ...moved, pressed: undefined };
    if (!pressed || !state.from) return shown(released, input);
    const host = input.layout.lines.get(`track:${state.from.track}`);
    // Let go where it was pressed: that was the first click, and the next one ends the track.
    const pulled = distance(pressed, at) > input.reach;
    const first = host && Math.abs(stationOn(host, pressed, input) - state.from.at) < lengthStep(input.units);
    if (!pulled && first) return shown(released, input);
    const edit = besideEdit(released, input);
    return edit ? committed(edit, begun(state.class), released, selectNew(input, state.class)) : shown(released, input);
  },
  show(state, input) {
    const overlay: Overlay[] = [];
    const wishes = wishesOf(state, input);
    if (wishes && state.at) {
      const { host, at, side, spacing } = wishes;
      const pose = poseAt(host.path, at);
      const there = offsetPoint(pose, 0, side === "left" ? spacing : -spacing);
      overlay.push({ kind: "line", points: [pose, there], style: "guide" });
      overlay.push({ kind: "label", at: there, text: formatLength(spacing, input.units), style: "draft" });
    }
    const hint = state.from
      ? "Click or let go where it ends, Enter for the whole length. Type the track centres. Esc gives up."
      : "Press beside a track and pull along it, or click where the new track begins and where it ends.";
    const value = state.spacing === undefined ? "" : formatLength(state.spacing, input.units);
    return {
      overlay,
      hint,
      ...entryWhile(state.from !== undefined, entryOf(state.typing, FIELDS, value)),
      choices: [classChoice(state.class)],
      cursor: "crosshair",
    };
  },
};

const selectNew = (input: ToolInput, trackClass: TrackClass) => {
  const id = newId(input.plan, trackClass);
  return [{ do: "select", selection: [{ kind: "record", collection: "tracks", id }] }] as const;
};

function hostNear({ at, class: trackClass }: BesideState, { layout, plan, deck, reach }: ToolInput): Line | undefined {
  if (!at) return undefined;
  const wide = FARTHEST_CENTRES * limits(plan, trackClass).centres.value;
  const hit = pick(layout, { point: at, reach: Math.max(reach, wide), deck, only: ["tracks"] })[0];
  return hit?.thing.kind === "record" ? layout.lines.get(`track:${hit.thing.id}`) : undefined;
}

/** Distance along a track, in whole steps but for its ends. */
function stationOn(host: Line, point: Point, { units, reach }: ToolInput): Millimetres {
  const { s } = nearestOnPath(host.path, point);
  const { length } = host.path;
  if (s <= reach) return 0;
  return s >= length - reach ? length : Math.min(length, toStep(s, units));
}

interface Wishes {
  readonly host: Line;
  readonly at: Millimetres;
  readonly side: Side;
  readonly spacing: Millimetres;
}

function wishesOf(state: BesideState, input: ToolInput): Wishes | undefined {
  const { at, from } = state;
  const host = from ? input.layout.lines.get(`track:${from.track}`) : hostNear(state, input);
  if (!host || !at) return undefined;
  const near = nearestOnPath(host.path, at);
  const straight = straightCentres(input, host, state.class);
  const apart = near.distance;
  // Track centres catch from twice the reach: they are what is nearly always meant.
  const caught = Math.abs(apart - straight) <= 2 * input.reach || apart <= input.reach;
  const spacing = state.spacing ?? (caught ? straight : Math.max(lengthStep(input.units), toStep(apart, input.units)));
  return { host, at: stationOn(host, at, input), side: near.left >= 0 ? "left" : "right", spacing };
}

/** Spacing is told on straight track; the curves follow it. */
const straightCentres = ({ plan }: ToolInput, host: Line, trackClass: TrackClass): Millimetres =>
  Math.max(limits(plan, host.class).centres.value, limits(plan, trackClass).centres.value);

function besideEdit(state: BesideState, input: ToolInput, whole = false): Edit | undefined {
  const { from } = state;
  const wishes = wishesOf(state, input);
  if (!from || !wishes) return undefined;
  const { host, side, spacing } = wishes;
  const [begin, end] = whole ? [0, host.path.length] : [from.at, wishes.at];
  if (begin === end) return undefined;
  const curve =
    widest(input, host, Math.min(begin, end), Math.max(begin, end), state.class) -
    straightCentres(input, host, state.class);
  const track: Track = {
    class: state.class,
    deck: host.deck,
    start: { beside: { track: host.id, at: begin, side, spacing, ...(begin > end && { against: true }) } },
    legs: [
      {
        beside: {
          track: host.id,
          from: begin,
          to: end,
          side,
          spacing,
          ...(curve > 0 && { curveSpacing: spacing + curve }),
        },
      },
    ],
  };
  return addTrack(input.plan, newId(input.plan, state.class), track);
}

/** Track centres in the sharpest curve of a stretch, where cars reach out the most. */
function widest(
  { plan }: ToolInput,
  host: Line,
  from: Millimetres,
  to: Millimetres,
  trackClass: TrackClass,
): Millimetres {
  let most = 0;
  host.path.segments.forEach((g, i) => {
    const begin = host.path.stations[i] ?? 0;
    if (begin + g.length <= from || begin >= to) return;
    for (const s of [begin, begin + g.length / 2]) most = Math.max(most, centresBeside(plan, host, s, trackClass));
  });
  return most;
}

const shown = (state: BesideState, input: ToolInput): Outcome<BesideState> => ({
  state,
  effects: previewed(besideEdit(state, input)),
});

function keyed(state: BesideState, event: ToolEvent & { type: "key" }, input: ToolInput): Outcome<BesideState> {
  const typed = typeKey(state.typing, FIELDS, event, input.units);
  if (!typed) return { state };
  const { set, typing, entered } = typed;
  const next = { ...state, typing, spacing: set ? set.value : state.spacing };
  if (!entered || set || !state.from) return shown(next, input);
  const edit = besideEdit(next, input, true);
  return edit ? committed(edit, begun(state.class), next, selectNew(input, state.class)) : { state: next };
}
