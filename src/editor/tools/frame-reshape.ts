/**
 * Reshape: benches, gates, backdrops and labels that are there, taken by their corners, edges, ends and depth, or as a
 * whole; a depth or radius can be typed while it is held.
 */
import { type Benchwork, type BenchHandle, dragTo, handlesOf, moveBenchwork } from "../../drafting/bench-handles.js";
import { pick } from "../../drafting/pick.js";
import { snap } from "../../drafting/snap.js";
import { squareCorner } from "../../drafting/square.js";
import { sheetLength } from "../../drafting/viewport.js";
import { distance, type Point } from "../../geometry/pose.js";
import { done, type Edit, removeRecord, refused } from "../../plan/edit.js";
import { formatLength } from "../../plan/format-length.js";
import type { Id } from "../../plan/schema.js";
import type { Outcome, Overlay, Selected, Tool, ToolEvent, ToolInput } from "../tool.js";
import { committed, previewed, putAside } from "./outcomes.js";
import { entryOf, type Field, startTyping, typeKey, type Typing } from "./typing.js";

interface Thing {
  readonly collection: Benchwork;
  readonly id: Id;
}

export type ReshapeState =
  | { readonly at: "rest"; readonly over?: string }
  | {
      readonly at: "held";
      readonly thing: Thing;
      /** Undefined: the whole. */
      readonly handle?: string;
      readonly from: Point;
      readonly screen: Point;
      readonly to?: Point;
      readonly typing: Typing<"measure">;
    };
type Held = ReshapeState & { readonly at: "held" };

const REST: ReshapeState = { at: "rest" };
const KINDS = ["labels", "gates", "backdrops", "benches"] as const;
/** A hand on a button trembles by less, px. */
const TREMBLE = 4;

export const reshapeTool: Tool<ReshapeState> = {
  id: "reshape",
  stage: "frame",
  name: "Reshape",
  key: "e",
  begin: () => REST,

  handle(state, event, input): Outcome<ReshapeState> {
    if (event.type === "choose") return { state };
    if (event.type === "cancel") {
      return state.at === "held" ? { state: REST, effects: [{ do: "abandon" }] } : putAside(REST);
    }
    if (event.type === "key") return keyed(state, event, input);
    if (event.type === "down") return pressed(event, input);
    if (event.type === "move") return moved(state, event, input);
    return released(state, input);
  },

  show(state, input) {
    const thing = state.at === "held" ? state.thing : chosen(input);
    const hot = state.at === "held" ? state.handle : state.over;
    const overlay: Overlay[] =
      state.at === "held" && state.to
        ? []
        : (thing ? handlesOf(input.layout, thing.collection, thing.id) : []).map(({ at, name, shape, key }) => ({
            kind: "handle",
            at,
            shape,
            name,
            hot: key === hot,
          }));
    if (state.at === "held" && state.to) {
      const edit = edited(state, input);
      if (!edit.ok) overlay.push({ kind: "label", at: state.to, text: edit.message, style: "refused" });
      const handle = handleOf(state, input);
      const hint = "Let go to set it (Alt frees it from what catches). Esc puts it back.";
      if (!handle?.typed) return { overlay, hint, cursor: "move" };
      const entry = entryOf(state.typing, fieldOf(handle), formatLength(handle.typed.value, input.units));
      return { overlay, hint: `Let go to set it, or type its ${handle.name} and press Enter.`, entry, cursor: "move" };
    }
    const hint = thing
      ? "Drag a corner, an edge, an end, or the whole; Delete takes it out. Click another to change that."
      : "Click a bench, gate, backdrop or label to change it.";
    return { overlay, hint, cursor: state.at === "rest" && state.over !== undefined ? "grab" : "default" };
  },
};

const isBenchwork = (collection: string): collection is Benchwork =>
  collection === "benches" || collection === "gates" || collection === "backdrops" || collection === "labels";

const thingOf = (selected: Selected | undefined): Thing | undefined =>
  selected?.kind === "record" && isBenchwork(selected.collection)
    ? { collection: selected.collection, id: selected.id }
    : undefined;

const chosen = ({ selection }: ToolInput): Thing | undefined =>
  thingOf(selection.length === 1 ? selection[0] : undefined);

function handleAt(thing: Thing, point: Point, { layout, reach }: ToolInput): BenchHandle | undefined {
  let best: BenchHandle | undefined;
  for (const handle of handlesOf(layout, thing.collection, thing.id)) {
    const off = distance(handle.at, point);
    if (off <= reach && (!best || off < distance(best.at, point))) best = handle;
  }
  return best;
}

const handleOf = ({ thing, handle }: Held, { layout }: ToolInput): BenchHandle | undefined =>
  handle === undefined ? undefined : handlesOf(layout, thing.collection, thing.id).find(({ key }) => key === handle);

type Hand = ToolEvent & { readonly type: "down" | "move" | "up" };

function pressed(event: Hand, input: ToolInput): Outcome<ReshapeState> {
  const held = { at: "held", from: event.at, screen: event.screen, typing: startTyping("measure") } as const;
  const mine = chosen(input);
  const handle = mine && handleAt(mine, event.at, input);
  if (mine && handle) return { state: { ...held, thing: mine, handle: handle.key }, effects: [{ do: "abandon" }] };
  const { layout, deck, reach, viewport } = input;
  const hit = pick(layout, { point: event.at, deck, reach, only: KINDS, px: sheetLength(viewport, 1) })[0];
  const thing = thingOf(hit?.thing);
  if (!hit || !thing) return { state: REST, effects: [{ do: "abandon" }, { do: "select", selection: [] }] };
  return { state: { ...held, thing }, effects: [{ do: "abandon" }, { do: "select", selection: [hit.thing] }] };
}

function moved(state: ReshapeState, event: Hand, input: ToolInput): Outcome<ReshapeState> {
  if (state.at === "rest") {
    const thing = chosen(input);
    const over = thing && !event.touch ? handleAt(thing, event.at, input)?.key : undefined;
    return { state: over === undefined ? REST : { at: "rest", over } };
  }
  const far = Math.hypot(event.screen.x - state.screen.x, event.screen.y - state.screen.y) > TREMBLE;
  if (!state.to && !far) return { state };
  const next: Held = { ...state, to: event.alt ? event.at : caught(state, event.at, input) };
  return { state: next, effects: previewed(edited(next, input)) };
}

/** Corners are caught by walls, and square to the corners beside them. */
function caught(state: Held, at: Point, input: ToolInput): Point {
  const handle = handleOf(state, input);
  if (!handle || handle.square.length === 0) return at;
  const { layout, reach, deck } = input;
  const found = snap(layout, { x: at.x, y: at.y }, { reach, deck, kinds: ["wall-corner"] });
  return found.kind === "free" ? squareCorner(at, handle.square, reach).point : found.point;
}

function edited(state: Held, input: ToolInput): Edit {
  const { thing, from, to } = state;
  if (!to) return done("Change bench", input.plan);
  if (state.handle === undefined) return moveBenchwork(input.layout, thing.collection, thing.id, from, to);
  const handle = handleOf(state, input);
  if (!handle) return refused("it is no longer there");
  return handle.move(handle.shape === "ring" ? dragTo(handle, from, to) : { x: to.x, y: to.y });
}

function released(state: ReshapeState, input: ToolInput): Outcome<ReshapeState> {
  if (state.at !== "held") return { state };
  return state.to ? committed(edited(state, input), REST, REST) : { state: REST };
}

const fieldOf = (handle: BenchHandle | undefined): readonly Field<"measure">[] => [
  { key: "measure", label: handle?.typed?.label ?? "", takes: "length" },
];

function keyed(
  state: ReshapeState,
  event: ToolEvent & { readonly type: "key" },
  input: ToolInput,
): Outcome<ReshapeState> {
  if (state.at === "held") {
    const handle = handleOf(state, input);
    if (!handle?.typed || !state.to) return { state };
    const typed = typeKey(state.typing, fieldOf(handle), event, input.units);
    if (!typed) return { state };
    const next: Held = { ...state, typing: typed.typing };
    return typed.entered && typed.set ? committed(handle.typed.set(typed.set.value), REST, next) : { state: next };
  }
  const thing = chosen(input);
  if (event.key === "Delete" && thing) return committed(removeRecord(input.plan, thing), REST, REST);
  if (event.key === "Backspace" && thing) return { state: REST, effects: [{ do: "select", selection: [] }] };
  return { state };
}
