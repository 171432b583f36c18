/**
 * "Climb at this grade to that height from here", and "hold this level": a place on a track, then the way the pointer
 * shows. The pins that make it so are put in one step; where track is missing, how much is said.
 */
import { nearestOnPath } from "../../geometry/nearest.js";
import { poseAt, reversePath, slicePath } from "../../geometry/path.js";
import { localPoint, type Point } from "../../geometry/pose.js";
import { type Climb, climbTo, heightOf, holdLevel, type PinTo } from "../../layout/relay/climb-pins.js";
import { heightOn } from "../../layout/place-names.js";
import type { Percent } from "../../geometry/units.js";
import { formatLength } from "../../plan/format-length.js";
import { formatGrade } from "../../plan/grade-text.js";
import type { Plan } from "../../plan/schema.js";
import { decksInOrder } from "../../drafting/decks.js";
import type { Choice, Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import { draftPath } from "./lay-show.js";
import { limits } from "./lay-start.js";
import { trackAt, type TrackSpot } from "./on-track.js";
import { committed, previewed, putAside, sentence } from "./outcomes.js";
import { entryOf, entryWhile, type Field, startTyping, typeKey, type Typing } from "./typing.js";
import { readHeight } from "./pin.js";

type Figure = "grade" | "height";
const FIELDS: readonly Field<Figure>[] = [
  { key: "grade", label: "Grade", takes: "grade", least: 0.01, most: 100 },
  { key: "height", label: "To height, or a deck", takes: "name" },
];

export interface ClimbState {
  readonly from: TrackSpot | undefined;
  readonly spot: TrackSpot | undefined;
  readonly way: 1 | -1;
  readonly grade: Percent | undefined;
  readonly to: PinTo | undefined;
  readonly typing: Typing<Figure>;
  readonly pressed: boolean;
}

const begun = (): ClimbState => ({
  from: undefined,
  spot: undefined,
  way: 1,
  grade: undefined,
  to: undefined,
  typing: startTyping("grade"),
  pressed: false,
});

export const climbTool: Tool<ClimbState> = {
  id: "climb",
  stage: "grade",
  name: "Climb",
  key: "c",
  begin: begun,
  handle(state, event, input) {
    if (event.type === "cancel") {
      return state.from ? { state: begun(), effects: [{ do: "abandon" }] } : putAside(begun());
    }
    if (event.type === "choose") {
      const deck =
        event.choice === "to" && Object.hasOwn(input.plan.decks, event.value) ? { deck: event.value } : state.to;
      return shown({ ...state, to: deck }, input);
    }
    if (event.type === "key") return keyed(state, event, input);
    const spot = trackAt(input, event.at);
    const next = { ...state, spot, way: state.from ? wayToward(state.from, event.at, input) : state.way };
    if (event.type === "move") return shown(next, input);
    if (event.type === "down") return { state: { ...next, pressed: true } };
    const released = { ...next, pressed: false };
    if (!state.pressed) return shown(released, input);
    if (!state.from) return shown({ ...released, from: spot }, input);
    return done(released, input);
  },
  show(state, input) {
    const overlay: Overlay[] = [];
    const { from } = state;
    if (!from) {
      if (state.spot) overlay.push({ kind: "snap", at: state.spot.point, to: "climb from here" });
    } else {
      overlay.push({ kind: "handle", at: from.point, shape: "square", name: "foot of the climb", hot: true });
      overlay.push(...climbOverlay(state, from, input));
    }
    return {
      overlay,
      hint: from
        ? "The pointer shows which way. Type the grade, Tab for the height or deck, Enter or a click pins it. Esc gives up."
        : "Click the track where the climb begins.",
      ...entryWhile(from !== undefined, entryOf(state.typing, FIELDS, figureText(state, input))),
      ...(from && { choices: [deckChoice(input.plan, targetOf(state, input))] }),
      cursor: "crosshair",
    };
  },
};

const deckChoice = (plan: Plan, to: PinTo | undefined): Choice => ({
  id: "to",
  label: "Climb to",
  value: to && "deck" in to ? to.deck : "",
  options: decksInOrder(plan).map((id) => ({ value: id, label: plan.decks[id]?.name ?? id })),
});

/** The way along the track that leads toward the pointer. */
function wayToward({ track, at }: TrackSpot, pointer: Point, { layout }: ToolInput): 1 | -1 {
  const path = layout.lines.get(`track:${track}`)?.path;
  if (!path) return 1;
  const near = nearestOnPath(path, pointer).s;
  // Abreast of the place itself the tangent tells.
  if (Math.abs(near - at) < 1) return localPoint(poseAt(path, at), pointer).x >= 0 ? 1 : -1;
  return near >= at ? 1 : -1;
}

/** The next deck above, until another is named; from the topmost, the one below. */
function targetOf(state: ClimbState, { plan, layout }: ToolInput): PinTo | undefined {
  if (state.to || !state.from) return state.to;
  const here = heightOn(layout, `track:${state.from.track}`, state.from.at);
  const decks = decksInOrder(plan);
  const heightAt = (id: string): number => plan.decks[id]?.height ?? 0;
  const deck = decks.find((id) => heightAt(id) > here + 1) ?? decks.findLast((id) => heightAt(id) < here - 1);
  return deck === undefined ? undefined : { deck };
}

const gradeOf = (state: ClimbState, { plan }: ToolInput): Percent =>
  state.grade ?? limits(plan, (state.from && plan.tracks[state.from.track]?.class) || "main").grade.value;

function climbOf(state: ClimbState, input: ToolInput): Climb | undefined {
  const to = targetOf(state, input);
  if (!state.from || !to) return undefined;
  const { track, at } = state.from;
  return climbTo(input.layout, { from: { track, at }, way: state.way, grade: gradeOf(state, input), to });
}

function climbText(climb: Climb, { units }: ToolInput, grade: Percent): string {
  if (climb.ok) {
    return `${formatGrade(grade)}, ${formatLength(climb.run, units)} of run for ${formatLength(climb.rise, units)}`;
  }
  if (climb.run === undefined || climb.missing === undefined) return climb.message;
  const steeper = grade * (climb.run / Math.max(1, climb.run - climb.missing));
  const would = steeper <= 100 ? `; what there is would climb at ${formatGrade(steeper)}` : "";
  return `needs ${formatLength(climb.run, units)} of run, ${formatLength(climb.missing, units)} is missing${would}`;
}

function climbOverlay(state: ClimbState, from: TrackSpot, input: ToolInput): Overlay[] {
  const climb = climbOf(state, input);
  const path = input.layout.lines.get(`track:${from.track}`)?.path;
  if (!climb || !path)
    return [{ kind: "label", at: from.point, text: "There is no other deck to climb to.", style: "refused" }];
  const text = sentence(climbText(climb, input, gradeOf(state, input)));
  const end = climb.ok && climb.top.track === from.track ? climb.top.at : state.way === 1 ? path.length : 0;
  const stretch = slicePath(path, Math.min(from.at, end), Math.max(from.at, end));
  const shape = draftPath(state.way === 1 ? stretch : reversePath(stretch));
  return [...shape, { kind: "label", at: from.point, text, style: climb.ok ? "draft" : "refused" }];
}

function figureText(state: ClimbState, input: ToolInput): string {
  if (state.typing.field === "grade") return formatGrade(gradeOf(state, input));
  const to = targetOf(state, input);
  if (!to) return "";
  return "deck" in to
    ? (input.plan.decks[to.deck]?.name ?? to.deck)
    : formatLength(heightOf(input.plan, to) ?? 0, input.units);
}

function shown(state: ClimbState, input: ToolInput): Outcome<ClimbState> {
  const climb = climbOf(state, input);
  return { state, effects: climb?.ok ? previewed(climb.edit) : [{ do: "abandon" }] };
}

function done(state: ClimbState, input: ToolInput): Outcome<ClimbState> {
  const climb = climbOf(state, input);
  if (!climb) return { state };
  if (!climb.ok) {
    const text = sentence(climbText(climb, input, gradeOf(state, input)));
    return { state, effects: [{ do: "abandon" }, { do: "say", text }] };
  }
  const taken = climb.givesWay.length;
  const said =
    taken === 0 ? [] : ([{ do: "say", text: `Took up ${taken} pin${taken > 1 ? "s" : ""} between.` }] as const);
  return committed(climb.edit, begun(), state, said);
}

function keyed(state: ClimbState, event: ToolEvent & { type: "key" }, input: ToolInput): Outcome<ClimbState> {
  const typed = typeKey(state.typing, FIELDS, event, input.units);
  if (!typed) return { state };
  const { set, typing, entered } = typed;
  let next: ClimbState = { ...state, typing };
  if (set?.field === "grade") next = { ...next, grade: set.value };
  if (set?.field === "height") {
    const to = readHeight(input.plan, set.text, input.units);
    if ("why" in to) return { state: { ...state, typing: { field: "height", text: set.text, error: to.why } } };
    next = { ...next, to };
  }
  return entered && state.from ? done(next, input) : shown(next, input);
}

export interface LevelState {
  readonly from: TrackSpot | undefined;
  readonly spot: TrackSpot | undefined;
  readonly pressed: boolean;
}
const LEVEL: LevelState = { from: undefined, spot: undefined, pressed: false };

export const levelTool: Tool<LevelState> = {
  id: "level",
  stage: "grade",
  name: "Hold level",
  key: "e",
  begin: () => LEVEL,
  handle(state, event, input) {
    if (event.type === "cancel") return state.from ? { state: LEVEL, effects: [{ do: "abandon" }] } : putAside(LEVEL);
    if (event.type === "key" || event.type === "choose") return { state };
    const spot = trackAt(input, event.at);
    const next = { ...state, spot };
    const edit =
      state.from && spot && spot.track === state.from.track ? holdLevel(input.layout, state.from, spot) : undefined;
    if (event.type === "down") return { state: { ...next, pressed: true } };
    if (event.type === "move") return { state: next, effects: previewed(edit) };
    const released = { ...next, pressed: false };
    if (!state.pressed || !spot) return { state: released, effects: previewed(edit) };
    if (!state.from) return { state: { ...released, from: spot } };
    return committed(edit ?? holdLevel(input.layout, state.from, spot), LEVEL, released);
  },
  show(state, input) {
    const overlay: Overlay[] = [];
    const { from, spot } = state;
    if (from)
      overlay.push({ kind: "handle", at: from.point, shape: "square", name: "held level from here", hot: true });
    if (spot) {
      const height = heightOn(input.layout, `track:${(from ?? spot).track}`, (from ?? spot).at);
      overlay.push({ kind: "snap", at: spot.point, to: "" });
      overlay.push({ kind: "label", at: spot.point, text: formatLength(height, input.units), style: "draft" });
    }
    return {
      overlay,
      hint: from
        ? "Click the same track where the level stretch ends. Esc gives up."
        : "Click the track where it is to be level from, at the height it has there.",
      cursor: "crosshair",
    };
  },
};
