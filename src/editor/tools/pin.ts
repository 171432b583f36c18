/**
 * The pin tool: a click on a track pins its height there; the height is typed, in units or as a deck’s name. Pins are
 * dragged along their track, Delete takes one up.
 */
import { pick } from "../../drafting/pick.js";
import { nearestOnPath } from "../../geometry/nearest.js";
import { poseAt } from "../../geometry/path.js";
import type { Point } from "../../geometry/pose.js";
import { heightOf, pinHere, type PinTo } from "../../layout/relay/climb-pins.js";
import { deckNamed, heightOn } from "../../layout/place-names.js";
import { amend, type Edit, putRecord, recordAt, refused } from "../../plan/edit.js";
import { formatLength } from "../../plan/format-length.js";
import { parseLength } from "../../plan/parse-length.js";
import { BOUNDS, type Id, type Plan } from "../../plan/schema.js";
import { movePin, removePin } from "../../plan/turnout-edits.js";
import type { Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import { toStep } from "./legs-toward.js";
import { trackAt, type TrackSpot } from "./on-track.js";
import { committed, newId, previewed, putAside } from "./outcomes.js";
import { entryOf, type Field, startTyping, typeKey, type Typing } from "./typing.js";

const FIELDS: readonly Field<"height">[] = [{ key: "height", label: "Height, or a deck", takes: "name" }];

export interface PinState {
  readonly typing: Typing<"height">;
  readonly spot: TrackSpot | undefined;
  readonly over: Id | undefined;
  readonly held: { readonly pin: Id | undefined; readonly from: Point } | undefined;
  readonly at: Point | undefined;
}

const EMPTY: PinState = {
  typing: startTyping("height"),
  spot: undefined,
  over: undefined,
  held: undefined,
  at: undefined,
};

export const pinTool: Tool<PinState> = {
  id: "pin",
  stage: "grade",
  name: "Pin height",
  key: "p",
  begin: () => EMPTY,
  handle(state, event, input) {
    if (event.type === "cancel") {
      if (state.held || state.typing.text !== "") return { state: EMPTY, effects: [{ do: "abandon" }] };
      return putAside(EMPTY);
    }
    if (event.type === "choose") return { state };
    if (event.type === "key") return keyed(state, event, input);
    const at = { x: event.at.x, y: event.at.y };
    const moved = { ...state, at, spot: trackAt(input, at), over: pinUnder(input, at) };
    if (event.type === "down") return { state: { ...moved, held: { pin: moved.over, from: at } } };
    const drag = dragged(moved, input);
    if (event.type === "move") return { state: moved, effects: drag ? previewed(drag) : [] };
    const released = { ...moved, held: undefined };
    if (!state.held) return { state: released };
    if (drag) return committed(drag, released, released, selectPin(state.held.pin ?? ""));
    if (state.held.pin !== undefined)
      return { state: released, effects: [{ do: "abandon" }, ...selectPin(state.held.pin)] };
    const { spot } = released;
    if (!spot) return { state: released, effects: [{ do: "select", selection: [] }] };
    const place = { track: spot.track, at: neat(spot, input) };
    const id = newId(input.plan, `${spot.track} height`);
    const height = heightOn(input.layout, `track:${spot.track}`, place.at);
    const edit = pinHere(input.plan, input.layout, place, { height }, id);
    const made = edit.ok && recordAt(edit.plan, "pins", id) ? id : undefined;
    return committed(
      edit,
      { ...released, typing: startTyping("height") },
      released,
      made === undefined ? [] : selectPin(made),
    );
  },
  show(state, input) {
    const overlay: Overlay[] = [];
    const { spot } = state;
    if (spot && !state.held && state.over === undefined) {
      const height = heightOn(input.layout, `track:${spot.track}`, spot.at);
      overlay.push({ kind: "snap", at: spot.point, to: "" });
      overlay.push({ kind: "label", at: spot.point, text: formatLength(height, input.units), style: "draft" });
    }
    const pin = chosenPin(input);
    const line = pin && input.layout.lines.get(`track:${pin.track}`);
    if (pin && line)
      overlay.push({ kind: "handle", at: poseAt(line.path, pin.at), shape: "ring", name: "height pin", hot: true });
    return {
      overlay,
      hint: pin
        ? "Type its height or a deck’s name, Enter sets it; drag it along the track; Delete takes it up."
        : "Click a track to pin its height there.",
      ...(pin && { entry: entryOf(state.typing, FIELDS, pinText(pin, input)) }),
      cursor: state.over === undefined ? "crosshair" : "move",
    };
  },
};

const selectPin = (id: Id) => [{ do: "select", selection: [{ kind: "record", collection: "pins", id }] }] as const;

function neat({ track, at }: TrackSpot, { layout, units }: ToolInput): number {
  const length = layout.lines.get(`track:${track}`)?.path.length ?? 0;
  return Math.min(length, Math.max(0, toStep(at, units)));
}

function pinUnder({ layout, deck, reach }: ToolInput, point: Point): Id | undefined {
  const hit = pick(layout, { point, reach, deck, only: ["pins"] })[0];
  return hit?.thing.kind === "record" ? hit.thing.id : undefined;
}

const chosenPinId = ({ selection, plan }: ToolInput): Id | undefined => {
  const only = selection.length === 1 ? selection[0] : undefined;
  return only?.kind === "record" && only.collection === "pins" && Object.hasOwn(plan.pins, only.id)
    ? only.id
    : undefined;
};
function chosenPin(input: ToolInput) {
  const id = chosenPinId(input);
  return id === undefined ? undefined : input.plan.pins[id];
}

const pinText = (pin: Plan["pins"][string], { plan, units }: ToolInput): string =>
  pin.deck === undefined ? formatLength(pin.height ?? 0, units) : (plan.decks[pin.deck]?.name ?? pin.deck);

/** The pin moved along its track; undefined while nothing is dragged. */
function dragged({ held, at }: PinState, input: ToolInput): Edit | undefined {
  if (held?.pin === undefined || !at) return undefined;
  if (Math.hypot(at.x - held.from.x, at.y - held.from.y) <= input.reach) return undefined;
  return slidePin(input, held.pin, at);
}

export function slidePin(input: ToolInput, id: Id, point: Point): Edit {
  const pin = recordAt(input.plan, "pins", id);
  const line = pin && input.layout.lines.get(`track:${pin.track}`);
  if (!pin || !line) return refused("there is no such pin");
  return movePin(input.plan, id, neat({ track: pin.track, at: nearestOnPath(line.path, point).s, point }, input));
}

/** A height in the plan's units, or the name of a deck; refused with a sentence where it is neither. */
export function readHeight(plan: Plan, text: string, units: Plan["units"]): PinTo | { readonly why: string } {
  const deck = deckNamed(plan, text.trim());
  if (deck !== undefined) return { deck };
  const length = parseLength(text, units);
  if (!length.ok) return { why: `${length.message}, and no deck is called that` };
  return Math.abs(length.mm) > BOUNDS.height ? { why: "that is higher than any room" } : { height: length.mm };
}

export function setPinEdit(plan: Plan, id: Id, to: PinTo): Edit {
  const pin = recordAt(plan, "pins", id);
  if (!pin || heightOf(plan, to) === undefined) return refused("there is no such pin, or no such deck");
  return putRecord(plan, "pins", id, amend(pin, { height: undefined, deck: undefined, ...to }), "Change height");
}

function keyed(state: PinState, event: ToolEvent & { type: "key" }, input: ToolInput): Outcome<PinState> {
  const id = chosenPinId(input);
  if (id === undefined) return { state };
  if (event.key === "Delete" || (event.key === "Backspace" && state.typing.text === "")) {
    return committed(removePin(input.plan, id), EMPTY, state);
  }
  const typed = typeKey(state.typing, FIELDS, event, input.units);
  if (!typed) return { state };
  if (!typed.set) return { state: { ...state, typing: typed.typing } };
  const to = readHeight(input.plan, typed.set.text, input.units);
  if ("why" in to) return { state: { ...state, typing: { field: "height", text: typed.set.text, error: to.why } } };
  const next = { ...state, typing: typed.typing };
  return committed(setPinEdit(input.plan, id, to), next, next);
}
