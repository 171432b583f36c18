/**
 * Picture: a photo of a sketch under the sheet, dragged where it belongs and brought to scale by two of its points and
 * the distance between them. It is no part of the plan: nothing here is an edit, and Esc puts back what is being dragged.
 */
import {
  fadeUnderlay,
  levelUnderlay,
  moveUnderlay,
  pictureAt,
  scaleUnderlay,
  STRENGTHS,
  underlayCorners,
  type UnderlayPlacement,
  underlayPoint,
} from "../../drafting/underlay.js";
import { distance, type Point } from "../../geometry/pose.js";
import { formatLength } from "../../plan/format-length.js";
import type { Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import { putAside } from "./outcomes.js";
import { entryOf, entryWhile, type Field, startTyping, typeKey, type Typing } from "./typing.js";

export interface UnderlayState {
  /** Points marked, px of the picture: they stay on it however it is moved. */
  readonly marks: readonly Point[];
  readonly held?: {
    readonly from: Point;
    readonly screen: Point;
    readonly before: UnderlayPlacement;
    readonly moved: boolean;
  };
  readonly typing: Typing<"apart">;
}

const REST: UnderlayState = { marks: [], typing: startTyping("apart") };
const FIELDS: readonly Field<"apart">[] = [{ key: "apart", label: "Distance between the two points", takes: "length" }];
/** A hand on a button trembles by less, px. */
const TREMBLE = 4;

export const underlayTool: Tool<UnderlayState> = {
  id: "picture",
  stage: "survey",
  name: "Picture",
  key: "u",
  begin: () => REST,

  handle(state, event, input): Outcome<UnderlayState> {
    const { underlay } = input;
    if (event.type === "choose") return { state };
    if (event.type === "cancel") {
      if (state.held?.moved) return { state: REST, effects: [{ do: "underlay", placement: state.held.before }] };
      return state.marks.length > 0 || state.typing.text !== "" ? { state: REST } : putAside(REST);
    }
    if (!underlay) return { state: REST };
    if (event.type === "key") return keyed(state, event, input, underlay);
    if (event.type === "down") {
      const held = { from: event.at, screen: event.screen, before: underlay, moved: false };
      return { state: { ...state, held } };
    }
    const { held, ...rest } = state;
    if (!held) return { state };
    const far = Math.hypot(event.screen.x - held.screen.x, event.screen.y - held.screen.y) > TREMBLE;
    if (event.type === "move") {
      if (!held.moved && !far) return { state };
      const placement = moveUnderlay(held.before, event.at.x - held.from.x, event.at.y - held.from.y);
      return { state: { ...state, held: { ...held, moved: true } }, effects: [{ do: "underlay", placement }] };
    }
    if (held.moved) return { state: rest };
    // A third point begins again.
    const marks = [...(rest.marks.length < 2 ? rest.marks : []), pictureAt(underlay, event.at)];
    return { state: { ...rest, marks } };
  },

  show(state, { underlay, units }) {
    if (!underlay) return { overlay: [], hint: "Choose a picture, as a photo of a sketch, to lie under the sheet." };
    const marks = state.marks.map((mark) => underlayPoint(underlay, mark));
    const [a, b] = marks;
    const overlay: Overlay[] = [{ kind: "line", points: underlayCorners(underlay), closed: true, style: "guide" }];
    if (a && b) overlay.push({ kind: "line", points: [a, b], style: "draft" });
    for (const [i, at] of marks.entries()) {
      overlay.push({ kind: "handle", at, shape: "ring", name: `point ${i + 1}`, hot: true });
    }
    const apart = a && b ? formatLength(distance(a, b), units) : "";
    return {
      overlay,
      hint: b
        ? "Type how far the two points are from one another in the room, Enter; L lays them level. Backspace takes back."
        : a
          ? "Click a second point that you know the distance to."
          : "Drag the picture, or click two points to scale it. [ and ] fade it, Delete takes it away. It stays in this browser, not in the plan’s file.",
      ...entryWhile(b !== undefined, entryOf(state.typing, FIELDS, apart)),
      cursor: state.held?.moved ? "move" : "crosshair",
    };
  },
};

function keyed(
  state: UnderlayState,
  event: ToolEvent & { readonly type: "key" },
  { units }: ToolInput,
  underlay: UnderlayPlacement,
): Outcome<UnderlayState> {
  const lay = (placement: UnderlayPlacement | undefined, after: UnderlayState): Outcome<UnderlayState> => ({
    state: after,
    effects: [{ do: "underlay", placement }],
  });
  const [a, b] = state.marks.map((mark) => underlayPoint(underlay, mark));
  const typed = a && b ? typeKey(state.typing, FIELDS, event, units) : undefined;
  if (typed && a && b) {
    const next = { ...state, typing: typed.typing };
    if (!typed.set) return { state: next };
    const placement = scaleUnderlay(underlay, a, b, typed.set.value);
    if (placement) return lay(placement, next);
    return {
      state: { ...next, typing: { ...state.typing, error: "those points are too near to one another for that" } },
    };
  }
  const key = event.key.toLowerCase();
  if (key === "l" && a && b) {
    const placement = levelUnderlay(underlay, a, b);
    return placement ? lay(placement, state) : { state };
  }
  if (key === "[") return lay(fadeUnderlay(underlay, -STRENGTHS.step), state);
  if (key === "]") return lay(fadeUnderlay(underlay, STRENGTHS.step), state);
  if (key === "delete") return lay(undefined, REST);
  if (key === "backspace") return { state: { ...state, marks: state.marks.slice(0, -1) } };
  return { state };
}
