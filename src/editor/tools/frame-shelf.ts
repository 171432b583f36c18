/**
 * Shelf: drawn along the walls from one place to another, round as many corners as the hand goes; then as deep as the
 * hand is away from the wall. Length, depth and the rounding of inner corners can be typed.
 */
import { nearestWall } from "../../drafting/walls.js";
import {
  passedOpenings,
  placeAtStation,
  runMarks,
  stationNear,
  wayBetween,
  wrapStation,
} from "../../drafting/wall-run.js";
import type { Point } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import { benchArea } from "../../layout/bench-shape.js";
import { type RoomWalls, roomWalls } from "../../layout/room-walls.js";
import { type Edit, putRecord, refused } from "../../plan/edit.js";
import { formatLength } from "../../plan/format-length.js";
import { INCH } from "../../plan/parse-length.js";
import type { BenchShape, Plan } from "../../plan/schema.js";
import type { Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import { committed, newId, previewed, putAside, sentence } from "./outcomes.js";
import { entryOf, entryWhile, type Field, startTyping, typeKey, type Typing } from "./typing.js";

type ShelfField = "length" | "depth" | "round";

export interface ShelfState {
  /** along: its end follows the hand; deep: its front does. */
  readonly at: "rest" | "along" | "deep";
  readonly from: Millimetres;
  /** The way the hand has gone along the walls, anticlockwise; less than nothing clockwise. */
  readonly way: Millimetres;
  /** Where the end was caught. */
  readonly end: Millimetres;
  readonly typedLength?: boolean;
  readonly typedDepth?: boolean;
  readonly depth: Millimetres;
  readonly round: Millimetres;
  readonly pressed?: Point;
  readonly typing: Typing<ShelfField>;
}

/** A shelf shorter than this is a slip. */
const LEAST: Millimetres = 25;
/** A hand on a button trembles by less, px. */
const TREMBLE = 4;
/** Depths by hand go in steps people cut to. */
const STEP: Readonly<Record<Plan["units"], Millimetres>> = { imperial: INCH / 2, metric: 10 };
/** A usual depth that an arm reaches over (common practice, no source). */
const USUAL: Readonly<Record<Plan["units"], Millimetres>> = { imperial: 18 * INCH, metric: 450 };

const FIELDS: readonly Field<ShelfField>[] = [
  { key: "length", label: "Length along the walls", takes: "length" },
  { key: "depth", label: "Depth", takes: "length" },
  { key: "round", label: "Round inner corners", takes: "length", least: 0 },
];

const rest = (depth: Millimetres, round: Millimetres): ShelfState => ({
  at: "rest",
  from: 0,
  way: 0,
  end: 0,
  depth,
  round,
  typing: startTyping("length"),
});

export const shelfTool: Tool<ShelfState> = {
  id: "shelf",
  stage: "frame",
  name: "Shelf",
  key: "s",
  begin: ({ units }) => rest(USUAL[units], 0),

  handle(state, event, input): Outcome<ShelfState> {
    if (event.type === "choose") return { state };
    if (event.type === "cancel") {
      if (state.at === "rest" && state.typing.text === "") return putAside(state);
      return { state: rest(state.depth, state.round), effects: [{ do: "abandon" }] };
    }
    if (event.type === "key") return keyed(state, event, input);
    const walls = wallsOf(input);
    if (event.type === "down") return pressed(state, event, input, walls);
    if (event.type === "move") return moved(state, event, input, walls);
    return released(state, event, input);
  },

  show(state, input) {
    const value = state.typing.field === "length" ? Math.abs(state.end) : state[state.typing.field];
    const entry = entryOf(state.typing, FIELDS, value > 0 ? formatLength(value, input.units) : "");
    if (state.at === "rest") {
      const hint =
        "Press on a wall and drag along it, round corners too, or click where the shelf begins and where it ends.";
      return { overlay: [], hint, ...entryWhile(false, entry), cursor: "crosshair" };
    }
    const walls = wallsOf(input);
    const edit = edited(state, input, walls);
    const hint =
      state.at === "along"
        ? "Let go (or click) where the shelf ends, or type its length. Tab: depth, rounding. Backspace takes back."
        : "Draw it as deep as it is to be, or type the depth (Tab: rounding); click or Enter builds it. Backspace takes back.";
    return {
      overlay: drawn(state, edit, input, walls),
      hint: `${hint}${caution(state, input, walls)}`,
      entry,
      cursor: "crosshair",
    };
  },
};

const known = new WeakMap<object, RoomWalls>();
function wallsOf({ plan, layout }: ToolInput): RoomWalls {
  let walls = known.get(plan.room.outline);
  if (!walls) {
    walls = roomWalls(plan.room.outline, layout.space.room);
    known.set(plan.room.outline, walls);
  }
  return walls;
}

type Hand = ToolEvent & { readonly type: "down" | "move" | "up" };

function pressed(state: ShelfState, event: Hand, input: ToolInput, walls: RoomWalls): Outcome<ShelfState> {
  if (state.at === "deep") {
    const { state: next } = moved(state, event, input, walls);
    return built(next, input);
  }
  if (state.at === "along") {
    const { state: next } = moved(state, event, input, walls);
    return deeper(next, input);
  }
  const place = nearestWall(input.plan.room.outline, event.at);
  const station = stationNear(input.plan.room, walls, event.at);
  if (!place || station === undefined || place.distance > 3 * input.reach) return { state };
  const from = caught(station, input, walls, event.alt);
  return { state: { ...rest(state.depth, state.round), at: "along", from, pressed: event.screen } };
}

function moved(state: ShelfState, event: Hand, input: ToolInput, walls: RoomWalls): Outcome<ShelfState> {
  if (state.at === "rest") return { state };
  if (state.at === "along") {
    const station = state.typedLength ? undefined : stationNear(input.plan.room, walls, event.at);
    if (station === undefined) return { state };
    // Followed step by step, so that it is known which way round the hand went.
    const step = wayBetween(walls, wrapStation(walls, state.from + state.way), station);
    const way = clampWay(state.way + step, walls);
    const end = clampWay(way + wayBetween(walls, station, caught(station, input, walls, event.alt)), walls);
    return shown({ ...state, way, end }, input, walls);
  }
  if (state.typedDepth) return { state };
  const off = nearestWall(input.plan.room.outline, event.at)?.distance ?? state.depth;
  const step = STEP[input.units];
  return shown({ ...state, depth: Math.max(step, Math.round(off / step) * step) }, input, walls);
}

function released(state: ShelfState, event: Hand, input: ToolInput): Outcome<ShelfState> {
  if (state.at !== "along" || !state.pressed) return { state };
  const { pressed: at, ...let_go } = state;
  const dragged = Math.hypot(event.screen.x - at.x, event.screen.y - at.y) > TREMBLE;
  return dragged && Math.abs(state.end) >= LEAST ? deeper(let_go, input) : { state: let_go };
}

const clampWay = (way: Millimetres, walls: RoomWalls): Millimetres =>
  Math.min(Math.max(way, -walls.length), walls.length);

function caught(station: Millimetres, { plan, reach }: ToolInput, walls: RoomWalls, free: boolean): Millimetres {
  if (free) return station;
  const mark = runMarks(plan, walls)
    .map((at) => ({ at, off: Math.abs(wayBetween(walls, station, at)) }))
    .filter(({ off }) => off <= reach)
    .sort((a, b) => a.off - b.off)[0];
  return mark?.at ?? station;
}

function deeper(state: ShelfState, input: ToolInput): Outcome<ShelfState> {
  if (Math.abs(state.end) < LEAST) return { state };
  const { pressed: _, ...rested } = state;
  return shown({ ...rested, at: "deep", typing: startTyping("depth") }, input, wallsOf(input));
}

function built(state: ShelfState, input: ToolInput): Outcome<ShelfState> {
  return committed(edited(state, input, wallsOf(input)), rest(state.depth, state.round), state);
}

const shown = (state: ShelfState, input: ToolInput, walls: RoomWalls): Outcome<ShelfState> => ({
  state,
  effects: previewed(edited(state, input, walls)),
});

function edited(state: ShelfState, { plan, deck }: ToolInput, walls: RoomWalls): Edit {
  if (Math.abs(state.end) < LEAST) return refused("a shelf has a length");
  if (!Object.hasOwn(plan.decks, deck)) return refused("there is no deck yet for it to belong to");
  const wholeWay = Math.abs(state.end) >= walls.length - LEAST;
  const [begin, end] = state.end < 0 ? [state.from + state.end, state.from] : [state.from, state.from + state.end];
  const from = placeAtStation(plan.room, walls, begin, "begins");
  const shelf = {
    from,
    to: wholeWay ? from : placeAtStation(plan.room, walls, end, "ends"),
    depth: state.depth,
    ...(state.round > 0 && { round: state.round }),
  };
  const shape: BenchShape = { shelf };
  const { trouble } = benchArea(shape, walls);
  if (trouble) return refused(trouble.note);
  return putRecord(plan, "benches", newId(plan, "shelf"), { deck, shape }, "Build shelf");
}

function keyed(state: ShelfState, event: ToolEvent & { readonly type: "key" }, input: ToolInput): Outcome<ShelfState> {
  const typed = typeKey(state.typing, FIELDS, event, input.units);
  if (!typed) {
    if (event.key !== "Backspace") return { state };
    const { typedDepth: _, typedLength: __, ...untyped } = state;
    if (state.at === "deep")
      return shown({ ...untyped, at: "along", typing: startTyping("length") }, input, wallsOf(input));
    return { state: rest(state.depth, state.round), effects: [{ do: "abandon" }] };
  }
  let next: ShelfState = { ...state, typing: typed.typing };
  const { set } = typed;
  if (set?.field === "length" && state.at !== "rest") {
    const way = (state.end < 0 ? -1 : 1) * Math.min(set.value, wallsOf(input).length);
    next = { ...next, way, end: way, typedLength: true };
  } else if (set?.field === "depth")
    next = { ...next, depth: set.value, ...(state.at !== "rest" && { typedDepth: true }) };
  else if (set?.field === "round") next = { ...next, round: set.value };
  if (state.at === "rest") return { state: next };
  if (!typed.entered) return shown(next, input, wallsOf(input));
  return next.at === "along" ? deeper(next, input) : built(next, input);
}

function drawn(state: ShelfState, edit: Edit, input: ToolInput, walls: RoomWalls): Overlay[] {
  const at = (way: Millimetres): Point => {
    const { wall, at: along } = placeAtStation(input.plan.room, walls, state.from + way, "begins");
    const [p, q] = [input.plan.room.outline[wall], input.plan.room.outline[(wall + 1) % walls.ring.length]];
    if (!p || !q) return { x: 0, y: 0 };
    const t = along / (Math.hypot(q.x - p.x, q.y - p.y) || 1);
    return { x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y) };
  };
  const overlay: Overlay[] = [
    { kind: "handle", at: at(0), shape: "square", name: "one end of the shelf" },
    { kind: "handle", at: at(state.end), shape: "square", name: "other end of the shelf", hot: state.at === "along" },
  ];
  const long = Math.abs(state.end) >= LEAST;
  const text = `${formatLength(Math.abs(state.end), input.units)} × ${formatLength(state.depth, input.units)}`;
  if (long)
    overlay.push({
      kind: "label",
      at: at(state.end / 2),
      text: edit.ok ? text : edit.message,
      style: edit.ok ? "draft" : "refused",
    });
  return overlay;
}

/** Said where a shelf passes a way out at the height of its deck. */
function caution(state: ShelfState, { plan, deck }: ToolInput, walls: RoomWalls): string {
  const height = plan.decks[deck]?.height ?? 0;
  const passed = passedOpenings(plan.room, walls, state.from, state.end, height);
  const first = passed[0];
  if (!first) return "";
  const what = first.name ?? first.kind;
  const why =
    first.kind === "window"
      ? "a window may be the second way out, and local codes decide"
      : "build it as a gate, and keep the way out free as local codes ask";
  return ` ${sentence(`it passes the ${what}: ${why}`)}`;
}
