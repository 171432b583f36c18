/**
 * Section: a line across the room along which it is cut, drawn anew or dragged by either end or as a whole. It is no part
 * of the plan: nothing here is an edit, and Esc puts back what is being dragged.
 */
import { pointsBox } from "../../drafting/boxes.js";
import { squareTo } from "../../drafting/square.js";
import { sheetLength } from "../../drafting/viewport.js";
import { bearing, distance, localPoint, offsetPoint, type Point } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import type { Cut } from "../../layout/section.js";
import { formatLength } from "../../plan/format-length.js";
import type { Plan } from "../../plan/schema.js";
import type { SectionStore } from "../section-store.js";
import type { Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import { putAside } from "./outcomes.js";

/** What of the line is in hand. */
type Part = "from" | "to" | "whole";

export interface SectionToolState {
  readonly over?: Part;
  readonly held?: {
    /** `anew`: another line is drawn from here. */
    readonly part: Part | "anew";
    readonly at: Point;
    readonly screen: Point;
    /** Where the line lay, and whether it has left there. */
    readonly before: Cut | undefined;
    readonly moved: boolean;
  };
  /** What the arrows move. */
  readonly keyed: Part;
}

const REST: SectionToolState = { keyed: "whole" };
/** A hand on a button trembles by less, px. */
const TREMBLE = 4;
/** A line drawn shorter than this is a slip of the hand, mm. */
const SLIP: Millimetres = 50;
/** The way one looks is shown by a stroke so long, px. */
const LOOK = 18;
/** Steps of the arrows. */
const STEP = { imperial: 25.4, metric: 20 } as const;
const NEXT: Readonly<Record<Part, Part>> = { whole: "from", from: "to", to: "whole" };
const NAMES: Readonly<Record<Part, string>> = { whole: "the line", from: "A", to: "B" };

export const sectionTool = (store: SectionStore): Tool<SectionToolState> => ({
  id: "section",
  stage: "frame",
  name: "Section",
  key: "x",

  begin({ plan }) {
    const { cut } = store.getState();
    store.setState({ open: true, cut: cut && liesIn(plan, cut) ? cut : acrossRoom(plan) });
    return REST;
  },

  handle(state, event, input): Outcome<SectionToolState> {
    const { held } = state;
    if (event.type === "choose") return { state };
    if (event.type === "cancel") {
      if (!held?.moved) return putAside(REST);
      store.setState({ cut: held.before });
      return { state: REST };
    }
    if (event.type === "key") return { state: keyed(store, state, event, input) };
    if (event.type === "down") return { state: pressed(store, event, input) };
    if (event.type === "move") return { state: moved(store, state, event, input) };
    const { cut } = store.getState();
    if (held?.moved && cut && distance(cut.from, cut.to) < SLIP) store.setState({ cut: held.before });
    return { state: REST };
  },

  show(state, input) {
    const { cut } = store.getState();
    const hint =
      "Drag A, B or the whole line, or draw it anew (Alt frees it from what catches). Arrows move it, Tab changes what they move. One looks to the left of A to B.";
    return {
      overlay: cut ? overlayOf(cut, state, input) : [],
      hint: state.keyed === "whole" ? hint : `Arrows move ${NAMES[state.keyed]}; Tab changes what they move.`,
      cursor: state.held ? "move" : state.over ? "grab" : "crosshair",
    };
  },
});

function overlayOf(cut: Cut, { over, held, keyed: hand }: SectionToolState, { viewport, units }: ToolInput): Overlay[] {
  const heading = bearing(cut.from, cut.to);
  const look = sheetLength(viewport, LOOK);
  const hot = held?.part ?? over ?? (hand === "whole" ? undefined : hand);
  const end = (at: Point, way: 1 | -1, name: string, part: Part): Overlay[] => {
    const pose = { ...at, heading };
    return [
      { kind: "line", points: [at, offsetPoint(pose, 0, look)], style: "draft" },
      { kind: "handle", at, shape: "square", name: `section ${name}`, hot: hot === part },
      { kind: "label", at: offsetPoint(pose, way * look, 0), text: name, style: "draft" },
    ];
  };
  const middle = { x: (cut.from.x + cut.to.x) / 2, y: (cut.from.y + cut.to.y) / 2 };
  return [
    { kind: "line", points: [cut.from, cut.to], style: "draft" },
    ...end(cut.from, -1, "A", "from"),
    ...end(cut.to, 1, "B", "to"),
    ...(held?.moved
      ? [{ kind: "label", at: middle, text: formatLength(distance(cut.from, cut.to), units), style: "draft" } as const]
      : []),
  ];
}

/** Across the middle of the room the short way. */
function acrossRoom({ room }: Plan): Cut {
  const { minX, minY, maxX, maxY } = pointsBox(room.outline);
  const [x, y] = [(minX + maxX) / 2, (minY + maxY) / 2];
  return maxX - minX >= maxY - minY
    ? { from: { x, y: minY }, to: { x, y: maxY } }
    : { from: { x: minX, y }, to: { x: maxX, y } };
}

/** A line left over from another plan may lie outside the room of this one. */
function liesIn({ room }: Plan, { from, to }: Cut): boolean {
  const { minX, minY, maxX, maxY } = pointsBox(room.outline);
  return (
    Math.max(from.x, to.x) >= minX &&
    Math.min(from.x, to.x) <= maxX &&
    Math.max(from.y, to.y) >= minY &&
    Math.min(from.y, to.y) <= maxY
  );
}

function partAt(cut: Cut | undefined, at: Point, reach: Millimetres): Part | undefined {
  if (!cut) return undefined;
  if (distance(at, cut.to) <= reach) return "to";
  if (distance(at, cut.from) <= reach) return "from";
  const { x, y } = localPoint({ ...cut.from, heading: bearing(cut.from, cut.to) }, at);
  return Math.abs(y) <= reach && x >= 0 && x <= distance(cut.from, cut.to) ? "whole" : undefined;
}

type Hand = ToolEvent & { readonly type: "down" | "move" | "up" };

function pressed(store: SectionStore, { at, screen }: Hand, { reach }: ToolInput): SectionToolState {
  const { cut } = store.getState();
  const part = partAt(cut, at, reach);
  return { ...REST, held: { part: part ?? "anew", at, screen, before: cut, moved: false } };
}

function moved(store: SectionStore, state: SectionToolState, event: Hand, { reach }: ToolInput): SectionToolState {
  const { held } = state;
  const { cut } = store.getState();
  if (!held) {
    const over = event.touch ? undefined : partAt(cut, event.at, reach);
    return { keyed: state.keyed, ...(over && { over }) };
  }
  const far = Math.hypot(event.screen.x - held.screen.x, event.screen.y - held.screen.y) > TREMBLE;
  if (!held.moved && !far) return state;
  store.setState({ cut: draggedTo(held, event, reach), stand: undefined });
  return { ...state, held: { ...held, moved: true } };
}

function draggedTo({ part, at, before }: NonNullable<SectionToolState["held"]>, event: Hand, reach: Millimetres): Cut {
  const to = { x: event.at.x, y: event.at.y };
  const caught = (fixed: Point): Point => (event.alt ? to : squareTo(fixed, undefined, to, reach).point);
  if (part === "anew" || !before) return { from: { x: at.x, y: at.y }, to: caught(at) };
  if (part === "from") return { from: caught(before.to), to: before.to };
  if (part === "to") return { from: before.from, to: caught(before.from) };
  return shifted(before, "whole", to.x - at.x, to.y - at.y);
}

function shifted({ from, to }: Cut, part: Part, dx: Millimetres, dy: Millimetres): Cut {
  const by = (p: Point): Point => ({ x: p.x + dx, y: p.y + dy });
  return { from: part === "to" ? from : by(from), to: part === "from" ? to : by(to) };
}

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

function keyed(
  store: SectionStore,
  state: SectionToolState,
  { key, shift }: ToolEvent & { readonly type: "key" },
  { units }: ToolInput,
): SectionToolState {
  if (key === "Tab") return { keyed: NEXT[state.keyed] };
  const { cut } = store.getState();
  const arrow = ARROWS[key];
  if (!arrow || !cut) return state;
  const step = STEP[units] * (shift ? 10 : 1);
  const next = shifted(cut, state.keyed, arrow[0] * step, arrow[1] * step);
  if (distance(next.from, next.to) >= SLIP) store.setState({ cut: next });
  return state;
}
