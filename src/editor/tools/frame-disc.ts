/** Disc: a round bench, as under a turnback curve or a helix: its middle clicked, its radius drawn or typed. */
import { snap, type SnapKind } from "../../drafting/snap.js";
import { distance, type Point } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import { type Edit, putRecord, refused } from "../../plan/edit.js";
import { formatLength } from "../../plan/format-length.js";
import { BOUNDS } from "../../plan/schema.js";
import type { Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import { committed, newId, previewed, putAside } from "./outcomes.js";
import { entryOf, entryWhile, type Field, startTyping, typeKey, type Typing } from "./typing.js";

export interface DiscState {
  readonly centre?: Point;
  readonly radius?: Millimetres;
  readonly typed?: boolean;
  readonly pressed?: Point;
  readonly typing: Typing<"radius">;
}

const REST: DiscState = { typing: startTyping("radius") };
const KINDS: readonly SnapKind[] = ["end", "bench-corner", "bench-edge"];
const FIELDS: readonly Field<"radius">[] = [{ key: "radius", label: "Radius", takes: "length", most: BOUNDS.radius }];
/** A disc smaller than this is a slip. */
const LEAST: Millimetres = 10;
/** A hand on a button trembles by less, px. */
const TREMBLE = 4;

export const discTool: Tool<DiscState> = {
  id: "disc",
  stage: "frame",
  name: "Disc",
  key: "d",
  begin: () => REST,

  handle(state, event, input): Outcome<DiscState> {
    if (event.type === "choose") return { state };
    if (event.type === "cancel") {
      return state.centre || state.typing.text !== "" ? { state: REST, effects: [{ do: "abandon" }] } : putAside(REST);
    }
    if (event.type !== "key") return pointed(state, event, input);
    const typed = typeKey(state.typing, FIELDS, event, input.units);
    if (!typed) return event.key === "Backspace" ? { state: REST, effects: [{ do: "abandon" }] } : { state };
    const next: DiscState = {
      ...state,
      typing: typed.typing,
      ...(typed.set && { radius: typed.set.value, typed: true }),
    };
    if (typed.entered && next.centre) return committed(edited(next, input), REST, next);
    return shown(next, input);
  },

  show(state, input) {
    const { centre, radius } = state;
    const overlay: Overlay[] = [];
    if (centre) {
      overlay.push({ kind: "handle", at: centre, shape: "ring", name: "middle of the disc" });
      if (radius !== undefined) {
        overlay.push({ kind: "line", points: [centre, { x: centre.x + radius, y: centre.y }], style: "guide" });
        overlay.push({ kind: "label", at: centre, text: `R ${formatLength(radius, input.units)}` });
      }
    }
    const hint = centre
      ? "Draw the disc as wide as it is to be, or type its radius; click or Enter builds it. Backspace takes back."
      : "Click the middle of the disc. Farther than an arm reaches, it needs a way in from below.";
    const value = radius === undefined ? "" : formatLength(radius, input.units);
    return {
      overlay,
      hint,
      ...entryWhile(centre !== undefined, entryOf(state.typing, FIELDS, value)),
      cursor: "crosshair",
    };
  },
};

type Hand = ToolEvent & { readonly type: "down" | "move" | "up" };

function pointed(state: DiscState, event: Hand, input: ToolInput): Outcome<DiscState> {
  const { centre } = state;
  const at = { x: event.at.x, y: event.at.y };
  if (!centre) {
    if (event.type !== "down") return { state };
    const { point } = event.alt
      ? { point: at }
      : snap(input.layout, at, { reach: input.reach, deck: input.deck, kinds: KINDS });
    return shown({ ...state, centre: point, pressed: event.screen }, input);
  }
  const next: DiscState = state.typed ? state : { ...state, radius: distance(centre, at) };
  if (event.type === "move") return shown(next, input);
  if (event.type === "down") return committed(edited(next, input), REST, next);
  const { pressed, ...rest } = next;
  const dragged = pressed && Math.hypot(event.screen.x - pressed.x, event.screen.y - pressed.y) > TREMBLE;
  return dragged ? committed(edited(next, input), REST, rest) : { state: rest };
}

const shown = (state: DiscState, input: ToolInput): Outcome<DiscState> => ({
  state,
  effects: state.centre && state.radius !== undefined ? previewed(edited(state, input)) : [],
});

function edited({ centre, radius = 0 }: DiscState, { plan, deck }: ToolInput): Edit {
  if (!Object.hasOwn(plan.decks, deck)) return refused("there is no deck yet for it to belong to");
  if (!centre || radius < LEAST) return refused("a disc has a radius");
  return putRecord(plan, "benches", newId(plan, "disc"), { deck, shape: { disc: { centre, radius } } }, "Build disc");
}
