/**
 * Corners: the walls that are there put right. Corners and walls are dragged; a wall that was clicked takes a new corner
 * or a notch (chimney breast or alcove) by typed numbers; a corner that was clicked is taken out. Doors, windows and
 * shelves keep their walls.
 */
import { squareCorner } from "../../drafting/square.js";
import { moveWall, notchWall, outlineTrouble, reshapeRoom } from "../../drafting/reshape-room.js";
import { nearestWall, placeOnWall, pointAtWall, wallOf } from "../../drafting/walls.js";
import { distance, localPoint, type Point } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import { done, type Edit, refused } from "../../plan/edit.js";
import { formatLength } from "../../plan/format-length.js";
import { insertRoomCorner, removeRoomCorner } from "../../plan/room-edits.js";
import type { Plan } from "../../plan/schema.js";
import type { Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import { committed, previewed, putAside, sentence } from "./outcomes.js";
import { entryOf, type Field, startTyping, typeKey, type Typing } from "./typing.js";

type Grip = { readonly corner: number } | { readonly wall: number; readonly at: Millimetres };
type NotchField = "depth" | "width" | "from";
interface Notch {
  readonly depth?: Millimetres;
  readonly width?: Millimetres;
  readonly from?: Millimetres;
}

export type CornersState =
  | { readonly at: "rest"; readonly over?: Grip }
  | {
      readonly at: "held";
      readonly grip: Grip;
      readonly from: Point;
      readonly screen: Point;
      readonly to?: Point;
      readonly typing: Typing<"by">;
    }
  | { readonly at: "chosen"; readonly grip: Grip }
  | {
      readonly at: "notch";
      readonly wall: number;
      readonly middle: Millimetres;
      readonly notch: Notch;
      readonly typing: Typing<NotchField>;
    };

const REST: CornersState = { at: "rest" };
/** A hand on a button trembles by less, px. */
const TREMBLE = 4;

const BY: readonly Field<"by">[] = [{ key: "by", label: "Move wall by", takes: "length", least: 0 }];
const NOTCH: readonly Field<NotchField>[] = [
  { key: "depth", label: "Depth into the room", takes: "length", least: Number.NEGATIVE_INFINITY },
  { key: "width", label: "Width", takes: "length" },
  { key: "from", label: "From the wall’s first corner", takes: "length", least: 0 },
];

export const cornersTool: Tool<CornersState> = {
  id: "corners",
  stage: "survey",
  name: "Corners",
  key: "c",
  begin: () => REST,

  handle(state, event, input): Outcome<CornersState> {
    if (event.type === "choose") return { state };
    if (event.type === "cancel")
      return state.at === "rest" ? putAside(REST) : { state: REST, effects: [{ do: "abandon" }] };
    if (event.type === "key") return keyed(state, event, input);
    if (event.type === "down") return pressed(state, event, input);
    if (event.type === "move") return moved(state, event, input);
    return released(state, input);
  },

  show(state, input) {
    const { outline } = input.plan.room;
    const overlay: Overlay[] = outline.map((at, i) => ({
      kind: "handle",
      at,
      shape: "square",
      name: `corner ${i + 1}`,
      hot: gripOf(state)?.kind === "corner" && gripOf(state)?.index === i,
    }));
    const grip = gripOf(state);
    const wall = grip?.kind === "wall" ? wallOf(outline, grip.index) : undefined;
    if (wall && grip && state.at !== "held") {
      overlay.push({ kind: "line", points: [wall.from, wall.to], style: state.at === "rest" ? "hover" : "selected" });
      const middle = { x: (wall.from.x + wall.to.x) / 2, y: (wall.from.y + wall.to.y) / 2 };
      overlay.push({ kind: "label", at: middle, text: formatLength(wall.length, input.units) });
    }
    if (state.at === "held" && state.to) {
      const edit = dragged(state, input);
      if (!edit.ok) overlay.push({ kind: "label", at: state.to, text: edit.message, style: "refused" });
      return {
        overlay,
        hint: holdHint(state),
        cursor: "move",
        ...("wall" in state.grip && { entry: entryOf(state.typing, BY) }),
      };
    }
    if (state.at === "notch") {
      const edit = notched(state, input.plan);
      const at = pointAtWall(input.plan.room, state.wall, state.middle, 0);
      if (edit && !edit.ok && at) overlay.push({ kind: "label", at, text: edit.message, style: "refused" });
      const value = state.notch[state.typing.field];
      return {
        overlay,
        hint: "Type the notch’s depth (less than nothing for an alcove), Tab, its width; Enter cuts it. Whether a wall carries load is for a licensed person to say.",
        entry: entryOf(state.typing, NOTCH, value === undefined ? "" : formatLength(value, input.units)),
      };
    }
    if (state.at === "chosen") {
      const hint =
        "corner" in state.grip
          ? "Delete takes the corner out. Backspace lets go."
          : "A adds a corner here, B builds a notch (chimney breast or alcove). Drag moves the wall. Backspace lets go.";
      return { overlay, hint, cursor: "default" };
    }
    return {
      overlay,
      hint: "Drag a corner or a wall; click one to add, notch or remove.",
      cursor: state.at === "rest" && state.over ? "move" : "default",
    };
  },
};

type Held = CornersState & { readonly at: "held" };

function gripOf(state: CornersState): { readonly kind: "corner" | "wall"; readonly index: number } | undefined {
  if (state.at === "notch") return { kind: "wall", index: state.wall };
  const grip = state.at === "rest" ? state.over : state.grip;
  if (!grip) return undefined;
  return "corner" in grip ? { kind: "corner", index: grip.corner } : { kind: "wall", index: grip.wall };
}

const holdHint = ({ grip }: Held): string =>
  "corner" in grip
    ? "Let go to set the corner; it is caught square to its neighbours (Alt frees it). Esc puts it back."
    : "Let go to set the wall, or type how far and press Enter. Esc puts it back.";

/** The corner under the hand, else the wall. */
function gripAt(point: Point, { plan, reach }: ToolInput): Grip | undefined {
  const { outline } = plan.room;
  let best: { corner: number; off: number } | undefined;
  for (const [corner, p] of outline.entries()) {
    const off = distance(p, point);
    if (off <= reach && (!best || off < best.off)) best = { corner, off };
  }
  if (best) return { corner: best.corner };
  const place = nearestWall(outline, point);
  return place && place.distance <= reach ? { wall: place.wall, at: place.at } : undefined;
}

type Hand = ToolEvent & { readonly type: "down" | "move" | "up" };

function pressed(state: CornersState, event: Hand, input: ToolInput): Outcome<CornersState> {
  const grip = gripAt(event.at, input);
  const putBack = state.at === "rest" ? {} : { effects: [{ do: "abandon" }] as const };
  if (!grip) return { state: REST, ...putBack };
  if (event.clicks > 1 && "wall" in grip) return insert(grip, input, state);
  return { state: { at: "held", grip, from: event.at, screen: event.screen, typing: startTyping("by") }, ...putBack };
}

function moved(state: CornersState, event: Hand, input: ToolInput): Outcome<CornersState> {
  if (state.at === "rest") {
    const over = event.touch ? undefined : gripAt(event.at, input);
    return { state: over ? { at: "rest", over } : REST };
  }
  if (state.at !== "held") return { state };
  if (!state.to && Math.hypot(event.screen.x - state.screen.x, event.screen.y - state.screen.y) <= TREMBLE)
    return { state };
  const next: Held = { ...state, to: event.alt ? event.at : drawn(state, event.at, input) };
  return { state: next, effects: previewed(dragged(next, input)) };
}

/** A dragged corner is caught square to the corners before and after it. */
function drawn({ grip }: Held, at: Point, { plan, reach }: ToolInput): Point {
  if (!("corner" in grip)) return at;
  const { outline } = plan.room;
  const n = outline.length;
  const neighbours = [outline[(grip.corner + n - 1) % n], outline[(grip.corner + 1) % n]].flatMap((p) => p ?? []);
  return squareCorner(at, neighbours, reach).point;
}

function dragged({ grip, from, to }: Held, { plan }: ToolInput): Edit {
  const { outline } = plan.room;
  if (!to) return done("Move corner", plan);
  if ("corner" in grip) {
    if (!outline[grip.corner]) return refused("that corner is gone");
    return reshapeRoom(plan, outline.with(grip.corner, { x: to.x, y: to.y }), "Move corner");
  }
  return moveWall(plan, grip.wall, leftOf(outline, grip.wall, to) - leftOf(outline, grip.wall, from));
}

function leftOf(outline: readonly Point[], wall: number, point: Point): Millimetres {
  const found = wallOf(outline, wall);
  return found ? localPoint({ ...found.from, heading: found.heading }, point).y : 0;
}

function released(state: CornersState, input: ToolInput): Outcome<CornersState> {
  if (state.at !== "held") return { state };
  if (!state.to) return { state: { at: "chosen", grip: state.grip } };
  return committed(dragged(state, input), REST, REST);
}

type KeyPress = ToolEvent & { readonly type: "key" };

function keyed(state: CornersState, event: KeyPress, input: ToolInput): Outcome<CornersState> {
  const { plan, units } = input;
  const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
  if (state.at === "chosen") {
    const { grip } = state;
    if (key === "Backspace") return { state: REST };
    if ("corner" in grip) {
      if (key !== "Delete") return { state };
      return committed(sound(removeRoomCorner(plan, grip.corner)), REST, state);
    }
    if (key === "a") return insert(grip, input, state);
    if (key === "b") {
      return { state: { at: "notch", wall: grip.wall, middle: grip.at, notch: {}, typing: startTyping("depth") } };
    }
    return { state };
  }
  if (state.at === "held" && "wall" in state.grip && state.to) {
    const typed = typeKey(state.typing, BY, event, units);
    if (!typed) return { state };
    const next = { ...state, typing: typed.typing };
    if (!typed.entered || !typed.set) return { state: next };
    const { outline } = plan.room;
    const toward = leftOf(outline, state.grip.wall, state.to) < leftOf(outline, state.grip.wall, state.from) ? -1 : 1;
    return committed(moveWall(plan, state.grip.wall, toward * typed.set.value), REST, next);
  }
  if (state.at === "notch") {
    const typed = typeKey(state.typing, NOTCH, event, units);
    if (!typed) return key === "Backspace" ? { state: REST, effects: [{ do: "abandon" }] } : { state };
    const notch = typed.set ? { ...state.notch, [typed.set.field]: typed.set.value } : state.notch;
    const next = { ...state, notch, typing: typed.typing };
    const edit = notched(next, plan);
    if (!typed.entered) return { state: next, effects: previewed(edit) };
    // Enter after the depth asks for the width.
    if (!edit) return { state: { ...next, typing: startTyping(notch.depth === undefined ? "depth" : "width") } };
    return committed(edit, REST, next);
  }
  return { state };
}

function insert(grip: Grip, { plan }: ToolInput, state: CornersState): Outcome<CornersState> {
  if (!("wall" in grip)) return { state };
  const at = pointAtWall(plan.room, grip.wall, grip.at, 0);
  if (!at) return { state: REST };
  return committed(
    sound(insertRoomCorner(plan, grip.wall, at)),
    { at: "chosen", grip: { corner: grip.wall + 1 } },
    state,
  );
}

function notched({ wall, middle, notch }: CornersState & { readonly at: "notch" }, plan: Plan): Edit | undefined {
  const { depth, width } = notch;
  const found = placeOnWall(plan.room.outline, wall, pointAtWall(plan.room, wall, middle, 0) ?? { x: 0, y: 0 });
  const length = wallOf(plan.room.outline, wall)?.length ?? 0;
  if (depth === undefined || width === undefined || !found) return undefined;
  // About the place that was clicked, as far as the wall goes.
  const from = notch.from ?? Math.min(Math.max(found.at - width / 2, 0), Math.max(length - width, 0));
  return notchWall(plan, wall, from, width, depth);
}

/** An edit of the walls refused where they would cross. */
function sound(edit: Edit): Edit {
  const trouble = edit.ok ? outlineTrouble(edit.plan.room.outline) : undefined;
  return trouble === undefined ? edit : refused(sentence(trouble));
}
