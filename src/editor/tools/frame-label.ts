/** Label: the name of a place on the layout: its place clicked, its name typed; ← → turn the lettering. */
import type { Point } from "../../geometry/pose.js";
import type { Degrees } from "../../geometry/units.js";
import { type Edit, putRecord, refused } from "../../plan/edit.js";
import type { Outcome, Tool, ToolInput } from "../tool.js";
import { committed, newId, previewed, putAside } from "./outcomes.js";
import { entryOf, type Field, startTyping, typeKey, type Typing } from "./typing.js";

export interface LabelState {
  readonly at?: Point;
  readonly heading: Degrees;
  readonly typing: Typing<"name">;
}

const REST: LabelState = { heading: 0, typing: startTyping("name") };
const FIELDS: readonly Field<"name">[] = [{ key: "name", label: "Name of the place", takes: "name" }];
const TURN: Degrees = 15;
/** Lettering is read from the foot or the right. */
const UPRIGHT: Degrees = 90;

export const labelTool: Tool<LabelState> = {
  id: "label",
  stage: "frame",
  name: "Label",
  key: "l",
  begin: () => REST,

  handle(state, event, input): Outcome<LabelState> {
    if (event.type === "cancel") return state.at ? { state: REST, effects: [{ do: "abandon" }] } : putAside(REST);
    if (event.type === "down") return shown({ ...state, at: { x: event.at.x, y: event.at.y } }, input);
    if (event.type !== "key" || !state.at) return { state };
    const turn = event.key === "ArrowLeft" ? TURN : event.key === "ArrowRight" ? -TURN : 0;
    if (turn !== 0) {
      const heading = Math.min(Math.max(state.heading + turn, -UPRIGHT), UPRIGHT);
      return shown({ ...state, heading }, input);
    }
    const typed = typeKey(state.typing, FIELDS, event, input.units);
    if (!typed) return event.key === "Backspace" ? { state: REST, effects: [{ do: "abandon" }] } : { state };
    if (typed.entered) return committed(edited(state, input), REST, state);
    // Tab has nowhere to go; the name stays as it is.
    return shown(typed.set ? state : { ...state, typing: typed.typing }, input);
  },

  show: ({ at, typing }) => ({
    overlay: at ? [{ kind: "handle", at, shape: "ring", name: "place of the label", hot: true }] : [],
    hint: at
      ? "Type the name and press Enter; ← → turn it, click elsewhere to move it. Esc gives it up."
      : "Click where the name of the place is to stand.",
    ...(at && { entry: entryOf(typing, FIELDS) }),
    cursor: "crosshair",
  }),
};

const shown = (state: LabelState, input: ToolInput): Outcome<LabelState> => ({
  state,
  effects: state.typing.text.trim() === "" ? [{ do: "abandon" }] : previewed(edited(state, input)),
});

function edited({ at, heading, typing }: LabelState, { plan, deck }: ToolInput): Edit {
  const text = typing.text.trim();
  if (!at || text === "") return refused("a label has a name to show");
  const label = { text, at, ...(Object.hasOwn(plan.decks, deck) && { deck }), ...(heading !== 0 && { heading }) };
  return putRecord(plan, "labels", newId(plan, text), label, "Place label");
}
