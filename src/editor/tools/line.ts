/**
 * The line tool: track drawn leg by leg toward the pointer. It begins on paper, at an end, beside a track or on one
 * (where it puts a turnout); every click lays an eased curve and a straight; an end closes it.
 *
 * Always holds: nothing is committed before the end, which is one step of undo; Esc leaves no trace.
 */
import type { Snapped } from "../../drafting/snap.js";
import { snap } from "../../drafting/snap.js";
import { distance, type Point } from "../../geometry/pose.js";
import type { Leg, TrackClass } from "../../plan/schema.js";
import type { Effect, Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import {
  asClass,
  asFrog,
  caughtMark,
  classChoice,
  draftPath,
  endHandles,
  frogChoice,
  legFigures,
  refusedLine,
  USUAL_FROG,
} from "./lay-show.js";
import { caughtForStart, idOfNew, startFrom, startFromSelection } from "./lay-start.js";
import { draftLine, lineEdit, type LineDrawing, roundedPoint } from "./line-draft.js";
import { committed, previewed, putAside } from "./outcomes.js";
import { entryOf, type Field, startTyping, typeKey, type Typing } from "./typing.js";

type FieldKey = "length" | "radius" | "angle";
const FIELDS: readonly Field<FieldKey>[] = [
  { key: "length", label: "Length", takes: "length", least: 0 },
  { key: "radius", label: "Radius", takes: "length" },
  { key: "angle", label: "Angle", takes: "angle" },
];

export interface LineState {
  readonly class: TrackClass;
  readonly frog: number;
  readonly typing: Typing<FieldKey>;
  /** Caught before anything is begun. */
  readonly caught: Snapped | undefined;
  readonly drawing: LineDrawing | undefined;
  /** Where the button went down, and whether that press began the line. */
  readonly pressed: { readonly at: Point; readonly began: boolean } | undefined;
}

const rest = (trackClass: TrackClass, frog: number): LineState => ({
  class: trackClass,
  frog,
  typing: startTyping("length"),
  caught: undefined,
  drawing: undefined,
  pressed: undefined,
});

export const lineTool: Tool<LineState> = {
  id: "line",
  stage: "lay",
  name: "Line",
  key: "l",
  begin(input) {
    const state = rest("main", USUAL_FROG);
    const only = input.selection.length === 1 ? input.selection[0] : undefined;
    // Track goes on from a turnout or turntable that is chosen; a chosen track may be chosen for anything.
    if (only?.kind !== "record" || (only.collection !== "turnouts" && only.collection !== "turntables")) return state;
    const start = startFromSelection(input);
    const host = input.plan[only.collection][only.id]?.on ?? "";
    const trackClass = input.plan.tracks[host]?.class ?? "main";
    return start ? { ...state, class: trackClass, drawing: begun(trackClass, USUAL_FROG, start) } : state;
  },

  handle(state, event, input) {
    if (event.type === "cancel") return state.drawing ? stopped(state) : putAside(rest(state.class, state.frog));
    if (event.type === "choose") return chosen(state, event, input);
    if (event.type === "key") return keyed(state, event, input);
    const at = { x: event.at.x, y: event.at.y };
    if (!state.drawing) {
      if (event.type === "up") return { state: { ...state, pressed: undefined } };
      const caught = caughtForStart(input, at, state.class);
      if (event.type === "move") return { state: { ...state, caught } };
      const start = startFrom(caught) ?? { kind: "paper" as const, at: roundedPoint(input, caught.point) };
      const drawing = begun(state.class, state.frog, start);
      return { state: { ...state, caught, drawing, pressed: { at, began: true } } };
    }
    const moved = {
      ...state,
      drawing: { ...state.drawing, caught: caughtOnTheWay(state, at, input), steps: event.shift },
    };
    if (event.type === "down") return shown({ ...moved, pressed: { at, began: false } }, input);
    if (event.type === "move") return shown(moved, input);
    const { pressed } = state;
    const released = { ...moved, pressed: undefined };
    if (!pressed) return shown(released, input);
    // A press that begins the line and lets go where it was only begins it; pulled along, it lays the first legs.
    if (pressed.began && distance(pressed.at, at) <= input.reach) return shown(released, input);
    if (event.clicks >= 2 && state.drawing.groups.length > 0) return finished(released, input);
    return laid(released, input);
  },

  show(state, input) {
    const choices = [classChoice(state.class), frogChoice(state.frog)];
    if (!state.drawing) {
      return {
        overlay: [...endHandles(input), ...caughtMark(state.caught)],
        hint: "Click where the track begins: on the sheet, at an end, or on a track for a turnout. Esc puts the tool aside.",
        choices,
        cursor: "crosshair",
      };
    }
    const { drawing, typing } = state;
    const draft = draftLine(input, drawing);
    const overlay: Overlay[] = [];
    if (draft.laid) overlay.push(...draftPath(draft.laid));
    if (draft.ahead) overlay.push(...draftPath(draft.ahead));
    if (draft.head && draft.why === undefined) {
      overlay.push(...legFigures(draft.head, draft.pending, draft.easement, input.units));
    }
    const from = draft.head ?? drawing.caught?.point;
    if (draft.why !== undefined && from && drawing.caught)
      overlay.push(...refusedLine(from, drawing.caught.point, draft.why));
    else if (draft.note !== undefined && drawing.caught) {
      overlay.push({ kind: "label", at: drawing.caught.point, text: draft.note, style: "refused" });
    }
    overlay.push(...caughtMark(drawing.caught));
    return {
      overlay,
      hint: "Click lays, Enter or a double click ends. Type a length, Tab for radius and angle, Backspace takes a leg back, Esc gives up.",
      entry: entryOf(typing, FIELDS),
      choices,
      cursor: draft.why === undefined ? "crosshair" : "not-allowed",
    };
  },
};

const begun = (trackClass: TrackClass, frog: number, start: LineDrawing["start"]): LineDrawing => ({
  class: trackClass,
  frog,
  start,
  groups: [],
  caught: undefined,
  steps: false,
  given: {},
  radius: undefined,
});

const stopped = (state: LineState): Outcome<LineState> => ({
  state: rest(state.class, state.frog),
  effects: [{ do: "abandon" }],
});

function caughtOnTheWay(state: LineState, at: Point, input: ToolInput): Snapped {
  const drawing = state.drawing;
  const kinds = ["end", "turnout", "parallel", "bench-edge", "bench-corner"] as const;
  const wishes = { reach: input.reach, deck: input.deck, class: state.class, kinds };
  const caught = snap(input.layout, at, wishes);
  // The track that is begun catches nothing of itself while it has no legs.
  if (drawing?.start.kind === "on-track" && caught.kind === "parallel" && drawing.groups.length === 0) {
    return { point: at, kind: "free", word: "" };
  }
  return caught;
}

/** The drawing as the pointer has it, previewed. */
function shown(state: LineState, input: ToolInput): Outcome<LineState> {
  const { drawing } = state;
  if (!drawing) return { state, effects: [{ do: "abandon" }] };
  const draft = draftLine(input, drawing);
  return { state, effects: previewed(lineEdit(draft, drawing.groups, draft.why === undefined)) };
}

/** The pending legs are laid; where they close on an end, the line is done. */
function laid(state: LineState, input: ToolInput): Outcome<LineState> {
  const { drawing } = state;
  if (!drawing) return { state };
  const draft = draftLine(input, drawing);
  if (draft.why !== undefined) {
    const effects: Effect[] = [...previewed(lineEdit(draft, drawing.groups, false)), { do: "say", text: draft.why }];
    return { state, effects };
  }
  if (draft.pending.length === 0) return shown(state, input);
  const groups: readonly (readonly Leg[])[] = [...drawing.groups, draft.pending];
  // The first leg settles where the line begins, which way it leaves, and to which side.
  const start = drawing.groups.length === 0 && draft.base ? settledStart(drawing, draft.base) : drawing.start;
  const next = {
    ...state,
    typing: startTyping("length" as FieldKey),
    drawing: { ...drawing, start, groups, given: {} },
  };
  return draft.closes ? finished(next, input, draft) : shown(next, input);
}

type Draft = ReturnType<typeof draftLine>;

function settledStart(drawing: LineDrawing, base: NonNullable<Draft["base"]>): LineDrawing["start"] {
  return drawing.start.kind === "paper" ? { kind: "pose", pose: base.pose } : { kind: "settled", base };
}

function finished(state: LineState, input: ToolInput, draft?: Draft): Outcome<LineState> {
  const { drawing } = state;
  const after = rest(state.class, state.frog);
  if (!drawing || drawing.groups.length === 0) return stopped(state);
  const made = draft ?? draftLine(input, { ...drawing, caught: undefined, given: {} });
  const edit = lineEdit(made, drawing.groups, false);
  if (!edit || !made.base) return stopped(state);
  const id = idOfNew(made.base);
  return committed(edit, after, state, [{ do: "select", selection: [{ kind: "record", collection: "tracks", id }] }]);
}

function chosen(state: LineState, event: ToolEvent & { type: "choose" }, input: ToolInput): Outcome<LineState> {
  const trackClass = event.choice === "class" ? asClass(event.value) : undefined;
  const frog = event.choice === "frog" ? asFrog(event.value) : undefined;
  const next = { ...state, class: trackClass ?? state.class, frog: frog ?? state.frog };
  if (!state.drawing) return { state: next };
  return shown({ ...next, drawing: { ...state.drawing, class: next.class, frog: next.frog } }, input);
}

function keyed(state: LineState, event: ToolEvent & { type: "key" }, input: ToolInput): Outcome<LineState> {
  const { drawing } = state;
  if (!drawing) return { state };
  const typed = typeKey(state.typing, FIELDS, event, input.units);
  if (!typed) {
    if (event.key !== "Backspace") return { state };
    if (drawing.groups.length === 0) return stopped(state);
    return shown({ ...state, drawing: { ...drawing, groups: drawing.groups.slice(0, -1) } }, input);
  }
  const { set, typing } = typed;
  const wasTyped = state.typing.text !== "";
  if (!set) {
    if (!typed.entered) return { state: { ...state, typing } };
    const waiting = drawing.given.angle !== undefined || drawing.given.length !== undefined;
    return waiting ? laid({ ...state, typing }, input) : finished({ ...state, typing }, input);
  }
  const given = { ...drawing.given, ...(set.field !== "radius" && { [set.field]: set.value }) };
  const radius = set.field === "radius" ? set.value : drawing.radius;
  const next = { ...state, typing, drawing: { ...drawing, given, radius } };
  // A length says how far: with it typed and entered, the legs are as good as clicked.
  return typed.entered && wasTyped && set.field === "length" ? laid(next, input) : shown(next, input);
}
