/**
 * The crossover tool: over a track near its neighbour it shows a crossover whose points lie abreast of the pointer; a
 * click lays it. K makes it double, F changes its hand; frog number and place along the track can be typed.
 */
import { levelWith } from "../../drafting/decks.js";
import { linesNear } from "../../layout/line-boxes.js";
import { grownBox, pointsBox } from "../../drafting/boxes.js";
import { nearestOnPath } from "../../geometry/nearest.js";
import { poseAt } from "../../geometry/path.js";
import type { Point } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import type { Line } from "../../layout/line.js";
import { otherSide } from "../../layout/relay/relocate.js";
import { type CrossoverWishes, makeCrossover } from "../../layout/trackwork-makers/crossover.js";
import { type Edit, refused } from "../../plan/edit.js";
import { formatLength } from "../../plan/format-length.js";
import type { Id, Side } from "../../plan/schema.js";
import type { Choice, Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import { asFrog, frogChoice, refusedLine, USUAL_FROG } from "./lay-show.js";
import { limits } from "./lay-start.js";
import { toStep } from "./legs-toward.js";
import { madeOnce, selectNew } from "./made.js";
import { trackAt } from "./on-track.js";
import { committed, previewed, putAside } from "./outcomes.js";
import { entryOf, entryWhile, type Field, startTyping, typeKey, type Typing } from "./typing.js";

type Figure = "number" | "at";
const FIELDS: readonly Field<Figure>[] = [
  { key: "number", label: "Frog number", takes: "number", least: 2, most: 40 },
  { key: "at", label: "Points, along the track", takes: "length", least: 0 },
];

export interface CrossoverState {
  readonly kind: CrossoverWishes["kind"];
  readonly hand: Side;
  readonly number: number;
  /** Typed place of the points along the chosen track. */
  readonly typedAt: Millimetres | undefined;
  readonly at: Point | undefined;
  readonly pressed: boolean;
  readonly typing: Typing<Figure>;
}

const begun = (kept?: CrossoverState): CrossoverState => ({
  kind: kept?.kind ?? "single",
  hand: kept?.hand ?? "right",
  number: kept?.number ?? USUAL_FROG,
  typedAt: undefined,
  at: undefined,
  pressed: false,
  typing: startTyping("number"),
});

/** The neighbour is at most so many track centres away. */
const FARTHEST_CENTRES = 3;
/** Tracks that run within so much of the same way are neighbours (cosine of 10 degrees). */
const ALONG = Math.cos((10 * Math.PI) / 180);

export const crossoverTool: Tool<CrossoverState> = {
  id: "crossover",
  stage: "lay",
  name: "Crossover",
  key: "o",
  begin: () => begun(),
  handle(state, event, input) {
    if (event.type === "cancel") return putAside(begun(state));
    if (event.type === "choose") return shown(chosen(state, event.choice, event.value), input);
    if (event.type === "key") return keyed(state, event, input);
    const moved: CrossoverState = { ...state, at: { x: event.at.x, y: event.at.y } };
    if (event.type === "down") return shown({ ...moved, pressed: true, typedAt: undefined }, input);
    if (event.type === "move") return shown(moved, input);
    const released = { ...moved, pressed: false };
    return state.pressed ? laid(released, input) : shown(released, input);
  },
  show(state, input) {
    const place = placeOf(state, input);
    const edit = place && editOf(state, place, input);
    const overlay: Overlay[] = [];
    if (place) {
      const { line, onto, at } = place;
      const here = poseAt(line.path, at);
      if (edit && !edit.ok) overlay.push(...refusedLine(here, state.at ?? here, edit.message));
      else if (onto) {
        const { s, distance } = nearestOnPath(onto.path, here);
        overlay.push({ kind: "line", points: [here, poseAt(onto.path, s)], style: "guide" });
        const text = `No. ${state.number}, tracks ${formatLength(distance, input.units)} apart`;
        overlay.push({ kind: "label", at: here, text, style: "draft" });
      }
    }
    const byKeys = state.at === undefined && place !== undefined;
    const value = state.typing.field === "number" ? `No. ${state.number}` : formatLength(place?.at ?? 0, input.units);
    return {
      overlay,
      hint: "Click a track beside another: the points of the crossover lie there. K single or double, F its hand, type its frog number, Tab where its points lie along the track, Enter lays it.",
      ...entryWhile(byKeys || state.typing.field === "at", entryOf(state.typing, FIELDS, value)),
      choices: [frogChoice(state.number), kindChoice(state.kind), handChoice(state.hand)],
      cursor: "crosshair",
    };
  },
};

const kindChoice = (value: CrossoverState["kind"]): Choice => ({
  id: "kind",
  label: "Crossover",
  value,
  options: [
    { value: "single", label: "Single" },
    { value: "double", label: "Double" },
  ],
});
const handChoice = (value: Side): Choice => ({
  id: "hand",
  label: "Hand",
  value,
  options: [
    { value: "left", label: "Left" },
    { value: "right", label: "Right" },
  ],
});

function chosen(state: CrossoverState, choice: string, value: string): CrossoverState {
  if (choice === "frog") return { ...state, number: asFrog(value) ?? state.number };
  if (choice === "kind") return { ...state, kind: value === "double" ? "double" : "single" };
  return choice === "hand" ? { ...state, hand: value === "left" ? "left" : "right" } : state;
}

interface Place {
  readonly line: Line;
  readonly at: Millimetres;
  /** The nearest track beside it. */
  readonly onto: Line | undefined;
}

/** On the track under the pointer; on the chosen one where a place is typed or no pointer has come yet. */
function placeOf({ at, typedAt }: CrossoverState, input: ToolInput): Place | undefined {
  const spot = at && typedAt === undefined ? trackAt(input, at) : undefined;
  const over = at ? trackAt(input, at)?.track : undefined;
  const id = spot?.track ?? (typedAt !== undefined || at === undefined ? (chosenTrack(input) ?? over) : undefined);
  const line = id === undefined ? undefined : input.layout.lines.get(`track:${id}`);
  if (!line) return undefined;
  const along = typedAt ?? (spot ? toStep(spot.at, input.units) : line.path.length / 2);
  const s = Math.max(0, Math.min(line.path.length, along));
  return { line, at: s, onto: neighbour(line, s, at, input) };
}

function chosenTrack({ plan, selection }: ToolInput): Id | undefined {
  const only = selection.length === 1 ? selection[0] : undefined;
  if (only?.kind !== "record" || only.collection !== "tracks") return undefined;
  return Object.hasOwn(plan.tracks, only.id) ? only.id : undefined;
}

/** The nearest track that runs along it on the pointer's side, else on the other. */
function neighbour(line: Line, s: Millimetres, at: Point | undefined, input: ToolInput): Line | undefined {
  const { layout, plan, deck } = input;
  const here = poseAt(line.path, s);
  const within = FARTHEST_CENTRES * limits(plan, line.class).centres.value;
  const level = levelWith(plan, deck);
  const side = at ? Math.sign(nearestOnPath(line.path, at).left) : 0;
  const beside = linesNear(layout, grownBox(pointsBox([here]), within))
    .filter((other) => other.kind === "track" && other !== line && level.includes(other.deck))
    .flatMap((other) => {
      const near = nearestOnPath(other.path, here);
      const there = poseAt(other.path, near.s);
      const along = Math.abs(Math.cos(there.heading - here.heading));
      if (near.distance > within || near.distance < plan.scale.gauge || along < ALONG) return [];
      const off = side !== 0 && Math.sign(nearestOnPath(line.path, there).left) !== side;
      return [{ other, off, distance: near.distance }];
    });
  beside.sort((a, b) => Number(a.off) - Number(b.off) || a.distance - b.distance);
  return beside[0]?.other;
}

function editOf({ kind, hand, number }: CrossoverState, { line, at, onto }: Place, { layout }: ToolInput): Edit {
  if (!onto) return refused("there is no track beside it to cross over to");
  const wishes: CrossoverWishes = { kind, hand, number, track: line.id, at, onto: onto.id };
  return madeOnce(layout, `crossover ${JSON.stringify(wishes)}`, () => makeCrossover(layout, wishes)).edit;
}

function shown(state: CrossoverState, input: ToolInput): Outcome<CrossoverState> {
  const place = placeOf(state, input);
  return { state, effects: previewed(place && editOf(state, place, input)) };
}

function laid(state: CrossoverState, input: ToolInput): Outcome<CrossoverState> {
  const place = placeOf(state, input);
  if (!place) return shown(state, input);
  const edit = editOf(state, place, input);
  return committed(edit, begun(state), state, selectNew(input.plan, edit));
}

function keyed(state: CrossoverState, event: ToolEvent & { type: "key" }, input: ToolInput): Outcome<CrossoverState> {
  const typed = typeKey(state.typing, FIELDS, event, input.units);
  if (typed) {
    const { set, typing, entered } = typed;
    const number = set?.field === "number" ? set.value : state.number;
    const next = { ...state, typing, number, typedAt: set?.field === "at" ? set.value : state.typedAt };
    return entered && !set ? laid(next, input) : shown(next, input);
  }
  const key = event.key.toLowerCase();
  if (key === "k") return shown({ ...state, kind: state.kind === "single" ? "double" : "single" }, input);
  if (key === "f") return shown({ ...state, hand: otherSide(state.hand) }, input);
  return { state };
}
