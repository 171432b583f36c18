/**
 * Obstacle: what stands in the room and stays (a chimney, a workbench, a water heater), as a rectangle dragged from
 * corner to corner or an outline clicked corner by corner, with its name and the heights between which it is in the way.
 */
import { outlineTrouble } from "../../drafting/reshape-room.js";
import { snap, type SnapKind } from "../../drafting/snap.js";
import type { Point } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import { type Edit, refused } from "../../plan/edit.js";
import { formatLength } from "../../plan/format-length.js";
import { putObstacle } from "../../plan/room-edits.js";
import type { Obstacle, Plan } from "../../plan/schema.js";
import type { Choice, Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import { type Chain, chainOverlay, type ChainRules, emptyChain, stepChain } from "./corner-chain.js";
import { committed, newId, previewed, putAside, sentence } from "./outcomes.js";
import { entryOf, entryWhile, type Field, startTyping, typeKey, type Typing } from "./typing.js";

type ObstacleField = "width" | "depth" | "name" | "from" | "to";
interface Facts {
  readonly name?: string;
  readonly from?: Millimetres;
  readonly to?: Millimetres;
}

export type ObstacleState =
  | { readonly at: "rest"; readonly shape: "rectangle" }
  /** A rectangle from one corner to the hand, or by typed sides toward it. */
  | {
      readonly at: "rectangle";
      readonly from: Point;
      readonly to: Point;
      readonly screen: Point;
      readonly width?: Millimetres;
      readonly depth?: Millimetres;
      readonly typing: Typing<ObstacleField>;
    }
  | { readonly at: "outline"; readonly chain: Chain<never> }
  | {
      readonly at: "facts";
      readonly outline: readonly Point[];
      readonly facts: Facts;
      readonly typing: Typing<ObstacleField>;
    };

const REST: ObstacleState = { at: "rest", shape: "rectangle" };
const KINDS: readonly SnapKind[] = ["wall-corner", "wall"];
const RULES: ChainRules<never> = { closed: true, kinds: KINDS, fields: [] };
/** A hand on a button trembles by less, px. */
const TREMBLE = 4;

const SIDES: readonly Field<ObstacleField>[] = [
  { key: "width", label: "Width", takes: "length" },
  { key: "depth", label: "Depth", takes: "length" },
];
const FACTS: readonly Field<ObstacleField>[] = [
  { key: "name", label: "Name", takes: "name" },
  { key: "from", label: "Bottom above the floor", takes: "length", least: 0 },
  { key: "to", label: "Top above the floor (to the ceiling)", takes: "length" },
];

export const obstacleTool: Tool<ObstacleState> = {
  id: "obstacle",
  stage: "survey",
  name: "Obstacle",
  key: "o",
  begin: () => REST,

  handle(state, event, input): Outcome<ObstacleState> {
    if (event.type === "cancel") {
      const idle = state.at === "rest" || (state.at === "outline" && state.chain.corners.length === 0);
      if (idle) return putAside(REST);
      const again: ObstacleState = state.at === "outline" ? { at: "outline", chain: emptyChain() } : REST;
      return { state: again, effects: [{ do: "abandon" }] };
    }
    if (event.type === "choose") {
      if (event.choice !== "shape") return { state };
      return {
        state: event.value === "outline" ? { at: "outline", chain: emptyChain() } : REST,
        effects: [{ do: "abandon" }],
      };
    }
    if (state.at === "outline") return drawOutline(state, event, input);
    if (state.at === "facts") return event.type === "key" ? typeFacts(state, event, input) : { state };
    if (event.type === "key") return typeSides(state, event, input);
    return drag(state, event, input);
  },

  show(state, input) {
    const choices = [shapeChoice(state)];
    if (state.at === "outline") {
      const hint =
        "Click corners, or type lengths after the first; ← → turn, Enter or the first corner closes. Backspace takes back.";
      const refusal = state.chain.refusal === undefined ? hint : sentence(state.chain.refusal);
      return {
        overlay: chainOverlay(state.chain, input, true),
        hint: refusal,
        ...entryWhile(state.chain.corners.length > 0, entryOf(state.chain.typing, CHAIN)),
        choices,
        cursor: "crosshair",
      };
    }
    if (state.at === "facts") {
      const value = factText(state.facts, state.typing.field, input.units);
      return {
        overlay: [{ kind: "line", points: state.outline, closed: true, style: "selected" }],
        hint: "Type its name, Tab, bottom and top; Enter sets it. Keep panels, shut-offs and heaters within reach: local codes say how much.",
        entry: entryOf(state.typing, FACTS, value),
        choices,
      };
    }
    if (state.at === "rest") {
      return {
        overlay: [],
        hint: "Drag from corner to corner, or click one and type the sides. A draws any outline instead.",
        choices,
        cursor: "crosshair",
      };
    }
    return {
      overlay: rectangleOverlay(state, input),
      hint: "Click the opposite corner, or type width, Tab, depth and Enter. Esc gives it up.",
      entry: entryOf(state.typing, SIDES, sideText(state, input.units)),
      choices,
      cursor: "crosshair",
    };
  },
};

const CHAIN: readonly Field<"length" | "turn">[] = [
  { key: "length", label: "Length", takes: "length" },
  { key: "turn", label: "Turn", takes: "angle" },
];

const shapeChoice = (state: ObstacleState): Choice => ({
  id: "shape",
  label: "Shape",
  value: state.at === "outline" ? "outline" : "rectangle",
  options: [
    { value: "rectangle", label: "Rectangle" },
    { value: "outline", label: "Outline" },
  ],
});

type Rectangle = ObstacleState & { readonly at: "rectangle" };
type Begun = ObstacleState & { readonly at: "rest" | "rectangle" };
type KeyPress = ToolEvent & { readonly type: "key" };
type Hand = ToolEvent & { readonly type: "down" | "move" | "up" };

const cornerOf = (rectangle: Rectangle): Point => {
  const { from, to, width, depth } = rectangle;
  const toward = (a: number, b: number, size: number | undefined): number =>
    size === undefined ? b : a + (b < a ? -size : size);
  return { x: toward(from.x, to.x, width), y: toward(from.y, to.y, depth) };
};

function outlineOf(rectangle: Rectangle): readonly Point[] {
  const { from } = rectangle;
  const to = cornerOf(rectangle);
  const [left, right] = [Math.min(from.x, to.x), Math.max(from.x, to.x)];
  const [low, high] = [Math.min(from.y, to.y), Math.max(from.y, to.y)];
  return [
    { x: left, y: low },
    { x: right, y: low },
    { x: right, y: high },
    { x: left, y: high },
  ];
}

const caughtAt = ({ at, alt }: Hand, { layout, reach, deck }: ToolInput): Point =>
  alt ? { x: at.x, y: at.y } : snap(layout, { x: at.x, y: at.y }, { reach, deck, kinds: KINDS }).point;

function drag(state: Begun, event: Hand, input: ToolInput): Outcome<ObstacleState> {
  const at = caughtAt(event, input);
  if (state.at === "rest") {
    if (event.type !== "down") return { state };
    return { state: { at: "rectangle", from: at, to: at, screen: event.screen, typing: startTyping("width") } };
  }
  const next: Rectangle = { ...state, to: at };
  if (event.type === "move") return { state: next };
  const dragged = Math.hypot(event.screen.x - state.screen.x, event.screen.y - state.screen.y) > TREMBLE;
  return dragged ? facts(next, outlineOf(next), input) : { state: next };
}

/** A shape that is done asks for its facts; one that is none says why. */
function facts(state: ObstacleState, outline: readonly Point[], { plan }: ToolInput): Outcome<ObstacleState> {
  const next: ObstacleState = { at: "facts", outline, facts: {}, typing: startTyping("name") };
  const edit = edited(next, plan);
  return edit.ok
    ? { state: next, effects: previewed(edit) }
    : { state, effects: [{ do: "say", text: sentence(edit.message) }] };
}

function typeSides(state: Begun, event: KeyPress, input: ToolInput): Outcome<ObstacleState> {
  if (state.at === "rest")
    return { state: event.key.toLowerCase() === "a" ? { at: "outline", chain: emptyChain() } : state };
  const typed = typeKey(state.typing, SIDES, event, input.units);
  if (!typed) return { state: event.key === "Backspace" ? REST : state };
  const next: Rectangle = { ...state, ...(typed.set && { [typed.set.field]: typed.set.value }), typing: typed.typing };
  if (!typed.entered) return { state: next };
  if (next.width !== undefined && next.depth === undefined && typed.set)
    return { state: { ...next, typing: startTyping("depth") } };
  return facts(next, outlineOf(next), input);
}

function drawOutline(
  state: ObstacleState & { readonly at: "outline" },
  event: ToolEvent & { readonly type: "down" | "move" | "up" | "key" },
  input: ToolInput,
): Outcome<ObstacleState> {
  const { chain, finish } = stepChain(state.chain, event, input, RULES);
  const next: ObstacleState = { at: "outline", chain };
  return finish ? facts(next, chain.corners, input) : { state: next };
}

function typeFacts(
  state: ObstacleState & { readonly at: "facts" },
  event: KeyPress,
  input: ToolInput,
): Outcome<ObstacleState> {
  const typed = typeKey(state.typing, FACTS, event, input.units);
  if (!typed) return event.key === "Backspace" ? { state: REST, effects: [{ do: "abandon" }] } : { state };
  const given = typed.set && { [typed.set.field]: typed.set.field === "name" ? typed.set.text : typed.set.value };
  const next = { ...state, facts: { ...state.facts, ...given }, typing: typed.typing };
  const edit = edited(next, input.plan);
  return typed.entered ? committed(edit, REST, next) : { state: next, effects: previewed(edit) };
}

function edited({ outline, facts: { name, from, to } }: ObstacleState & { readonly at: "facts" }, plan: Plan): Edit {
  const trouble = outlineTrouble(outline);
  if (trouble !== undefined)
    return refused(trouble.replace("walls", "edges").replace("wall", "edge").replace("a room", "an outline"));
  if (to !== undefined && to <= (from ?? 0)) return refused("the top must be above the bottom");
  const obstacle: Obstacle = {
    ...(name !== undefined && name !== "" && { name }),
    outline: outline.map(({ x, y }) => ({ x, y })),
    ...(from !== undefined && { from }),
    ...(to !== undefined && { to }),
  };
  return putObstacle(plan, newId(plan, "obstacle"), obstacle);
}

function factText(facts: Facts, field: ObstacleField, units: Plan["units"]): string {
  if (field === "name") return facts.name ?? "";
  const value = field === "from" ? facts.from : field === "to" ? facts.to : undefined;
  return value === undefined ? "" : formatLength(value, units);
}

function sideText(state: Rectangle, units: Plan["units"]): string {
  const to = cornerOf(state);
  const side = state.typing.field === "width" ? to.x - state.from.x : to.y - state.from.y;
  return side === 0 ? "" : formatLength(Math.abs(side), units);
}

function rectangleOverlay(state: Rectangle, { units }: ToolInput): Overlay[] {
  const { from } = state;
  const to = cornerOf(state);
  return [
    { kind: "line", points: outlineOf(state), closed: true, style: "draft" },
    { kind: "label", at: { x: (from.x + to.x) / 2, y: from.y }, text: formatLength(Math.abs(to.x - from.x), units) },
    { kind: "label", at: { x: from.x, y: (from.y + to.y) / 2 }, text: formatLength(Math.abs(to.y - from.y), units) },
  ];
}
