/**
 * Peninsula: a bench that stands out from a wall or another bench, drawn along its middle. Its end is round, square, or
 * a disc as wide as a turnback curve needs, which is a bench of its own.
 */
import { stripOutline } from "../../drafting/strips.js";
import type { SnapKind } from "../../drafting/snap.js";
import type { Millimetres } from "../../geometry/units.js";
import { andThen, type Edit, putRecord, refused } from "../../plan/edit.js";
import { formatLength } from "../../plan/format-length.js";
import { INCH } from "../../plan/parse-length.js";
import { BOUNDS } from "../../plan/schema.js";
import type { Choice, Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import { type CentreLine, lineFields, lineOverlay, type LineRules, restLine, stepLine } from "./centre-line.js";
import { committed, newId, previewed, putAside } from "./outcomes.js";
import { entryOf, entryWhile } from "./typing.js";

const ENDS = ["round", "square", "disc"] as const;
type End = (typeof ENDS)[number];

export interface PeninsulaState {
  readonly line: CentreLine<"radius">;
  readonly end: End;
  /** Of the disc; three quarters of the width where it was not typed. */
  readonly radius?: Millimetres;
}

const KINDS: readonly SnapKind[] = ["bench-corner", "wall-corner", "bench-edge", "wall"];
const RULES: LineRules<"radius"> = {
  kinds: KINDS,
  fields: [{ key: "radius", label: "Radius of the end’s disc", takes: "length", most: BOUNDS.radius }],
};
/** Wide enough to be reached over from both sides (common practice, no source). */
const USUAL = { imperial: 36 * INCH, metric: 900 } as const;

export const peninsulaTool: Tool<PeninsulaState> = {
  id: "peninsula",
  stage: "frame",
  name: "Peninsula",
  key: "p",
  begin: ({ units }) => ({ line: restLine(USUAL[units]), end: "round" }),

  handle(state, event, input): Outcome<PeninsulaState> {
    const { line } = state;
    if (event.type === "cancel") {
      if (line.at === "rest" && line.typing.text === "") return putAside(state);
      return { state: { ...state, line: restLine(line.width) }, effects: [{ do: "abandon" }] };
    }
    if (event.type === "choose") {
      const end = ENDS.find((value) => value === event.value);
      return event.choice === "end" && end ? shown({ ...state, end }, input) : { state };
    }
    if (isCycle(event) && line.typing.text === "") {
      return shown({ ...state, end: ENDS[(ENDS.indexOf(state.end) + 1) % ENDS.length] ?? "round" }, input);
    }
    const step = stepLine(line, event, input, RULES);
    const next: PeninsulaState = {
      ...state,
      line: step.line,
      ...(step.set && { radius: step.set.value, end: "disc" }),
    };
    if (step.finish) return committed(edited(next, input), { ...next, line: restLine(next.line.width) }, next);
    return shown(next, input);
  },

  show(state, input) {
    const { line } = state;
    const edit = line.at === "rest" ? undefined : edited(state, input);
    const overlay: Overlay[] = lineOverlay(
      line,
      input,
      edit && !edit.ok && line.at === "wide" ? edit.message : undefined,
    );
    const { field } = line.typing;
    const value = field === "radius" ? radiusOf(state) : field === "width" ? line.width : (line.typedLength ?? 0);
    return {
      overlay,
      hint: HINTS[line.at],
      ...entryWhile(
        line.at !== "rest",
        entryOf(line.typing, lineFields(RULES), value > 0 ? formatLength(value, input.units) : ""),
      ),
      choices: [endChoice(state.end)],
      cursor: "crosshair",
    };
  },
};

const HINTS: Readonly<Record<CentreLine<"radius">["at"], string>> = {
  rest: "Press where the middle of the peninsula leaves a wall or bench, and draw it out. C changes its end.",
  along: "Let go (or click) where it ends, or type its length. C changes its end. Leave aisles on both sides.",
  wide: "Draw it as wide as it is to be, or type the width (Tab: radius of a disc); click or Enter builds it. C changes its end.",
};

const endChoice = (value: End): Choice => ({
  id: "end",
  label: "End",
  value,
  options: [
    { value: "round", label: "Round" },
    { value: "square", label: "Square" },
    { value: "disc", label: "Disc" },
  ],
});

const isCycle = (event: ToolEvent): boolean => event.type === "key" && event.key.toLowerCase() === "c";

const radiusOf = ({ radius, line }: PeninsulaState): Millimetres => radius ?? 0.75 * line.width;

const shown = (state: PeninsulaState, input: ToolInput): Outcome<PeninsulaState> => ({
  state,
  effects: state.line.at === "rest" ? [{ do: "abandon" }] : previewed(edited(state, input)),
});

function edited(state: PeninsulaState, { plan, deck }: ToolInput): Edit {
  const { line, end } = state;
  if (!Object.hasOwn(plan.decks, deck)) return refused("there is no deck yet for it to belong to");
  const outline = stripOutline(line.from, line.to, line.width, end === "round" ? line.width / 2 : 0);
  if (!outline) return refused("a peninsula has a length");
  const id = newId(plan, "peninsula");
  const strip = putRecord(plan, "benches", id, { deck, shape: { outline } }, "Build peninsula");
  if (end !== "disc") return strip;
  const disc = { centre: { x: line.to.x, y: line.to.y }, radius: radiusOf(state) };
  return andThen(strip, (next) => putRecord(next, "benches", newId(next, "peninsula-end"), { deck, shape: { disc } }));
}
