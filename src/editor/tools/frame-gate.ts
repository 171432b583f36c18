/** Gate: a piece of benchwork across an aisle or a door that opens: drawn from one side to the other, and as wide as its deck. */
import type { SnapKind } from "../../drafting/snap.js";
import { stripOutline } from "../../drafting/strips.js";
import { type Edit, putRecord, refused } from "../../plan/edit.js";
import { formatLength } from "../../plan/format-length.js";
import { INCH } from "../../plan/parse-length.js";
import type { Gate } from "../../plan/schema.js";
import type { Choice, Outcome, Tool, ToolInput } from "../tool.js";
import { type CentreLine, lineFields, lineOverlay, type LineRules, restLine, stepLine } from "./centre-line.js";
import { committed, newId, previewed, putAside } from "./outcomes.js";
import { entryOf, entryWhile } from "./typing.js";

type Kind = Gate["kind"];

export interface GateState {
  readonly line: CentreLine<never>;
  readonly kind: Kind;
}

const KINDS: readonly Kind[] = ["lift-out", "lift", "swing", "drop"];
const WORDS: Readonly<Record<Kind, string>> = {
  "lift-out": "Lift-out",
  lift: "Lifting gate",
  swing: "Swing gate",
  drop: "Drop gate",
};
const CATCH: readonly SnapKind[] = ["bench-corner", "bench-edge", "wall-corner", "wall"];
const RULES: LineRules<never> = { kinds: CATCH, fields: [] };
const USUAL = { imperial: 8 * INCH, metric: 200 } as const;

export const gateTool: Tool<GateState> = {
  id: "gate",
  stage: "frame",
  name: "Gate",
  key: "g",
  begin: ({ units }) => ({ line: restLine(USUAL[units]), kind: "lift-out" }),

  handle(state, event, input): Outcome<GateState> {
    const { line } = state;
    if (event.type === "cancel") {
      if (line.at === "rest" && line.typing.text === "") return putAside(state);
      return { state: { ...state, line: restLine(line.width) }, effects: [{ do: "abandon" }] };
    }
    if (event.type === "choose") {
      const kind = KINDS.find((value) => value === event.value);
      return event.choice === "kind" && kind ? shown({ ...state, kind }, input) : { state };
    }
    if (event.type === "key" && event.key.toLowerCase() === "c" && line.typing.text === "") {
      return shown({ ...state, kind: KINDS[(KINDS.indexOf(state.kind) + 1) % KINDS.length] ?? "lift-out" }, input);
    }
    const step = stepLine(line, event, input, RULES);
    const next: GateState = { ...state, line: step.line };
    if (step.finish) return committed(edited(next, input), { ...next, line: restLine(next.line.width) }, next);
    return shown(next, input);
  },

  show({ line, kind }, input) {
    const edit = line.at === "wide" ? edited({ line, kind }, input) : undefined;
    const value = line.typing.field === "width" ? line.width : (line.typedLength ?? 0);
    const how =
      line.at === "rest"
        ? "Press on the edge of a bench and draw across the aisle. "
        : line.at === "along"
          ? "Let go (or click) on the other side. "
          : "Draw it as wide as it is to be, or type the width; click or Enter builds it. ";
    return {
      overlay: lineOverlay(line, input, edit && !edit.ok ? edit.message : undefined),
      hint: `${how}C changes its kind. It must open by hand, in the dark, from both sides; a way out stays free as local codes ask.`,
      ...entryWhile(
        line.at !== "rest",
        entryOf(line.typing, lineFields(RULES), value > 0 ? formatLength(value, input.units) : ""),
      ),
      choices: [kindChoice(kind)],
      cursor: "crosshair",
    };
  },
};

const kindChoice = (value: Kind): Choice => ({
  id: "kind",
  label: "Gate",
  value,
  options: KINDS.map((kind) => ({ value: kind, label: WORDS[kind] })),
});

const shown = (state: GateState, input: ToolInput): Outcome<GateState> => ({
  state,
  effects: state.line.at === "rest" ? [{ do: "abandon" }] : previewed(edited(state, input)),
});

function edited({ line, kind }: GateState, { plan, deck }: ToolInput): Edit {
  if (!Object.hasOwn(plan.decks, deck)) return refused("there is no deck yet for it to belong to");
  const outline = stripOutline(line.from, line.to, line.width);
  if (!outline) return refused("a gate has a length");
  return putRecord(plan, "gates", newId(plan, "gate"), { deck, kind, outline }, "Build gate");
}
