/**
 * A handle of the chosen track in the hand: dragging shows what would be, letting go makes it one step, Esc leaves no
 * trace, and a number typed meanwhile is kept exactly. Part of the arrow.
 */
import { snap } from "../../drafting/snap.js";
import { sheetLength } from "../../drafting/viewport.js";
import { distance, type Point } from "../../geometry/pose.js";
import { dragHandle, type Handle, handlesOf, type Neat, setHandle } from "../../layout/relay/handles.js";
import { turnoutFit } from "../../layout/relay/turnout-fit.js";
import { amend, type Edit, putRecord, recordAt, refused } from "../../plan/edit.js";
import { formatLength } from "../../plan/format-length.js";
import { formatAngle } from "../../plan/grade-text.js";
import { setTrack } from "../../plan/track-edits.js";
import { movePin } from "../../plan/turnout-edits.js";
import type { Effect, Overlay, ToolEvent, ToolInput, ToolShow } from "../tool.js";
import { toStep } from "./legs-toward.js";
import { previewed, sentence } from "./outcomes.js";
import { slidePin } from "./pin.js";
import { slideEdit } from "./turnout.js";
import { entryOf, type Field, startTyping, typeKey, type Typing } from "./typing.js";

export interface HandleDrag {
  readonly handle: Handle;
  readonly from: Point;
  readonly to: Point;
  /** Alt: nothing catches and nothing is rounded. */
  readonly free: boolean;
  readonly typing: Typing<"value">;
  /** What it does to the plan; undefined while the hand only trembles. */
  readonly edit: Edit | undefined;
}

type Held = Omit<HandleDrag, "edit">;

type PointerEvent = Extract<ToolEvent, { readonly at: Point }>;

export interface DragOutcome {
  /** Undefined when the hand has let go. */
  readonly drag: HandleDrag | undefined;
  readonly effects: readonly Effect[];
}

/** The arm of the direction, px. */
const ARM = 36;
/** Angles come out in halves of a degree unless Alt is held. */
const ANGLE_STEP = 0.5;

/** Handles of the one track that is chosen. */
export function handlesInReach(input: ToolInput, layout = input.layout): readonly Handle[] {
  const only = input.selection.length === 1 ? input.selection[0] : undefined;
  if (only?.kind !== "record" || only.collection !== "tracks") return [];
  return handlesOf(layout, only.id, { arm: sheetLength(input.viewport, ARM) });
}

export function grabHandle(input: ToolInput, point: Point): HandleDrag | undefined {
  let best = input.reach;
  let found: Handle | undefined;
  for (const handle of handlesInReach(input)) {
    const apart = distance(handle.at, point);
    // Of handles in one place the last is meant: pins and turnouts lie over legs.
    if (apart > best) continue;
    best = apart;
    found = handle;
  }
  return found && { handle: found, from: point, to: point, free: false, typing: startTyping("value"), edit: undefined };
}

export function moveHandle(drag: HandleDrag, event: PointerEvent, input: ToolInput): DragOutcome {
  const next = { ...drag, to: { x: event.at.x, y: event.at.y }, free: event.alt };
  const edit = editOf(next, input);
  return { drag: { ...next, edit }, effects: previewed(edit) };
}

export function letGo(drag: HandleDrag, event: PointerEvent, input: ToolInput): DragOutcome {
  const edit = editOf({ ...drag, to: { x: event.at.x, y: event.at.y }, free: event.alt }, input);
  return { drag: undefined, effects: edit ? finish(edit) : [{ do: "abandon" }, ...clicked(drag.handle)] };
}

/** A click on what lies on the track chooses it. */
function clicked({ kind, id }: Handle): readonly Effect[] {
  if (id === undefined) return [];
  const collection = kind === "pin" ? "pins" : "turnouts";
  return [{ do: "select", selection: [{ kind: "record", collection, id }] }];
}

export function typeOverHandle(
  drag: HandleDrag,
  event: ToolEvent & { readonly type: "key" },
  input: ToolInput,
): DragOutcome {
  const typed = typeKey(drag.typing, fieldsOf(drag.handle), event, input.units);
  if (!typed) return { drag, effects: [] };
  if (!typed.set) return { drag: { ...drag, typing: typed.typing }, effects: [] };
  return { drag: undefined, effects: finish(typedEdit(drag.handle, typed.set.value, input)) };
}

const finish = (edit: Edit): readonly Effect[] =>
  edit.ok ? [{ do: "commit", edit }] : [{ do: "abandon" }, { do: "say", text: sentence(edit.message) }];

const fieldsOf = ({ name, takes }: Handle): readonly Field<"value">[] =>
  takes === undefined
    ? []
    : [
        {
          key: "value",
          label: `${name.charAt(0).toUpperCase()}${name.slice(1)}`,
          takes,
          least: takes === "angle" ? -36_000 : 0,
        },
      ];

/** Undefined while the hand only trembles. */
function editOf({ handle, from, to, free }: Held, input: ToolInput): Edit | undefined {
  if (distance(from, to) <= (free ? 0 : sheetLength(input.viewport, TREMBLE))) return undefined;
  if (handle.kind === "turnout" && handle.id !== undefined) return slideEdit(input, handle.id, to);
  if (handle.kind === "pin" && handle.id !== undefined) return slidePin(input, handle.id, to);
  const neat: Neat = free
    ? { length: (mm) => mm, angle: (degrees) => degrees }
    : {
        length: (mm) => toStep(mm, input.units),
        angle: (degrees) =>
          Math.max(ANGLE_STEP, Math.round(Math.abs(degrees) / ANGLE_STEP) * ANGLE_STEP) * Math.sign(degrees || 1),
      };
  const placed = handle.kind === "start" || handle.kind === "toward" || (handle.kind === "flex" && handle.point === 2);
  if (!placed || free) return dragHandle(input.layout, handle, to, neat);
  const except = new Set([handle.track]);
  const caught = snap(input.layout, to, { reach: input.reach, deck: input.deck, except });
  if (caught.kind === "free") return dragHandle(input.layout, handle, to, neat);
  // The start laid on a free end goes on from it.
  const ends = handle.kind === "start" && (caught.kind === "end" || caught.kind === "turnout");
  if (ends && caught.anchor) return setTrack(input.plan, handle.track, { start: caught.anchor });
  return dragHandle(input.layout, handle, caught.point, { ...neat, length: (mm) => mm });
}

/** A hand on a button trembles by less, px. */
const TREMBLE = 3;

function typedEdit(handle: Handle, value: number, { plan, layout }: ToolInput): Edit {
  if (handle.kind === "pin") return movePin(plan, handle.id ?? "", value);
  if (handle.kind !== "turnout") return setHandle(layout, handle, value);
  const id = handle.id ?? "";
  const turnout = recordAt(plan, "turnouts", id);
  if (!turnout) return refused("there is no such turnout");
  const fit = turnoutFit(layout, amend(turnout, { at: value }), id, 0);
  return fit.ok ? putRecord(plan, "turnouts", id, fit.turnout, "Move turnout") : refused(fit.why);
}

export function handleOverlay(input: ToolInput, hot?: Handle): Overlay[] {
  return handlesInReach(input, input.shown).map((handle) => ({
    kind: "handle",
    at: handle.at,
    shape: ROUND.has(handle.kind) ? "ring" : "square",
    name: handle.name,
    ...(hot && sameHandle(hot, handle) && { hot: true }),
  }));
}

const ROUND: ReadonlySet<Handle["kind"]> = new Set(["heading", "radius", "angle", "pin"]);
const sameHandle = (a: Handle, b: Handle): boolean =>
  a.kind === b.kind && a.track === b.track && a.leg === b.leg && a.point === b.point && a.id === b.id;

export function dragShow(drag: HandleDrag, input: ToolInput): ToolShow {
  const { handle, to, typing, edit } = drag;
  const overlay = handleOverlay(input, handle);
  if (edit && !edit.ok) overlay.push({ kind: "label", at: to, text: sentence(edit.message), style: "refused" });
  const fields = fieldsOf(handle);
  const { value } = handle;
  const was =
    value === undefined ? "" : handle.takes === "angle" ? formatAngle(value) : formatLength(value, input.units);
  return {
    overlay,
    hint: `${sentence(handle.name)} Let go to set it, Alt for no catching${fields.length > 0 ? ", or type it and Enter" : ""}. Esc leaves it as it was.`,
    ...(fields.length > 0 && { entry: entryOf(typing, fields, was) }),
    cursor: "grab",
  };
}
