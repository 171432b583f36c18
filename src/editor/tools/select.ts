/**
 * The arrow: points at things, chooses one by a click, more with Shift, many by a box. Alt goes on to what lies under
 * what is chosen. Handles of a chosen track are dragged, and keys do things with what is chosen.
 */
import { type Hit, pick, within } from "../../drafting/pick.js";
import { sameObject, sameThing, type Thing, whole } from "../../drafting/thing.js";
import { shapesOf } from "../../drafting/thing-shape.js";
import { sheetLength } from "../../drafting/viewport.js";
import type { Point } from "../../geometry/pose.js";
import type { Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import { AMOUNTS, type Amount, keyOverChosen } from "./chosen-keys.js";
import {
  type DragOutcome,
  dragShow,
  grabHandle,
  type HandleDrag,
  handleOverlay,
  letGo,
  moveHandle,
  typeOverHandle,
} from "./handle-drag.js";
import { entryOf, startTyping, type Typing } from "./typing.js";

export type SelectState =
  | { readonly at: "rest"; readonly under?: Thing; readonly typing?: Typing<Amount> }
  | { readonly at: "handle"; readonly drag: HandleDrag }
  | { readonly at: "pressed"; readonly from: Point; readonly screen: Point }
  | { readonly at: "boxing"; readonly from: Point; readonly to: Point };

/** A hand on a button trembles by less, px. */
const TREMBLE = 4;

const REST: SelectState = { at: "rest" };

export const selectTool: Tool<SelectState> = {
  id: "select",
  stage: "any",
  name: "Select",
  key: "v",
  begin: () => REST,

  handle(state, event, input): Outcome<SelectState> {
    if (event.type === "choose") return { state };
    if (event.type === "key") return keyed(state, event, input);
    if (event.type === "cancel") {
      if (state.at === "handle") return { state: REST, effects: [{ do: "abandon" }] };
      if (state.at !== "rest" || (state.typing && state.typing.text !== "")) return { state: REST };
      return { state: REST, effects: input.selection.length > 0 ? [{ do: "select", selection: [] }] : [] };
    }
    if (state.at === "handle" && event.type !== "down") {
      return held(event.type === "move" ? moveHandle(state.drag, event, input) : letGo(state.drag, event, input));
    }
    if (event.type === "down") {
      const drag = event.shift ? undefined : grabHandle(input, { x: event.at.x, y: event.at.y });
      if (drag) return { state: { at: "handle", drag } };
      return { state: { at: "pressed", from: event.at, screen: event.screen } };
    }
    if (event.type === "move") return { state: moved(state, event, input) };
    if (state.at === "boxing") {
      const found = within(input.layout, boxOf(state.from, event.at), input.deck);
      const selection = event.shift ? added(input.selection, found) : found;
      return { state: REST, effects: [{ do: "select", selection }] };
    }
    if (state.at !== "pressed") return { state };
    const hits = hitsAt(event.at, input);
    return { state: restOver(hits), effects: [{ do: "select", selection: clicked(hits, event, input) }] };
  },

  show(state, input) {
    if (state.at === "handle") return dragShow(state.drag, input);
    const overlay: Overlay[] = handleOverlay(input);
    const typing = state.at === "rest" ? state.typing : undefined;
    if (state.at === "boxing") {
      overlay.push({ kind: "line", points: cornersOf(state.from, state.to), closed: true, style: "guide" });
    }
    const under = state.at === "rest" ? state.under : undefined;
    if (under && !input.selection.some((thing) => sameThing(thing, under))) {
      for (const shape of shapesOf(input.layout, under)) {
        if (shape.kind === "path") overlay.push({ kind: "path", path: shape.path, style: "hover" });
        if (shape.kind === "chain") {
          overlay.push({ kind: "line", points: shape.points, closed: shape.closed, style: "hover" });
        }
        if (shape.kind === "spot") overlay.push({ kind: "handle", at: shape.at, shape: "ring", name: "", hot: true });
      }
    }
    const hint =
      input.selection.length === 0
        ? "Click to select, drag a box for several. Shift adds, Alt takes what lies beneath."
        : "Shift adds or takes away, Delete removes, arrows or a typed length nudge, [ and ] turn, M mirrors, Esc lets go.";
    return {
      overlay,
      hint,
      ...(typing && typing.text !== "" && { entry: entryOf(typing, AMOUNTS) }),
      cursor: "default",
    };
  },
};

function keyed(
  state: SelectState,
  event: ToolEvent & { readonly type: "key" },
  input: ToolInput,
): Outcome<SelectState> {
  if (state.at === "handle") return held(typeOverHandle(state.drag, event, input));
  if (state.at !== "rest") return { state };
  const done = keyOverChosen(state.typing ?? startTyping("right"), event, input);
  return done ? { state: { ...state, typing: done.typing }, effects: done.effects } : { state };
}

const held = ({ drag, effects }: DragOutcome): Outcome<SelectState> => ({
  state: drag ? { at: "handle", drag } : REST,
  effects,
});

type PointerEvent = Extract<ToolEvent, { readonly at: Point }>;

function moved(state: SelectState, event: PointerEvent, input: ToolInput): SelectState {
  if (state.at === "handle") return state;
  if (state.at === "boxing") return { ...state, to: event.at };
  if (state.at === "rest") return event.touch ? REST : restOver(hitsAt(event.at, input));
  const far = Math.hypot(event.screen.x - state.screen.x, event.screen.y - state.screen.y) > TREMBLE;
  return far ? { at: "boxing", from: state.from, to: event.at } : state;
}

const hitsAt = (point: Point, { layout, deck, reach, viewport }: ToolInput): Hit[] =>
  pick(layout, { point, deck, reach, px: sheetLength(viewport, 1) });

const restOver = (hits: readonly Hit[]): SelectState => (hits[0] ? { at: "rest", under: hits[0].thing } : REST);

function clicked(hits: readonly Hit[], event: PointerEvent, input: ToolInput): Thing[] {
  const { selection } = input;
  const chosen = event.alt ? hits.findIndex((hit) => selection.some((thing) => sameObject(thing, hit.thing))) : -1;
  const hit = hits[(chosen + 1) % Math.max(hits.length, 1)];
  if (!hit) return event.shift ? [...selection] : [];
  if (!event.shift) return [hit.thing];
  // Several things are chosen whole.
  const one = whole(hit.thing);
  const others = selection.filter((thing) => !sameObject(thing, one)).map(whole);
  return others.length < selection.length ? others : [...others, one];
}

const added = (selection: readonly Thing[], found: readonly Thing[]): Thing[] => [
  ...selection.map(whole),
  ...found.filter((thing) => !selection.some((other) => sameObject(thing, other))),
];

const boxOf = (a: Point, b: Point) => ({
  minX: Math.min(a.x, b.x),
  minY: Math.min(a.y, b.y),
  maxX: Math.max(a.x, b.x),
  maxY: Math.max(a.y, b.y),
});

const cornersOf = (a: Point, b: Point): Point[] => [a, { x: b.x, y: a.y }, b, { x: a.x, y: b.y }];
