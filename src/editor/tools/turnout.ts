/**
 * The turnout tool: drops a turnout on a track, slides one along it, flips its hand (F) or the way it faces (Shift+F),
 * and sets its frog number by typing. At a free end it lays the track the turnout needs. Enter goes on with a branch.
 */
import { pick } from "../../drafting/pick.js";
import { snap } from "../../drafting/snap.js";
import { nearestOnPath } from "../../geometry/nearest.js";
import { poseAt } from "../../geometry/path.js";
import { localPoint, type Point } from "../../geometry/pose.js";
import { turnoutShapeOf } from "../../layout/turnout-on-host.js";
import { turnoutFit } from "../../layout/relay/turnout-fit.js";
import { amend, andThen, type Edit, putRecord, recordAt, refused } from "../../plan/edit.js";
import { placeTurnout, sizeTurnout } from "../../plan/turnout-edits.js";
import type { Anchor, Id, Turnout } from "../../plan/schema.js";
import type { Effect, Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import { asFrog, endHandles, frogChoice, refusedLine, USUAL_FROG } from "./lay-show.js";
import { idOfNew, layBase, layLegs } from "./lay-start.js";
import { toStep } from "./legs-toward.js";
import { committed, newId, previewed, putAside } from "./outcomes.js";
import { entryOf, entryWhile, type Field, startTyping, typeKey, type Typing } from "./typing.js";

const FIELDS: readonly Field<"number">[] = [
  { key: "number", label: "Frog number", takes: "number", least: 2, most: 40 },
];

export interface TurnoutState {
  readonly number: number;
  /** Changed by F; where not, the pointer's side and way decide. */
  readonly flipHand: boolean;
  readonly flipFacing: boolean;
  readonly at: Point | undefined;
  readonly typing: Typing<"number">;
  /** The button is down: on a turnout that slides, or on track that one is dropped on. */
  readonly held: { readonly slides: Id | undefined; readonly from: Point } | undefined;
}

const begun = (number: number): TurnoutState => ({
  number,
  flipHand: false,
  flipFacing: false,
  at: undefined,
  typing: startTyping("number"),
  held: undefined,
});

export const turnoutTool: Tool<TurnoutState> = {
  id: "turnout",
  stage: "lay",
  name: "Turnout",
  key: "t",
  begin: () => begun(USUAL_FROG),
  handle(state, event, input) {
    if (event.type === "cancel") {
      return state.held
        ? { state: { ...state, held: undefined }, effects: [{ do: "abandon" }] }
        : putAside(begun(state.number));
    }
    if (event.type === "choose") return numbered(state, asFrog(event.value) ?? state.number, input);
    if (event.type === "key") return keyed(state, event, input);
    const at = { x: event.at.x, y: event.at.y };
    const moved = { ...state, at };
    if (event.type === "down") return { state: { ...moved, held: { slides: turnoutAt(input, at), from: at } } };
    if (event.type === "move") return shown(moved, input);
    const released = { ...moved, held: undefined };
    if (!state.held) return shown(released, input);
    const { slides } = state.held;
    if (slides === undefined) return dropped(released, input);
    const selection = { do: "select", selection: [{ kind: "record", collection: "turnouts", id: slides }] } as const;
    const slid =
      Math.hypot(at.x - state.held.from.x, at.y - state.held.from.y) > input.reach
        ? slideEdit(input, slides, at)
        : undefined;
    if (slid) return committed(slid, released, released, [selection]);
    return { state: released, effects: [{ do: "abandon" }, selection] };
  },
  show(state, input) {
    const overlay: Overlay[] = endHandles(input);
    const edit = pendingEdit(state, input);
    if (edit && !edit.ok && state.at) overlay.push(...refusedLine(state.at, state.at, edit.message));
    return {
      overlay,
      hint: "Click a track to put a turnout there, drag one along, F flips its hand, Shift+F turns it round, type its number, Enter lays its branch.",
      ...entryWhile(false, entryOf(state.typing, FIELDS, `No. ${state.number}`)),
      choices: [frogChoice(state.number)],
      cursor: state.held?.slides === undefined ? "crosshair" : "move",
    };
  },
};

function turnoutAt({ layout, deck, reach }: ToolInput, point: Point): Id | undefined {
  // The points are what is grasped: the diverging route may lie close to other track.
  let nearest: Id | undefined;
  let best = reach;
  for (const hit of pick(layout, { point, reach, deck, only: ["turnouts"] })) {
    const id = hit.thing.kind === "record" ? hit.thing.id : "";
    if (layout.turnouts.get(id)?.hand === "wye" || hit.distance > best) continue;
    nearest ??= id;
    best = Math.min(best, hit.distance);
  }
  return nearest;
}

/** A turnout moved along its track to abreast of the pointer; one that does not fit there is refused. */
export function slideEdit(input: ToolInput, id: Id, point: Point): Edit {
  const turnout = recordAt(input.plan, "turnouts", id);
  const line = turnout && input.layout.lines.get(`track:${turnout.on}`);
  if (!turnout || !line) return refused("there is no such turnout");
  const at = Math.max(0, toStep(nearestOnPath(line.path, point).s, input.units));
  const fit = turnoutFit(input.layout, { ...turnout, at }, id);
  return fit.ok
    ? putRecord(input.plan, "turnouts", id, amend(turnout, { at: fit.turnout.at }), "Move turnout")
    : refused(fit.why);
}

/** What a click would do; undefined away from all track. */
function pendingEdit(state: TurnoutState, input: ToolInput): Edit | undefined {
  const { at, held } = state;
  if (!at) return undefined;
  if (held?.slides !== undefined) {
    const far = Math.hypot(at.x - held.from.x, at.y - held.from.y) > input.reach;
    return far ? slideEdit(input, held.slides, at) : undefined;
  }
  return newTurnout(state, input, at)?.edit;
}

function newTurnout(
  state: TurnoutState,
  input: ToolInput,
  at: Point,
): { readonly id: Id; readonly edit: Edit } | undefined {
  const { layout, plan, deck, reach } = input;
  const caught = snap(layout, at, { reach, deck, kinds: ["end", "turnout", "track"] });
  if (caught.kind === "free") return undefined;
  if (caught.anchor) return atEnd(state, input, caught.anchor);
  const line = caught.track === undefined ? undefined : layout.lines.get(`track:${caught.track}`);
  if (!line || caught.s === undefined) return undefined;
  const left = localPoint(poseAt(line.path, caught.s), at).y >= 0;
  const facing = state.flipFacing ? "against" : "with";
  const hand = (left === (facing === "with")) !== state.flipHand ? "left" : "right";
  const turnout: Turnout = {
    on: line.id,
    at: Math.max(0, toStep(caught.s, input.units)),
    facing,
    hand,
    number: state.number,
  };
  const fit = turnoutFit(layout, turnout);
  const id = newId(plan, "turnout");
  return { id, edit: fit.ok ? placeTurnout(plan, id, fit.turnout) : refused(fit.why) };
}

/** At an end the turnout brings its own track: a straight from joint to joint, points first. */
function atEnd(
  state: TurnoutState,
  input: ToolInput,
  anchor: Anchor,
): { readonly id: Id; readonly edit: Edit } | undefined {
  const result = layBase(input, {
    start: { kind: "anchor", anchor },
    class: "main",
    frog: state.number,
    toward: undefined,
  });
  if (!result.ok) return undefined;
  const { base } = result;
  const track = idOfNew(base);
  const hand = state.flipHand ? "right" : "left";
  const turnout: Turnout = {
    on: track,
    at: 0,
    facing: state.flipFacing ? "against" : "with",
    hand,
    number: state.number,
  };
  const shape = turnoutShapeOf(turnout, input.plan, new Map());
  const before = base.extends === undefined ? 0 : (input.layout.lines.get(`track:${base.extends}`)?.path.length ?? 0);
  const id = newId(input.plan, "turnout");
  if (!shape.ok) return { id, edit: refused(shape.note) };
  const { joint, heel } = shape.value;
  const at = before + (state.flipFacing ? heel : -joint);
  const edit = andThen(
    layLegs(base, [{ straight: heel - joint }]),
    (plan) => placeTurnout(plan, id, { ...turnout, at }),
    "Place turnout",
  );
  return { id, edit };
}

const shown = (state: TurnoutState, input: ToolInput): Outcome<TurnoutState> => {
  const edit = pendingEdit(state, input);
  return { state, effects: edit ? previewed(edit) : [{ do: "abandon" }] };
};

function dropped(state: TurnoutState, input: ToolInput): Outcome<TurnoutState> {
  const made = state.at && newTurnout(state, input, state.at);
  if (!made) return shown(state, input);
  const select: Effect = { do: "select", selection: [{ kind: "record", collection: "turnouts", id: made.id }] };
  return committed(made.edit, { ...state, flipHand: false, at: undefined }, state, [select]);
}

/** The turnout that is chosen, if one is. */
function chosenTurnout({ plan, selection }: ToolInput): Id | undefined {
  const only = selection.length === 1 ? selection[0] : undefined;
  if (only?.kind !== "record" || only.collection !== "turnouts") return undefined;
  return Object.hasOwn(plan.turnouts, only.id) ? only.id : undefined;
}

/** The number of the turnout that is chosen, and of those to come. */
function numbered(state: TurnoutState, number: number, input: ToolInput): Outcome<TurnoutState> {
  const next = { ...state, number, typing: startTyping("number" as const) };
  const id = chosenTurnout(input);
  const turnout = id === undefined ? undefined : input.plan.turnouts[id];
  if (id === undefined || !turnout) return shown(next, input);
  const changed = amend(turnout, { number, template: undefined });
  const fit = turnoutFit(input.layout, changed, id);
  return committed(
    fit.ok ? moveTo(input, id, fit.turnout, sizeTurnout(input.plan, id, { number })) : refused(fit.why),
    next,
    next,
  );
}

/** The same turnout slid as far as it must be to fit. */
const moveTo = (input: ToolInput, id: Id, turnout: Turnout, edit: Edit): Edit =>
  input.plan.turnouts[id]?.at === turnout.at ? edit : andThen(edit, (plan) => putRecord(plan, "turnouts", id, turnout));

export function flipEdit(input: ToolInput, id: Id, what: "hand" | "facing"): Edit {
  const turnout = recordAt(input.plan, "turnouts", id);
  if (!turnout) return refused("there is no such turnout");
  if (turnout.hand === "wye") return refused("a wye has no hand, and faces the end it lies at");
  const changed: Turnout =
    what === "hand"
      ? { ...turnout, hand: turnout.hand === "left" ? "right" : "left" }
      : { ...turnout, facing: turnout.facing === "with" ? "against" : "with" };
  const fit = turnoutFit(input.layout, changed, id);
  if (!fit.ok) return refused(fit.why);
  return putRecord(input.plan, "turnouts", id, fit.turnout, what === "hand" ? "Flip turnout" : "Turn turnout round");
}

function keyed(state: TurnoutState, event: ToolEvent & { type: "key" }, input: ToolInput): Outcome<TurnoutState> {
  const typed = typeKey(state.typing, FIELDS, event, input.units);
  if (typed) {
    if (typed.set) return numbered({ ...state, typing: typed.typing }, typed.set.value, input);
    if (typed.entered && chosenTurnout(input) !== undefined) {
      return { state, effects: [{ do: "abandon" }, { do: "tool", tool: "line" }] };
    }
    return { state: { ...state, typing: typed.typing } };
  }
  if (event.key.toLowerCase() !== "f") return { state };
  const what = event.shift ? "facing" : "hand";
  const id = chosenTurnout(input);
  // Over track the turnout in hand is flipped, else the one that lies there already.
  if (id !== undefined && (!state.at || newTurnout(state, input, state.at)?.edit.ok !== true)) {
    return committed(flipEdit(input, id, what), state, state);
  }
  const next = what === "hand" ? { ...state, flipHand: !state.flipHand } : { ...state, flipFacing: !state.flipFacing };
  return shown(next, input);
}
