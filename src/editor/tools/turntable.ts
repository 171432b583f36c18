/**
 * The turntable tool: a click on an end of track puts a turntable there. Its bridge, the number of its stalls and the
 * angle between them are typed; a click round it adds a stall in that direction, one on a stall takes it away.
 */
import { bearing, distance, type Point } from "../../geometry/pose.js";
import { type Degrees, type Millimetres, toDegrees, wrapAngle } from "../../geometry/units.js";
import { pitCentre, type PlacedTurntable } from "../../layout/turntable.js";
import { Building } from "../../layout/trackwork-makers/building.js";
import { amendRecord, type Edit, recordAt, refused } from "../../plan/edit.js";
import { formatLength } from "../../plan/format-length.js";
import { formatAngle } from "../../plan/grade-text.js";
import { freshId } from "../../plan/fresh-id.js";
import type { Anchor, Id, Turntable } from "../../plan/schema.js";
import { settingOf } from "../../plan/settings.js";
import { addStall, evenStalls, removeStall, spreadStalls } from "../../plan/turntable-edits.js";
import type { Choice, Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import { caughtMark, endHandles, refusedLine } from "./lay-show.js";
import { caughtForStart, startFromSelection } from "./lay-start.js";
import { lengthStep } from "./legs-toward.js";
import { madeOnce, pastBumper } from "./made.js";
import { committed, previewed, putAside } from "./outcomes.js";
import { entryOf, entryWhile, type Field, startTyping, typeKey, type Typing } from "./typing.js";

type Figure = "bridge" | "stalls" | "between";
const MOST_STALLS = 200;
const FIELDS: readonly Field<Figure>[] = [
  { key: "bridge", label: "Bridge", takes: "length" },
  { key: "stalls", label: "Stalls", takes: "number", least: 0, most: MOST_STALLS },
  { key: "between", label: "Angle between", takes: "angle", least: 0.1, most: 180 },
];

export interface TurntableState {
  readonly at: Point | undefined;
  readonly figures: { readonly [K in Figure]?: number };
  readonly typing: Typing<Figure>;
  readonly pressed: Point | undefined;
}

const begun = (kept?: TurntableState): TurntableState => ({
  at: undefined,
  figures: kept?.figures ?? {},
  typing: startTyping("bridge"),
  pressed: undefined,
});

/** Figures to begin with, to be typed over. The bridge is a tenth longer than the plan's engine. */
const FIRST: { readonly stalls: number; readonly between: Degrees } = { stalls: 3, between: 15 };
const OVER_ENGINE = 1.1;
/** Directions a pointer gives are whole degrees; those of the centre and beyond so many bridges away mean nothing. */
const NEAR_BRIDGES = 2;
/** Numbers of stalls offered; any other can be typed. */
const COUNTS = [0, 1, 2, 3, 4, 5, 6, 8, 12];

export const turntableTool: Tool<TurntableState> = {
  id: "turntable",
  stage: "lay",
  name: "Turntable",
  key: "n",
  begin: () => begun(),
  handle(state, event, input) {
    if (event.type === "cancel") return putAside(begun());
    if (event.type === "choose")
      return { ...(event.choice === "stalls" ? set(state, "stalls", Number(event.value), input) : { state }) };
    if (event.type === "key") return keyed(state, event, input);
    const at = { x: event.at.x, y: event.at.y };
    const moved = { ...state, at };
    if (event.type === "move") return shown(moved, input);
    if (event.type === "down") return shown({ ...moved, pressed: at }, input);
    const released = { ...moved, pressed: undefined };
    return state.pressed && distance(state.pressed, at) <= input.reach
      ? clicked(released, input)
      : shown(released, input);
  },
  show(state, input) {
    const chosen = chosenTurntable(input);
    const overlay: Overlay[] = [...endHandles(input), ...caughtMark(caughtAt(state, input))];
    const deed = deedAt(state, input);
    const toward = deed?.kind === "stall" ? deed : undefined;
    if (toward) overlay.push({ kind: "line", points: [toward.centre, toward.point], style: "guide" });
    if (deed && !deed.edit.ok && state.at) overlay.push(...refusedLine(state.at, state.at, deed.edit.message));
    else if (deed) overlay.push({ kind: "label", at: deed.point, text: deed.text, style: "draft" });
    return {
      overlay,
      hint: chosen
        ? "Type bridge, stalls and the angle between them (Tab goes on). Click round it for one more stall, on a stall to take it away. Enter lays track from a stall."
        : "Click the end of the track that leads to the turntable. Type bridge, stalls and the angle between them.",
      ...entryWhile(chosen !== undefined, entryOf(state.typing, FIELDS, figureText(state, input))),
      choices: [stallsChoice(chosen?.record.stalls.length ?? state.figures.stalls ?? FIRST.stalls)],
      cursor: "crosshair",
    };
  },
};

const stallsChoice = (value: number): Choice => ({
  id: "stalls",
  label: "Stalls",
  value: String(value),
  options: [...new Set([...COUNTS, value])].sort((a, b) => a - b).map((n) => ({ value: String(n), label: String(n) })),
});

interface Chosen {
  readonly id: Id;
  readonly record: Turntable;
}

function chosenTurntable({ plan, selection }: ToolInput): Chosen | undefined {
  const only = selection.length === 1 ? selection[0] : undefined;
  if (only?.kind !== "record" || only.collection !== "turntables") return undefined;
  const record = recordAt(plan, "turntables", only.id);
  return record && { id: only.id, record };
}

interface Wanted {
  readonly bridge: Millimetres;
  readonly stalls: number;
  readonly between: Degrees;
}

/** Of the chosen turntable, where there is one; else what was typed, or the figures to begin with. */
function figuresOf({ figures }: TurntableState, { plan, units }: ToolInput, chosen?: Chosen): Wanted {
  if (chosen) {
    const { bridge, stalls } = chosen.record;
    const [first, second] = stalls;
    const between = first === undefined || second === undefined ? undefined : Math.abs(second - first);
    return { bridge, stalls: stalls.length, between: between || figures.between || FIRST.between };
  }
  const step = lengthStep(units);
  const usual = Math.ceil((settingOf(plan, "engine").value * OVER_ENGINE) / step) * step;
  const { bridge = usual, stalls = FIRST.stalls, between = FIRST.between } = figures;
  return { bridge, stalls, between };
}

const caughtAt = ({ at }: TurntableState, input: ToolInput) => {
  const caught = at && caughtForStart(input, at, "yard");
  return caught?.kind === "end" || caught?.kind === "turnout" ? caught : undefined;
};

interface Deed {
  readonly kind: "place" | "stall";
  readonly edit: Edit;
  /** The turntable it is about. */
  readonly id: Id;
  readonly centre: Point;
  readonly point: Point;
  readonly text: string;
}

/** What a click would do; undefined where it would do nothing. */
function deedAt(state: TurntableState, input: ToolInput): Deed | undefined {
  const caught = caughtAt(state, input);
  if (caught?.anchor && caught.pose && !("turntable" in caught.anchor)) {
    const { bridge, stalls } = figuresOf(state, input);
    const centre = pitCentre(caught.pose, bridge);
    const text = `bridge ${formatLength(bridge, input.units)}, ${stalls} ${stalls === 1 ? "stall" : "stalls"}`;
    const id = freshId(input.plan, "turntable");
    return { kind: "place", id, edit: placeEdit(state, input, caught.anchor), centre, point: centre, text };
  }
  const chosen = chosenTurntable(input);
  const placed = chosen && input.layout.turntables.get(chosen.id);
  return placed && state.at ? stallDeed(placed, state.at, input) : undefined;
}

function placeEdit(state: TurntableState, { layout, plan, units, ...rest }: ToolInput, anchor: Anchor): Edit {
  if (!("track" in anchor)) return refused("a turntable lies at the end of a track: lay some track first");
  const { bridge, stalls, between } = figuresOf(state, { layout, plan, units, ...rest });
  const turntable: Turntable = { on: anchor.track, end: anchor.end, bridge, stalls: evenStalls(stalls, between) };
  return madeOnce(layout, `turntable ${JSON.stringify(turntable)}`, () => {
    const building = new Building(layout, "Place turntable");
    building.put("turntables", freshId(plan, "turntable"), turntable);
    return pastBumper(building.finish(), anchor);
  }).edit;
}

function stallDeed(placed: PlacedTurntable, at: Point, input: ToolInput): Deed | undefined {
  const { centre, radius, pose, stalls, id } = placed;
  const away = distance(centre, at);
  if (away < radius / 2 || away > 2 * radius * NEAR_BRIDGES) return undefined;
  const angle = Math.round(toDegrees(wrapAngle(bearing(centre, at) - pose.heading)));
  const near = stalls.findIndex(
    (stall) => Math.abs(wrapAngle(stall.heading - bearing(centre, at))) < nearAngle(placed, input),
  );
  const edit = near === -1 ? fitted(input, addStall(input.plan, id, angle)) : removeStall(input.plan, id, near);
  const text = near === -1 ? `stall at ${formatAngle(angle)}` : `take stall ${near + 1} away`;
  return { kind: "stall", id, edit, centre, point: at, text };
}

/** Directions that fall on one stall: its track's own width at the edge of the pit, or the reach of the hand. */
const nearAngle = ({ radius }: PlacedTurntable, { plan, reach }: ToolInput): number =>
  Math.min(Math.max(plan.scale.gauge, reach) / 2 / radius, Math.PI / 12);

/** The edit, where the layout has nothing new to find fault with. */
function fitted({ layout }: ToolInput, edit: Edit): Edit {
  if (!edit.ok) return edit;
  const { plan, name } = edit;
  return madeOnce(layout, `stalls ${JSON.stringify(plan.turntables)}`, () => {
    const building = new Building(layout, name);
    for (const [id, turntable] of Object.entries(plan.turntables))
      if (turntable !== layout.plan.turntables[id]) building.put("turntables", id, turntable);
    return building.finish();
  }).edit;
}

function shown(state: TurntableState, input: ToolInput): Outcome<TurntableState> {
  return { state, effects: previewed(deedAt(state, input)?.edit) };
}

const selectTurntable = (id: Id) =>
  [{ do: "select", selection: [{ kind: "record", collection: "turntables", id }] }] as const;

function clicked(state: TurntableState, input: ToolInput): Outcome<TurntableState> {
  const deed = deedAt(state, input);
  if (!deed) return shown(state, input);
  return committed(deed.edit, { ...state, at: undefined }, state, selectTurntable(deed.id));
}

/** A figure of the chosen turntable, and of those to come. */
function set(state: TurntableState, figure: Figure, value: number, input: ToolInput): Outcome<TurntableState> {
  const next: TurntableState = { ...state, figures: { ...state.figures, [figure]: value } };
  const chosen = chosenTurntable(input);
  if (!chosen) return shown(next, input);
  const { plan } = input;
  const { stalls, between }: Wanted = { ...figuresOf(state, input, chosen), [figure]: value };
  const edit =
    figure === "bridge"
      ? amendRecord(plan, "turntables", chosen.id, { bridge: value }, "Change bridge")
      : spreadStalls(plan, chosen.id, stalls, between);
  return committed(fitted(input, edit), next, state);
}

function keyed(state: TurntableState, event: ToolEvent & { type: "key" }, input: ToolInput): Outcome<TurntableState> {
  const typed = typeKey(state.typing, FIELDS, event, input.units);
  if (!typed) return { state };
  const next = { ...state, typing: typed.typing };
  if (typed.set) return set(next, typed.set.field, typed.set.value, input);
  if (!typed.entered) return shown(next, input);
  if (chosenTurntable(input)) return { state: next, effects: [{ do: "abandon" }, { do: "tool", tool: "line" }] };
  const start = startFromSelection(input);
  if (start?.kind !== "anchor") return { state: next };
  return committed(placeEdit(next, input, start.anchor), next, next, selectTurntable(freshId(input.plan, "turntable")));
}

function figureText(state: TurntableState, input: ToolInput): string {
  const { bridge, stalls, between } = figuresOf(state, input, chosenTurntable(input));
  const { field } = state.typing;
  return field === "bridge"
    ? formatLength(bridge, input.units)
    : field === "stalls"
      ? String(stalls)
      : formatAngle(between);
}
