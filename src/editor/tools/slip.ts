/**
 * The slip tool: a click where two tracks cross lays a slip there, or takes the one that lies there in hand. K makes it
 * single or double, F puts a single one on the other side; arrows go from crossing to crossing.
 */
import { levelWith } from "../../drafting/decks.js";
import { distance, type Point } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import { otherSide } from "../../layout/relay/relocate.js";
import { frogNumber } from "../../standards/turnouts.js";
import { Building } from "../../layout/trackwork-makers/building.js";
import { amend, type Edit, recordAt } from "../../plan/edit.js";
import { freshId } from "../../plan/fresh-id.js";
import type { Id, Side, Slip } from "../../plan/schema.js";
import type { Choice, Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import { refusedLine } from "./lay-show.js";
import { madeOnce } from "./made.js";
import { committed, previewed, putAside } from "./outcomes.js";

export interface SlipState {
  readonly kind: Slip["kind"];
  readonly side: Side;
  readonly at: Point | undefined;
  /** The crossing gone to by keys, among all of them. */
  readonly step: number | undefined;
  readonly pressed: boolean;
}

interface Spot {
  readonly on: Id;
  readonly at: Millimetres;
  readonly across: Id;
  readonly point: Point;
  readonly number: number;
  /** The slip that lies there already. */
  readonly slip: Id | undefined;
}

/** A slip lies at a crossing no farther from it than this: it is derived from the same lines. */
const SAME_PLACE: Millimetres = 1;
/** A crossing is caught from so many times the reach: rails cross over some length. */
const WIDE = 2;

const begun = (kept?: SlipState): SlipState => ({
  kind: kept?.kind ?? "double",
  side: kept?.side ?? "left",
  at: undefined,
  step: undefined,
  pressed: false,
});

export const slipTool: Tool<SlipState> = {
  id: "slip",
  stage: "lay",
  name: "Slip",
  key: "i",
  begin: () => begun(),
  handle(state, event, input) {
    if (event.type === "cancel") return putAside(begun(state));
    if (event.type === "choose") {
      if (event.choice === "kind")
        return changed(state, { kind: event.value === "single" ? "single" : "double" }, input);
      if (event.choice !== "side") return { state };
      return changed(state, { side: event.value === "right" ? "right" : "left" }, input);
    }
    if (event.type === "key") return keyed(state, event, input);
    const moved: SlipState = { ...state, at: { x: event.at.x, y: event.at.y }, step: undefined };
    if (event.type === "move") return shown(moved, input);
    if (event.type === "down") return shown({ ...moved, pressed: true }, input);
    const released = { ...moved, pressed: false };
    return state.pressed ? laid(released, input) : shown(released, input);
  },
  show(state, input) {
    const overlay: Overlay[] = spotsOf(input).map((spot) => ({
      kind: "handle",
      at: spot.point,
      shape: "ring",
      name: `crossing number ${spot.number.toFixed(1)}`,
    }));
    const spot = spotInHand(state, input);
    const edit = spot && editOf(state, spot, input);
    if (spot && edit && !edit.ok) overlay.push(...refusedLine(spot.point, spot.point, edit.message));
    else if (spot) {
      const text = spot.slip === undefined ? `${state.kind} slip, No. ${spot.number.toFixed(1)}` : "a slip lies here";
      overlay.push({ kind: "label", at: spot.point, text, style: "draft" });
    }
    const { kind, side } = chosenSlip(input)?.slip ?? state;
    return {
      overlay,
      hint: "Click where two tracks cross. K single or double, F puts a single slip on the other side. The arrow keys go from crossing to crossing, Enter lays it.",
      choices: [kindChoice(kind), ...(kind === "single" ? [sideChoice(side ?? "left")] : [])],
      cursor: "crosshair",
    };
  },
};

const kindChoice = (value: Slip["kind"]): Choice => ({
  id: "kind",
  label: "Slip",
  value,
  options: [
    { value: "single", label: "Single" },
    { value: "double", label: "Double" },
  ],
});
const sideChoice = (value: Side): Choice => ({
  id: "side",
  label: "Side",
  value,
  options: [
    { value: "left", label: "Left" },
    { value: "right", label: "Right" },
  ],
});

/** Crossings of tracks on the deck in hand, from the left. */
function spotsOf({ layout, plan, deck }: ToolInput): Spot[] {
  const level = levelWith(plan, deck);
  const slips = [...layout.slips.values()];
  return layout.crossings
    .flatMap(({ a, b, point, angle, deck: on }): Spot[] => {
      const [own, across] = [layout.lines.get(a.line), layout.lines.get(b.line)];
      if (own?.kind !== "track" || across?.kind !== "track" || !level.includes(on)) return [];
      const slip = slips.find((one) => distance(one.point, point) < SAME_PLACE)?.id;
      return [{ on: own.id, at: a.s, across: across.id, point, number: frogNumber(angle), slip }];
    })
    .sort((p, q) => p.point.x - q.point.x || p.point.y - q.point.y);
}

function spotInHand({ at, step }: SlipState, input: ToolInput): Spot | undefined {
  const spots = spotsOf(input);
  if (step !== undefined) return spots[step % Math.max(spots.length, 1)];
  if (!at) return undefined;
  const near = spots.filter(({ point }) => distance(point, at) <= WIDE * input.reach);
  return near.sort((p, q) => distance(p.point, at) - distance(q.point, at))[0];
}

function editOf({ kind, side }: SlipState, spot: Spot, { layout, plan }: ToolInput): Edit | undefined {
  if (spot.slip !== undefined) return undefined;
  const { on, at, across } = spot;
  const slip: Slip = { on, at, across, kind, ...(kind === "single" && { side }) };
  return madeOnce(layout, `slip ${JSON.stringify(slip)}`, () => {
    const building = new Building(layout, "Lay slip");
    building.put("slips", freshId(plan, "slip"), slip);
    return building.finish();
  }).edit;
}

function chosenSlip({ plan, selection }: ToolInput): { readonly id: Id; readonly slip: Slip } | undefined {
  const only = selection.length === 1 ? selection[0] : undefined;
  if (only?.kind !== "record" || only.collection !== "slips") return undefined;
  const slip = recordAt(plan, "slips", only.id);
  return slip && { id: only.id, slip };
}

function shown(state: SlipState, input: ToolInput): Outcome<SlipState> {
  const spot = spotInHand(state, input);
  return { state, effects: previewed(spot && editOf(state, spot, input)) };
}

function laid(state: SlipState, input: ToolInput): Outcome<SlipState> {
  const spot = spotInHand(state, input);
  if (!spot) return shown(state, input);
  const edit = editOf(state, spot, input);
  const id = spot.slip ?? freshId(input.plan, "slip");
  const select = { do: "select", selection: [{ kind: "record", collection: "slips", id }] } as const;
  if (!edit) return { state, effects: [{ do: "abandon" }, select] };
  return committed(edit, { ...state, at: undefined }, state, [select]);
}

/** Of the slip that is chosen, and of those to come; over a crossing without one only of those. */
function changed(state: SlipState, change: Partial<Pick<Slip, "kind" | "side">>, input: ToolInput): Outcome<SlipState> {
  const { kind = state.kind, side = state.side } = change;
  const next: SlipState = { ...state, kind, side };
  const spot = spotInHand(state, input);
  const chosen = chosenSlip(input);
  if (!chosen || (spot && spot.slip === undefined)) return shown(next, input);
  const building = new Building(input.layout, "Change slip");
  const own = { ...chosen.slip, ...change };
  building.put("slips", chosen.id, amend<Slip>(own, { side: own.kind === "single" ? (own.side ?? side) : undefined }));
  return committed(building.finish(), next, state);
}

function keyed(state: SlipState, event: ToolEvent & { type: "key" }, input: ToolInput): Outcome<SlipState> {
  if (event.key === "Enter") return laid(state, input);
  if (event.key.startsWith("Arrow")) {
    const count = spotsOf(input).length;
    const way = event.key === "ArrowRight" || event.key === "ArrowDown" ? 1 : -1;
    const from = state.step ?? (way === 1 ? -1 : 0);
    return shown({ ...state, step: count === 0 ? undefined : (from + way + count) % count }, input);
  }
  const now = chosenSlip(input)?.slip ?? state;
  const key = event.key.toLowerCase();
  if (key === "k") return changed(state, { kind: now.kind === "single" ? "double" : "single" }, input);
  return key === "f" ? changed(state, { side: otherSide(now.side ?? "left") }, input) : { state };
}
