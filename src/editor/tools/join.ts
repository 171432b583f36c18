/**
 * The join tool: two free ends, one after the other, and the shortest eased way between them. A typed number is the
 * radius, Tab goes through the ways there are, a click or Enter joins.
 */
import { snap } from "../../drafting/snap.js";
import { type FreeEnd, freeEnds } from "../../drafting/snap-targets.js";
import type { Point } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import { type Family, joinEnds, joinFamilies, joinWay, type JoinWishes } from "../../layout/relay/join-ends.js";
import type { Edit } from "../../plan/edit.js";
import { formatLength } from "../../plan/format-length.js";
import type { Anchor, TrackClass } from "../../plan/schema.js";
import type { Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import { asClass, classChoice, draftPath, endHandles, refusedLine } from "./lay-show.js";
import { limits, sameAnchor } from "./lay-start.js";
import { committed, previewed, putAside } from "./outcomes.js";
import { entryOf, entryWhile, type Field, startTyping, typeKey, type Typing } from "./typing.js";

const FIELDS: readonly Field<"radius">[] = [{ key: "radius", label: "Radius", takes: "length" }];

export interface JoinState {
  readonly class: TrackClass;
  readonly typing: Typing<"radius">;
  readonly radius: Millimetres | undefined;
  readonly from: Anchor | undefined;
  readonly to: Anchor | undefined;
  /** The end under the pointer while the second is looked for. */
  readonly over: Anchor | undefined;
  /** Which of the ways, from the shortest. */
  readonly way: number;
  readonly pressed: boolean;
}

const begun = (trackClass: TrackClass): JoinState => ({
  class: trackClass,
  typing: startTyping("radius"),
  radius: undefined,
  from: undefined,
  to: undefined,
  over: undefined,
  way: 0,
  pressed: false,
});

export const joinTool: Tool<JoinState> = {
  id: "join",
  stage: "lay",
  name: "Join",
  key: "j",
  begin: () => begun("main"),
  handle(state, event, input) {
    if (event.type === "cancel") {
      return state.from ? { state: begun(state.class), effects: [{ do: "abandon" }] } : putAside(begun(state.class));
    }
    if (event.type === "choose") {
      return shown({ ...state, class: (event.choice === "class" && asClass(event.value)) || state.class }, input);
    }
    if (event.type === "key") return keyed(state, event, input);
    const over = endAt(input, event.at);
    if (event.type === "move") return shown({ ...state, over }, input);
    if (event.type === "down") return { state: { ...state, over, pressed: true } };
    const released = { ...state, over, pressed: false };
    if (!state.pressed) return shown(released, input);
    if (!state.from) return shown(over ? { ...released, from: over, over: undefined } : released, input);
    if (!state.to) {
      const second = over && !sameAnchor(over, state.from) ? over : undefined;
      return shown({ ...released, to: second }, input);
    }
    return joined(released, input);
  },
  show(state, input) {
    const overlay: Overlay[] = endHandles(input);
    const wishes = wishesOf(state, input);
    if (state.from) {
      const from = freeEnds(input.layout).find((end) => state.from && sameAnchor(end.anchor, state.from));
      if (from) overlay.push({ kind: "handle", at: from.pose, shape: "square", name: from.word, hot: true });
    }
    if (wishes) {
      const way = joinWay(input.plan, wishes);
      if (way) overlay.push(...draftPath(way));
      else overlay.push(...refusedLine(wishes.from.pose, wishes.to.pose, "no way of that radius joins the two ends"));
    }
    const hint = !state.from
      ? "Click the first of the two ends."
      : !state.to
        ? "Click the other end."
        : "Click or Enter joins them, Tab shows the next way, type a radius. Esc gives up.";
    return {
      overlay,
      hint,
      ...entryWhile(
        state.from !== undefined,
        entryOf(state.typing, FIELDS, formatLength(radiusOf(state, input), input.units)),
      ),
      choices: [classChoice(state.class)],
      cursor: "crosshair",
    };
  },
};

function endAt({ layout, deck, reach }: ToolInput, at: Point): Anchor | undefined {
  return snap(layout, { x: at.x, y: at.y }, { reach, deck, kinds: ["end", "turnout"] }).anchor;
}

const radiusOf = (state: JoinState, { plan }: ToolInput): Millimetres =>
  state.radius ?? limits(plan, state.class).radius.value;

function wishesOf(state: JoinState, input: ToolInput): JoinWishes | undefined {
  const find = (anchor: Anchor | undefined): FreeEnd | undefined =>
    anchor && freeEnds(input.layout).find((end) => sameAnchor(end.anchor, anchor));
  const from = find(state.from);
  const to = find(state.to ?? state.over);
  if (!from || !to || sameAnchor(from.anchor, to.anchor)) return undefined;
  const wishes = { from, to, radius: radiusOf(state, input), class: state.class };
  return { ...wishes, family: familyOf(state, input, wishes) };
}

/** The shortest way needs no family named: it may find a shorter one when an end moves. */
function familyOf({ way }: JoinState, { plan }: ToolInput, wishes: JoinWishes): Family | undefined {
  if (way === 0) return undefined;
  const families = joinFamilies(plan, wishes);
  return families[way % Math.max(1, families.length)];
}

function pendingEdit(state: JoinState, input: ToolInput): Edit | undefined {
  const wishes = wishesOf(state, input);
  return wishes && joinEnds(input.plan, wishes);
}

const shown = (state: JoinState, input: ToolInput): Outcome<JoinState> => ({
  state,
  effects: previewed(pendingEdit(state, input)),
});

function joined(state: JoinState, input: ToolInput): Outcome<JoinState> {
  const edit = pendingEdit(state, input);
  return edit
    ? committed(edit, begun(state.class), state)
    : { state: begun(state.class), effects: [{ do: "abandon" }] };
}

function keyed(state: JoinState, event: ToolEvent & { type: "key" }, input: ToolInput): Outcome<JoinState> {
  if (event.key === "Tab" && state.typing.text === "") {
    const wishes = wishesOf(state, input);
    const ways = wishes ? Math.max(1, joinFamilies(input.plan, wishes).length) : 1;
    return shown({ ...state, way: (state.way + (event.shift ? ways - 1 : 1)) % ways }, input);
  }
  const typed = typeKey(state.typing, FIELDS, event, input.units);
  if (!typed) return { state };
  const next = { ...state, typing: typed.typing, radius: typed.set ? typed.set.value : state.radius };
  return typed.entered && !typed.set && state.to ? joined(next, input) : shown(next, input);
}
