/** Ceiling: its height above the floor, typed. */
import { formatLength } from "../../plan/format-length.js";
import { setCeiling } from "../../plan/room-edits.js";
import { BOUNDS } from "../../plan/schema.js";
import type { Outcome, Tool } from "../tool.js";
import { committed, putAside } from "./outcomes.js";
import { entryOf, entryWhile, type Field, startTyping, typeKey, type Typing } from "./typing.js";

const FIELDS: readonly Field<"ceiling">[] = [
  { key: "ceiling", label: "Ceiling above the floor", takes: "length", most: BOUNDS.height },
];

export const ceilingTool: Tool<Typing<"ceiling">> = {
  id: "ceiling",
  stage: "survey",
  name: "Ceiling",
  key: "h",
  begin: () => startTyping("ceiling"),

  handle(state, event, input): Outcome<Typing<"ceiling">> {
    if (event.type === "cancel") return state.text === "" ? putAside(state) : { state: startTyping("ceiling") };
    if (event.type !== "key") return { state };
    const typed = typeKey(state, FIELDS, event, input.units);
    if (!typed) return { state };
    return typed.set
      ? committed(setCeiling(input.plan, typed.set.value), typed.typing, typed.typing)
      : { state: typed.typing };
  },

  show: (state, { plan, units }) => ({
    overlay: [],
    hint: `The ceiling is at ${formatLength(plan.room.ceiling, units)}. Type its height and press Enter; measure to the lowest beam or duct over the railway.`,
    ...entryWhile(false, entryOf(state, FIELDS, formatLength(plan.room.ceiling, units))),
  }),
};
