/**
 * Keys of the arrow that do something with what is chosen: Delete, arrows and typed amounts to nudge, M to mirror,
 * brackets to turn, F to flip a turnout; with Shift D duplicates, J joins, R turns a track round.
 */
import type { Degrees } from "../../geometry/units.js";
import { BOUNDS } from "../../plan/schema.js";
import type { Effect, ToolEvent, ToolInput } from "../tool.js";
import {
  deleteChosen,
  duplicateChosen,
  joinChosen,
  mirrorChosen,
  reverseChosen,
  nudgeChosen,
  turnChosen,
} from "./chosen-commands.js";
import { lengthStep } from "./legs-toward.js";
import { sentence } from "./outcomes.js";
import { flipEdit } from "./turnout.js";
import { type Field, typeKey, type Typing } from "./typing.js";

export type Amount = "right" | "up" | "turn";
export const AMOUNTS: readonly Field<Amount>[] = [
  { key: "right", label: "Move right", takes: "length", least: -BOUNDS.length },
  { key: "up", label: "Move up", takes: "length", least: -BOUNDS.length },
  { key: "turn", label: "Turn", takes: "angle", least: -360, most: 360 },
];

/** With Shift an arrow nudges by so many steps. */
const SHIFT_STEPS = 16;
/** Degrees a bracket turns by; with Shift a quarter turn. */
const TURN: Degrees = 15;
const QUARTER: Degrees = 90;

export interface KeyOutcome {
  readonly typing: Typing<Amount>;
  readonly effects: readonly Effect[];
}

/** Undefined where the key says nothing about what is chosen. */
export function keyOverChosen(
  typing: Typing<Amount>,
  event: ToolEvent & { readonly type: "key" },
  input: ToolInput,
): KeyOutcome | undefined {
  if (input.selection.length === 0) return undefined;
  const typed = typeKey(typing, AMOUNTS, event, input.units);
  // Enter and Tab belong to the page while nothing is typed.
  if (typed && (typing.text !== "" || typed.typing.text !== "")) {
    const { set } = typed;
    if (!set) return { typing: typed.typing, effects: [] };
    const effects =
      set.field === "turn"
        ? turnChosen(input, set.value)
        : nudgeChosen(input, set.field === "right" ? set.value : 0, set.field === "up" ? set.value : 0);
    return { typing: typed.typing, effects };
  }
  const effects = deed(event, input);
  return effects && { typing, effects };
}

function deed({ key, shift }: ToolEvent & { readonly type: "key" }, input: ToolInput): readonly Effect[] | undefined {
  const step = lengthStep(input.units) * (shift ? SHIFT_STEPS : 1);
  if (key === "Delete" || key === "Backspace") return deleteChosen(input);
  if (key === "ArrowLeft") return nudgeChosen(input, -step, 0);
  if (key === "ArrowRight") return nudgeChosen(input, step, 0);
  if (key === "ArrowUp") return nudgeChosen(input, 0, step);
  if (key === "ArrowDown") return nudgeChosen(input, 0, -step);
  if (key === "[" || key === "{") return turnChosen(input, key === "{" || shift ? QUARTER : TURN);
  if (key === "]" || key === "}") return turnChosen(input, key === "}" || shift ? -QUARTER : -TURN);
  if (key === "m" || key === "M") return mirrorChosen(input, shift ? "up" : "across");
  if (shift && key.toLowerCase() === "d") return duplicateChosen(input);
  if (shift && key.toLowerCase() === "j") return joinChosen(input);
  if (shift && key.toLowerCase() === "r") return reverseChosen(input);
  if (key === "f" || key === "F") return flip(input, shift ? "facing" : "hand");
  return undefined;
}

function flip(input: ToolInput, what: "hand" | "facing"): readonly Effect[] | undefined {
  const only = input.selection.length === 1 ? input.selection[0] : undefined;
  if (only?.kind !== "record" || only.collection !== "turnouts") return undefined;
  const edit = flipEdit(input, only.id, what);
  return edit.ok ? [{ do: "commit", edit }] : [{ do: "say", text: sentence(edit.message) }];
}
