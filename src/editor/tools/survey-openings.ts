/**
 * Door, window and passage: one machine with three faces. Over a wall the opening shows where it would be; a click sets
 * it there, it slides along until a second click or Enter, and everything about it can be typed. An opening that is
 * there is taken up again by a click on it.
 */
import { doorSwing, openingPose } from "../../layout/openings.js";
import { nearestWall, openingTrouble, placeOnWall, wallOf } from "../../drafting/walls.js";
import { bearing, offsetPoint, type Point } from "../../geometry/pose.js";
import { wrapAngle, type Millimetres } from "../../geometry/units.js";
import { type Edit, refused } from "../../plan/edit.js";
import { formatLength } from "../../plan/format-length.js";
import { INCH } from "../../plan/parse-length.js";
import { putOpening, removeOpening } from "../../plan/room-edits.js";
import type { Id, Opening, Plan } from "../../plan/schema.js";
import type { Choice, Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import { committed, newId, previewed, putAside } from "./outcomes.js";
import { entryOf, entryWhile, type Field, startTyping, typeKey, type Typing } from "./typing.js";

type Kind = Opening["kind"];
type OpeningField = "width" | "at" | "sill" | "head";
type Swing = NonNullable<Opening["swing"]>;

interface Sizes {
  readonly width: Millimetres;
  readonly sill?: Millimetres;
  readonly head?: Millimetres;
  readonly swing?: Swing;
}

export interface OpeningState {
  readonly sizes: Sizes;
  readonly typing: Typing<OpeningField>;
  /** Shown under the hand, or set on its wall and sliding; `typed` stands where it was typed to. */
  readonly on?: { readonly wall: number; readonly at: Millimetres; readonly set: boolean; readonly typed?: boolean };
  /** The opening taken up. */
  readonly id?: Id;
}

/** How far from a wall the hand may be, px. */
const NEAR_WALL = 60;

/** The four ways a leaf can swing, in the order a key goes through them. */
export const SWINGS: readonly Swing[] = [
  { hinge: "near", into: "room" },
  { hinge: "far", into: "room" },
  { hinge: "far", into: "outside" },
  { hinge: "near", into: "outside" },
];
const SWING_WORDS = [
  "hinge near, into the room",
  "hinge far, into the room",
  "hinge far, outward",
  "hinge near, outward",
];

/** Usual sizes (common practice, no source). */
const USUAL: Readonly<Record<Kind, Readonly<Record<Plan["units"], Sizes>>>> = {
  door: {
    imperial: { width: 32 * INCH, head: 80 * INCH, swing: SWINGS[0] as Swing },
    metric: { width: 860, head: 2010, swing: SWINGS[0] as Swing },
  },
  window: {
    imperial: { width: 36 * INCH, sill: 36 * INCH, head: 80 * INCH },
    metric: { width: 1000, sill: 900, head: 2100 },
  },
  passage: { imperial: { width: 36 * INCH, head: 80 * INCH }, metric: { width: 900, head: 2010 } },
};

const WIDTH: Field<OpeningField> = { key: "width", label: "Width", takes: "length" };
const AT: Field<OpeningField> = { key: "at", label: "From the wall’s first corner", takes: "length", least: 0 };
const SILL: Field<OpeningField> = { key: "sill", label: "Sill above the floor", takes: "length", least: 0 };
const HEAD: Field<OpeningField> = { key: "head", label: "Head above the floor", takes: "length" };
const FIELDS: Readonly<Record<Kind, readonly Field<OpeningField>[]>> = {
  door: [WIDTH, AT, HEAD],
  window: [WIDTH, SILL, HEAD, AT],
  passage: [WIDTH, AT, HEAD],
};

const CAUTION: Readonly<Record<Kind, string>> = {
  door: "S changes the swing. Keep the swing and the way out free.",
  window: "A window may be the second way out: keep it free. Local codes decide.",
  passage: "Keep the way out free.",
};

const tool = (kind: Kind, name: string, key: string): Tool<OpeningState> => ({
  id: kind,
  stage: "survey",
  name,
  key,
  begin: ({ units }) => rest(USUAL[kind][units]),

  handle(state, event, input): Outcome<OpeningState> {
    if (event.type === "cancel") {
      if (!state.on?.set && state.typing.text === "") return putAside(rest(state.sizes));
      return { state: rest(USUAL[kind][input.units]), effects: [{ do: "abandon" }] };
    }
    if (event.type === "choose") {
      const swing = SWINGS[Number(event.value)];
      return event.choice === "swing" && kind === "door" && swing ? sized(kind, state, { swing }, input) : { state };
    }
    if (event.type === "key") return keyed(kind, state, event, input);
    if (event.type === "down") return pressed(kind, state, event, input);
    if (event.type === "up") return { state };
    return hovered(kind, state, event, input);
  },

  show(state, input) {
    const opening = openingOf(kind, state);
    const trouble = opening && openingTrouble(input.plan.room, opening, state.id);
    const overlay: Overlay[] = opening ? drawn(opening, trouble, input) : [];
    const value = state.typing.field === "at" ? state.on?.at : state.sizes[state.typing.field];
    const hint = !state.on?.set
      ? `Click a wall where the ${kind} is; click one that is there to change it. ${CAUTION[kind]}`
      : `Slide it, type its ${kind === "window" ? "width, sill and head" : "width"} (Tab for the next); click or Enter sets it${state.id === undefined ? "" : ", Delete removes it"}. ${CAUTION[kind]}`;
    return {
      overlay,
      hint,
      ...entryWhile(
        state.on?.set === true,
        entryOf(state.typing, FIELDS[kind], value === undefined ? "" : formatLength(value, input.units)),
      ),
      ...(kind === "door" && { choices: [swingChoice(state.sizes.swing)] }),
      cursor: "crosshair",
    };
  },
});

export const doorTool = tool("door", "Door", "d");
export const windowTool = tool("window", "Window", "n");
export const passageTool = tool("passage", "Passage", "p");

const rest = (sizes: Sizes): OpeningState => ({ sizes, typing: startTyping("width") });

const swingIndex = (swing: Swing | undefined): number =>
  SWINGS.findIndex(({ hinge, into }) => hinge === swing?.hinge && into === swing.into);

const swingChoice = (swing: Swing | undefined): Choice => ({
  id: "swing",
  label: "Swing",
  value: String(Math.max(0, swingIndex(swing))),
  options: SWING_WORDS.map((label, i) => ({ value: String(i), label })),
});

function openingOf(kind: Kind, { on, sizes }: OpeningState): Opening | undefined {
  return on && { kind, wall: on.wall, at: on.at, ...sizes };
}

function edited(kind: Kind, state: OpeningState, plan: Plan): Edit | undefined {
  const opening = openingOf(kind, state);
  if (!opening) return undefined;
  const trouble = openingTrouble(plan.room, opening, state.id);
  if (trouble !== undefined) return refused(trouble);
  const before = state.id === undefined ? undefined : plan.room.openings[state.id];
  // What the tool does not know of an opening stays with it.
  return putOpening(plan, state.id ?? newId(plan, kind), { ...before, ...opening });
}

const shown = (kind: Kind, state: OpeningState, { plan }: ToolInput): Outcome<OpeningState> => ({
  state,
  effects: previewed(edited(kind, state, plan)),
});

type Hand = ToolEvent & { readonly type: "down" | "move" | "up" };

function pressed(kind: Kind, state: OpeningState, event: Hand, input: ToolInput): Outcome<OpeningState> {
  if (state.on?.set) {
    const { state: slid } = hovered(kind, state, event, input);
    return set(kind, slid, input);
  }
  const there = openingUnder(kind, event.at, input);
  if (there) return shown(kind, there, input);
  const { state: hover } = hovered(kind, state, event, input);
  return hover.on ? shown(kind, { ...hover, on: { ...hover.on, set: true } }, input) : { state: hover };
}

function hovered(kind: Kind, state: OpeningState, event: Hand, input: ToolInput): Outcome<OpeningState> {
  const { outline } = input.plan.room;
  const { on } = state;
  if (on?.typed) return { state };
  const place = on?.set ? placeOnWall(outline, on.wall, event.at) : nearestWall(outline, event.at);
  const wall = place && wallOf(outline, place.wall);
  if (!place || !wall || (!on?.set && place.distance > NEAR_WALL / input.viewport.scale)) {
    const { on: _, ...off } = state;
    return on ? { state: off, effects: [{ do: "abandon" }] } : { state };
  }
  const at = slide(
    place.at - state.sizes.width / 2,
    state,
    place.wall,
    wall.length,
    event.alt ? 0 : input.reach,
    input.plan,
  );
  return shown(kind, { ...state, on: { wall: place.wall, at, set: on?.set ?? false } }, input);
}

/** Caught by the middle of the wall, its ends, and what else is in it. */
function slide(
  at: Millimetres,
  { sizes, id }: OpeningState,
  wall: number,
  length: Millimetres,
  reach: Millimetres,
  plan: Plan,
): Millimetres {
  const { width } = sizes;
  const room = Math.max(length - width, 0);
  const others = Object.entries(plan.room.openings).filter(([other, o]) => other !== id && o.wall === wall);
  const marks = [0, room, room / 2, ...others.flatMap(([, o]) => [o.at + o.width, o.at - width])];
  const caught = marks.find((mark) => Math.abs(mark - at) <= reach);
  return Math.min(Math.max(caught ?? at, 0), room);
}

function openingUnder(kind: Kind, point: Point, { plan, reach }: ToolInput): OpeningState | undefined {
  const place = nearestWall(plan.room.outline, point);
  if (!place || place.distance > reach) return undefined;
  for (const [id, opening] of Object.entries(plan.room.openings)) {
    const { wall, at, width, sill, head, swing } = opening;
    if (opening.kind !== kind || wall !== place.wall || place.at < at || place.at > at + width) continue;
    const sizes = {
      width,
      ...(sill !== undefined && { sill }),
      ...(head !== undefined && { head }),
      ...(swing && { swing }),
    };
    return { sizes, typing: startTyping("width"), on: { wall, at, set: true }, id };
  }
  return undefined;
}

function set(kind: Kind, state: OpeningState, input: ToolInput): Outcome<OpeningState> {
  const edit = edited(kind, state, input.plan);
  return edit ? committed(edit, rest(state.sizes), state) : { state };
}

/** Other sizes about the same middle, or at the same place where that was typed. */
function sized(kind: Kind, state: OpeningState, change: Partial<Sizes>, input: ToolInput): Outcome<OpeningState> {
  const sizes = { ...state.sizes, ...change };
  const { on } = state;
  if (!on) return { state: { ...state, sizes } };
  const length = wallOf(input.plan.room.outline, on.wall)?.length ?? 0;
  const centred = on.at + (state.sizes.width - sizes.width) / 2;
  const at = on.typed ? on.at : Math.min(Math.max(centred, 0), Math.max(length - sizes.width, 0));
  return shown(kind, { ...state, sizes, on: { ...on, at } }, input);
}

function keyed(
  kind: Kind,
  state: OpeningState,
  event: ToolEvent & { readonly type: "key" },
  input: ToolInput,
): Outcome<OpeningState> {
  const typed = typeKey(state.typing, FIELDS[kind], event, input.units);
  if (typed) {
    const next = { ...state, typing: typed.typing };
    const given = typed.set;
    let after: Outcome<OpeningState> = { state: next };
    if (given?.field === "at") {
      if (next.on) after = shown(kind, { ...next, on: { ...next.on, at: given.value, set: true, typed: true } }, input);
    } else if (given) after = sized(kind, next, { [given.field]: given.value }, input);
    return typed.entered && after.state.on?.set ? set(kind, after.state, input) : after;
  }
  if (kind === "door" && event.key.toLowerCase() === "s") {
    const swing = SWINGS[(swingIndex(state.sizes.swing) + 1) % SWINGS.length];
    return swing ? sized(kind, state, { swing }, input) : { state };
  }
  if (event.key === "Delete" && state.id !== undefined) {
    return committed(removeOpening(input.plan, state.id), rest(state.sizes), state);
  }
  if (event.key === "Backspace" && state.on?.set) return { state: rest(state.sizes), effects: [{ do: "abandon" }] };
  return { state };
}

function drawn(opening: Opening, trouble: string | undefined, { plan, units }: ToolInput): Overlay[] {
  const pose = openingPose(plan.room, opening);
  if (!pose) return [];
  const far = offsetPoint(pose, opening.width, 0);
  const style = trouble === undefined ? "draft" : "refused";
  const overlay: Overlay[] = [{ kind: "line", points: [pose, far], style }];
  const wall = wallOf(plan.room.outline, opening.wall);
  const middle = offsetPoint(pose, opening.width / 2, 0);
  overlay.push({ kind: "label", at: middle, text: trouble ?? formatLength(opening.width, units), style });
  if (wall && trouble === undefined) {
    const before = offsetPoint({ ...wall.from, heading: wall.heading }, opening.at / 2, 0);
    overlay.push({ kind: "line", points: [wall.from, pose], style: "guide" });
    overlay.push({ kind: "label", at: before, text: formatLength(opening.at, units) });
  }
  const swing = doorSwing(plan.room, opening);
  if (swing) {
    const [from, to] = [bearing(swing.hinge, swing.open), bearing(swing.hinge, swing.shut)];
    const sweep = wrapAngle(to - from);
    const arc = Array.from({ length: SWEEP + 1 }, (_, i) =>
      offsetPoint({ ...swing.hinge, heading: from + (sweep * i) / SWEEP }, opening.width, 0),
    );
    overlay.push({ kind: "line", points: [swing.hinge, ...arc], style: "guide" });
  }
  return overlay;
}

/** Chords of a door's sweep. */
const SWEEP = 12;
