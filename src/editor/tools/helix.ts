/**
 * The helix tool: turns, radius and rise from an end. It lays one curve of several full turns and pins its foot and its
 * head; the grade and the clear height per turn are shown while the figures are typed.
 */
import { recordsInHand } from "../../layout/options.js";
import type { Snapped } from "../../drafting/snap.js";
import { poseAt } from "../../geometry/path.js";
import type { Millimetres } from "../../geometry/units.js";
import { heightOn } from "../../layout/place-names.js";
import { andThen, type Edit } from "../../plan/edit.js";
import { formatLength } from "../../plan/format-length.js";
import { freshId } from "../../plan/fresh-id.js";
import { formatGrade } from "../../plan/grade-text.js";
import { setPin } from "../../plan/turnout-edits.js";
import { BOUNDS, type Leg, type Side } from "../../plan/schema.js";
import type { Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import { caughtMark, draftPath, endHandles, USUAL_FROG } from "./lay-show.js";
import {
  caughtForStart,
  idOfNew,
  type LayBase,
  layBase,
  layLegs,
  type LayStart,
  limits,
  startFrom,
  startFromSelection,
} from "./lay-start.js";
import { layPlain } from "./legs-toward.js";
import { committed, previewed, putAside } from "./outcomes.js";
import { entryOf, entryWhile, type Field, startTyping, typeKey, type Typing } from "./typing.js";

type Figure = "turns" | "radius" | "rise";
/** Half a turn is the least that is still a helix; a hundred is what a plan holds. */
const FIELDS: readonly Field<Figure>[] = [
  { key: "turns", label: "Turns", takes: "number", least: 0.25, most: BOUNDS.angle / 360 },
  { key: "radius", label: "Radius", takes: "length", most: BOUNDS.radius },
  { key: "rise", label: "Rise", takes: "length", least: -BOUNDS.height, most: BOUNDS.height },
];

export interface HelixState {
  readonly start: LayStart | undefined;
  readonly caught: Snapped | undefined;
  readonly figures: { readonly [K in Figure]?: number };
  readonly hand: Side;
  readonly typing: Typing<Figure>;
  readonly pressed: boolean;
}

const begun = (start?: LayStart): HelixState => ({
  start,
  caught: undefined,
  figures: {},
  hand: "left",
  typing: startTyping("turns"),
  pressed: false,
});

/** A helix to begin with: two turns. */
const FIRST_TURNS = 2;

export const helixTool: Tool<HelixState> = {
  id: "helix",
  stage: "lay",
  name: "Helix",
  key: "h",
  begin: (input) => begun(startFromSelection(input)),
  handle(state, event, input) {
    if (event.type === "cancel") {
      return state.start ? { state: begun(), effects: [{ do: "abandon" }] } : putAside(begun());
    }
    if (event.type === "choose") return { state };
    if (event.type === "key") return keyed(state, event, input);
    const caught = caughtForStart(input, { x: event.at.x, y: event.at.y }, "main");
    const end = caught.kind === "end" || caught.kind === "turnout" ? caught : undefined;
    if (event.type === "move") return { state: { ...state, caught: end } };
    if (event.type === "down") return { state: { ...state, caught: end, pressed: true } };
    const released = { ...state, caught: end, pressed: false };
    if (!state.pressed) return { state: released };
    if (end) return shown({ ...released, start: startFrom(end) }, input);
    return state.start ? laid(released, input) : { state: released };
  },
  show(state, input) {
    const overlay: Overlay[] = [...endHandles(input), ...caughtMark(state.caught)];
    const helix = drawn(state, input);
    if (helix) {
      overlay.push(...draftPath(helix.path));
      const middle = poseAt(helix.path, helix.path.length / 2);
      overlay.push({
        kind: "label",
        at: middle,
        text: helix.text,
        style: helix.tooSteep || helix.tooLow ? "refused" : "draft",
      });
    }
    return {
      overlay,
      hint: state.start
        ? "Type turns, radius and rise (Tab goes on), F changes the hand, Enter lays the helix. Esc lets the end go."
        : "Click the end the helix begins at.",
      ...entryWhile(state.start !== undefined, entryOf(state.typing, FIELDS, figureText(state, input))),
      cursor: "crosshair",
    };
  },
};

function figuresOf({ figures }: HelixState, base: LayBase): { turns: number; radius: Millimetres; rise: Millimetres } {
  const { turns = FIRST_TURNS, radius = limits(base.plan, base.class).radius.value } = figures;
  // As steep as the class allows, where no rise is typed.
  const usual = (2 * Math.PI * radius * turns * limits(base.plan, base.class).grade.value) / 100;
  return { turns, radius, rise: figures.rise ?? Math.round(usual) };
}

function drawn(state: HelixState, input: ToolInput) {
  if (!state.start) return undefined;
  const result = layBase(input, { start: state.start, class: "main", frog: USUAL_FROG, toward: undefined });
  if (!result.ok) return undefined;
  const { base } = result;
  const { turns, radius, rise } = figuresOf(state, base);
  const leg: Leg = { curve: { radius, angle: turns * 360, hand: state.hand } };
  const path = layPlain(base.pose, [leg], limits(input.plan, base.class).easement.value);
  const { standards } = input.plan;
  const grade = (rise / path.length) * 100;
  const perTurn = Math.abs(rise) / turns;
  const clear = perTurn - standards.trackStructure.value;
  const tooSteep = Math.abs(grade) > limits(input.plan, base.class).grade.value;
  const tooLow = turns > 1 && clear < standards.overTrack.value;
  const { units } = input;
  const text = [
    `${formatGrade(grade)}${tooSteep ? `, steeper than ${formatGrade(limits(input.plan, base.class).grade.value)}` : ""}`,
    `${formatLength(perTurn, units)} a turn`,
    `${formatLength(clear, units)} clear${tooLow ? `, less than ${formatLength(standards.overTrack.value, units)}` : ""}`,
  ].join("; ");
  return { base, leg, path, rise, text, tooSteep, tooLow };
}

function figureText(state: HelixState, input: ToolInput): string {
  const result =
    state.start && layBase(input, { start: state.start, class: "main", frog: USUAL_FROG, toward: undefined });
  if (!result?.ok) return "";
  const { turns, radius, rise } = figuresOf(state, result.base);
  const { field } = state.typing;
  return field === "turns" ? String(turns) : formatLength(field === "radius" ? radius : rise, input.units);
}

/** The curve, and pins where it begins and ends. */
function helixEdit(state: HelixState, input: ToolInput): Edit | undefined {
  const helix = drawn(state, input);
  if (!helix) return undefined;
  const { base, leg, path, rise } = helix;
  const id = idOfNew(base);
  const from = base.extends === undefined ? 0 : (input.layout.lines.get(`track:${base.extends}`)?.path.length ?? 0);
  const foot = footHeight(base, input, from);
  const pin = (at: Millimetres, height: Millimetres) => (plan: typeof base.plan) =>
    setPin(plan, freshId(plan, `${id} height`), { track: id, at, height });
  const already = recordsInHand(input.plan, input.plan.pins).some(
    ([, p]) => p.track === id && Math.abs(p.at - from) < 1,
  );
  let edit = layLegs(base, [leg]);
  if (!already) edit = andThen(edit, pin(from, foot));
  return andThen(edit, pin(from + path.length, foot + rise), "Lay helix");
}

function footHeight(base: LayBase, { layout, plan }: ToolInput, from: Millimetres): Millimetres {
  const { anchor } = base;
  if ("track" in anchor) return heightOn(layout, `track:${anchor.track}`, anchor.end === "end" ? from : 0);
  if ("turnout" in anchor) {
    const route = layout.turnouts.get(anchor.turnout)?.routes[0];
    const line = route && layout.lines.get(route.line);
    if (line) return heightOn(layout, line.key, line.path.length);
  }
  return plan.decks[base.deck]?.height ?? 0;
}

const shown = (state: HelixState, input: ToolInput): Outcome<HelixState> => ({
  state,
  effects: previewed(helixEdit(state, input)),
});

function laid(state: HelixState, input: ToolInput): Outcome<HelixState> {
  const edit = helixEdit(state, input);
  const helix = drawn(state, input);
  if (!edit || !helix) return { state };
  const id = idOfNew(helix.base);
  return committed(edit, begun(), state, [{ do: "select", selection: [{ kind: "record", collection: "tracks", id }] }]);
}

function keyed(state: HelixState, event: ToolEvent & { type: "key" }, input: ToolInput): Outcome<HelixState> {
  const typed = typeKey(state.typing, FIELDS, event, input.units);
  if (typed) {
    const { set, typing, entered } = typed;
    const next = { ...state, typing, figures: set ? { ...state.figures, [set.field]: set.value } : state.figures };
    return entered && state.start ? laid(next, input) : shown(next, input);
  }
  if (event.key.toLowerCase() === "f")
    return shown({ ...state, hand: state.hand === "left" ? "right" : "left" }, input);
  return { state };
}
