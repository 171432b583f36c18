/**
 * Straights and curves put one by one by number, each on the end of the last: the figures stay in hand from piece to
 * piece. Every piece is one step of undo.
 */
import type { Snapped } from "../../drafting/snap.js";
import { bearing, distance, type Point } from "../../geometry/pose.js";
import { toDegrees, toRadians } from "../../geometry/units.js";
import { formatLength } from "../../plan/format-length.js";
import { formatAngle } from "../../plan/grade-text.js";
import { BOUNDS, type Leg, type Plan, type Side, type TrackClass } from "../../plan/schema.js";
import type { Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import {
  asClass,
  caughtMark,
  classChoice,
  draftPath,
  endHandles,
  legFigures,
  refusedLine,
  USUAL_FROG,
} from "./lay-show.js";
import {
  caughtForStart,
  idOfNew,
  layBase,
  type LayBaseResult,
  layLegs,
  type LayStart,
  limits,
  startFrom,
  startFromSelection,
} from "./lay-start.js";
import { lengthStep, layPlain, toStep } from "./legs-toward.js";
import { committed, previewed, putAside } from "./outcomes.js";
import { entryOf, entryWhile, type Field, startTyping, typeKey, type Typing } from "./typing.js";

type Figure = "length" | "radius" | "angle";

interface Piece {
  readonly id: string;
  readonly name: string;
  readonly key: string;
  readonly fields: readonly Field<Figure>[];
  readonly hint: string;
  leg(state: PieceState, plan: Plan, trackClass: TrackClass): Leg;
}

export interface PieceState {
  readonly class: TrackClass;
  readonly start: LayStart | { readonly kind: "paper"; readonly at: Point } | undefined;
  readonly caught: Snapped | undefined;
  readonly typing: Typing<Figure>;
  readonly figures: { readonly [K in Figure]?: number };
  readonly hand: Side;
  readonly pressed: boolean;
}

/** Direction from bare paper goes by these steps, degrees. */
const HEADING_STEP = 15;
/** A straight to begin with: a good foot, or three decimetres. */
const FIRST_LENGTH = 300;
/** An eighth of a circle, as a curve to begin with. */
const FIRST_ANGLE = 45;

const STRAIGHT: Piece = {
  id: "straight",
  name: "Straight",
  key: "s",
  fields: [{ key: "length", label: "Length", takes: "length", most: BOUNDS.length }],
  hint: "Click an end, type a length, Enter or a click puts the straight there. Esc lets the end go.",
  leg: ({ figures }, plan) => ({ straight: figures.length ?? firstLength(plan) }),
};

const CURVE: Piece = {
  id: "curve",
  name: "Curve",
  key: "c",
  fields: [
    { key: "radius", label: "Radius", takes: "length", most: BOUNDS.radius },
    { key: "angle", label: "Angle", takes: "angle", least: 0.01, most: BOUNDS.angle },
  ],
  hint: "Click an end, type radius and angle (Tab), F changes the hand, Enter or a click puts the curve there. Esc lets the end go.",
  leg: ({ figures, hand }, plan, trackClass) => ({
    curve: {
      radius: figures.radius ?? limits(plan, trackClass).radius.value,
      angle: figures.angle ?? FIRST_ANGLE,
      hand,
    },
  }),
};

const firstLength = (plan: Plan): number => Math.max(lengthStep(plan.units), toStep(FIRST_LENGTH, plan.units));

function pieceTool(piece: Piece): Tool<PieceState> {
  const empty = (state?: PieceState): PieceState => ({
    class: state?.class ?? "main",
    start: undefined,
    caught: undefined,
    typing: startTyping(piece.fields[0]?.key ?? "length"),
    figures: state?.figures ?? {},
    hand: state?.hand ?? "left",
    pressed: false,
  });

  const drawn = (state: PieceState, input: ToolInput) => {
    const result = baseFor(state, input);
    if (!result?.ok) return { result, leg: undefined, path: undefined, edit: undefined };
    const { base } = result;
    const leg = piece.leg(state, input.plan, base.class);
    const path = layPlain(base.pose, [leg], limits(input.plan, base.class).easement.value);
    return { result, leg, path, edit: layLegs(base, [leg]) };
  };

  const shown = (state: PieceState, input: ToolInput): Outcome<PieceState> => ({
    state,
    effects: previewed(drawn(state, input).edit),
  });

  /** The piece is put, and its end is the next to go on from. */
  const put = (state: PieceState, input: ToolInput): Outcome<PieceState> => {
    const { result, edit } = drawn(state, input);
    if (!result?.ok || !edit) return { state };
    const id = idOfNew(result.base);
    const start: LayStart = { kind: "anchor", anchor: { track: id, end: "end" } };
    const next = { ...state, start, typing: startTyping(piece.fields[0]?.key ?? "length") };
    return committed(edit, next, state, [{ do: "select", selection: [{ kind: "record", collection: "tracks", id }] }]);
  };

  const keyed = (state: PieceState, event: ToolEvent & { type: "key" }, input: ToolInput): Outcome<PieceState> => {
    const typed = typeKey(state.typing, piece.fields, event, input.units);
    if (typed) {
      const { set, typing, entered } = typed;
      const figures = set ? { ...state.figures, [set.field]: set.value } : state.figures;
      const next = { ...state, typing, figures };
      if (!entered) return shown(next, input);
      if (state.start) return put(next, input);
      return { state: next, effects: [{ do: "say", text: "Click where it begins: an end of track, or the sheet." }] };
    }
    if (event.key.toLowerCase() === "f")
      return shown({ ...state, hand: state.hand === "left" ? "right" : "left" }, input);
    return { state };
  };

  return {
    id: piece.id,
    stage: "lay",
    name: piece.name,
    key: piece.key,
    begin: (input) => ({ ...empty(), start: startFromSelection(input) }),
    handle(state, event, input) {
      if (event.type === "cancel") {
        return state.start ? { state: empty(state), effects: [{ do: "abandon" }] } : putAside(empty(state));
      }
      if (event.type === "choose") {
        const trackClass = event.choice === "class" ? asClass(event.value) : undefined;
        return shown({ ...state, class: trackClass ?? state.class }, input);
      }
      if (event.type === "key") return keyed(state, event, input);
      const at = { x: event.at.x, y: event.at.y };
      const caught = caughtForStart(input, at, state.class);
      const moved = { ...state, caught };
      if (event.type === "down") return { state: { ...moved, pressed: true } };
      if (event.type === "move") return shown(moved, input);
      const released = { ...moved, pressed: false };
      if (!state.pressed) return shown(released, input);
      const there = startFrom(caught);
      const onEnd = caught.kind === "end" || caught.kind === "turnout";
      if (!state.start || (onEnd && there)) {
        return shown({ ...released, start: there ?? { kind: "paper", at: caught.point } }, input);
      }
      return put(released, input);
    },
    show(state, input) {
      const overlay: Overlay[] = state.start ? [] : endHandles(input);
      overlay.push(...caughtMark(state.caught));
      const { result, leg, path } = drawn(state, input);
      if (result?.ok && leg && path) {
        overlay.push(...draftPath(path));
        const { easement } = limits(input.plan, result.base.class);
        overlay.push(...legFigures(result.base.pose, [leg], easement.value, input.units));
      } else if (result && !result.ok && state.caught) {
        overlay.push(...refusedLine(state.caught.point, state.caught.point, result.why));
      }
      return {
        overlay,
        hint: piece.hint,
        ...entryWhile(state.start !== undefined, entryOf(state.typing, piece.fields, figureText(state, piece, input))),
        choices: [classChoice(state.class)],
        cursor: "crosshair",
      };
    },
  };
}

function figureText(state: PieceState, piece: Piece, { plan, units }: ToolInput): string {
  const leg = piece.leg(state, plan, state.class);
  if ("straight" in leg) return formatLength(leg.straight, units);
  if (!("curve" in leg)) return "";
  return state.typing.field === "angle" ? formatAngle(leg.curve.angle) : formatLength(leg.curve.radius, units);
}

function baseFor(state: PieceState, input: ToolInput): LayBaseResult | undefined {
  const { start, caught } = state;
  if (!start) return undefined;
  const wishes = { class: state.class, frog: USUAL_FROG, toward: caught?.point };
  if (start.kind !== "paper") return layBase(input, { ...wishes, start });
  const toward = caught && distance(start.at, caught.point) > 0 ? toDegrees(bearing(start.at, caught.point)) : 0;
  const heading = toRadians(Math.round(toward / HEADING_STEP) * HEADING_STEP);
  return layBase(input, { ...wishes, start: { kind: "pose", pose: { ...start.at, heading } } });
}

export const straightTool = pieceTool(STRAIGHT);
export const curveTool = pieceTool(CURVE);
