/**
 * The tool that has climb routes searched: where the climb leaves one deck, where it arrives on another, limits and
 * wishes, ground it may be built on. What is picked stands in the store beside the sheet, where the panel shows it too;
 * the search itself is ordered there and carried out elsewhere.
 */
import { type ClimbEnd, isTurnoutPlace, RANKINGS, type Ranking } from "../../climb/request.js";
import { partnerDeck } from "../../drafting/decks.js";
import { snap } from "../../drafting/snap.js";
import type { Area } from "../../geometry/areas.js";
import type { Point } from "../../geometry/pose.js";
import { formatLength } from "../../plan/format-length.js";
import { formatGrade } from "../../plan/grade-text.js";
import { BOUNDS } from "../../plan/schema.js";
import { type ClimbStore, isSearching, order, wish } from "../climb-store.js";
import { endsOnDeck, endSpot, sameEnd } from "../climbs/ends.js";
import type { Choice, Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import { type Chain, chainFields, chainOverlay, emptyChain, stepChain } from "./corner-chain.js";
import { asClass, classChoice } from "./lay-show.js";
import { limits } from "./lay-start.js";
import { toStep } from "./legs-toward.js";
import { putAside } from "./outcomes.js";
import { entryOf, type Field, startTyping, typeKey, type Typing } from "./typing.js";

type Figure = "grade" | "radius";
const FIELDS: readonly Field<Figure>[] = [
  { key: "grade", label: "Grade at most", takes: "grade", least: 0.01, most: 100 },
  { key: "radius", label: "Radius at least", takes: "length", most: BOUNDS.radius },
];

/** What a click picks; `again` changes whichever end lies on the deck in hand. */
type Picking = "from" | "to" | "again";

export interface ClimbRoutesState {
  /** Ground is drawn that the climb may be built on. */
  readonly drawing: boolean;
  /** Under the pointer, or come to by the arrows. */
  readonly over: ClimbEnd | undefined;
  readonly byKey: boolean;
  readonly typing: Typing<Figure>;
  readonly ground: Chain<never>;
  readonly pressed: boolean;
}

const GROUND_RULES = {
  closed: true,
  kinds: ["bench-corner", "wall-corner", "bench-edge", "wall"],
  fields: [],
} as const;

export const RANKING_WORDS: Readonly<Record<Ranking, string>> = {
  "least-grade": "Least grade",
  "least-hidden": "Least hidden",
  "most-visible-run": "Most run in sight",
  "easiest-reach": "Easiest reach",
  "least-new-bench": "Least new bench",
};

export const rankingChoice = (value: Ranking | undefined): Choice => ({
  id: "rank",
  label: "First",
  value: value ?? "",
  options: [
    { value: "", label: "Easiest line" },
    ...RANKINGS.map((one) => ({ value: one, label: RANKING_WORDS[one] })),
  ],
});
export const asRanking = (value: string): Ranking | undefined => RANKINGS.find((one) => one === value);

const begun = (drawing = false): ClimbRoutesState => ({
  drawing,
  over: undefined,
  byKey: false,
  typing: startTyping("grade"),
  ground: emptyChain(),
  pressed: false,
});

export const climbRoutesTool = (store: ClimbStore): Tool<ClimbRoutesState> => ({
  id: "climb-routes",
  stage: "grade",
  name: "Routes",
  key: "r",
  begin() {
    store.setState({ open: true });
    return begun();
  },

  handle(state, event, input) {
    if (event.type === "cancel") return cancelled(store, state, input);
    if (event.type === "choose") return { state: chosen(store, state, event) };
    if (state.drawing) return drawnGround(store, state, event, input);
    if (event.type === "key") return keyed(store, state, event, input);
    const over = endAt(input, event.at);
    if (event.type === "down") return { state: { ...state, over, byKey: false, pressed: true } };
    if (event.type === "up" && state.pressed && over) return picked(store, over, input);
    return { state: { ...state, over, byKey: false, pressed: event.type === "move" && state.pressed } };
  },

  show(state, input) {
    const { wishes } = store.getState();
    const { drawing } = state;
    const entry = drawing
      ? state.ground.corners.length > 0 && entryOf(state.ground.typing, chainFields(GROUND_RULES))
      : pickingNow(store, input) === "again" && entryOf(state.typing, FIELDS, figureText(store, state, input));
    return {
      overlay: [
        ...(wishes.allow ?? []).flatMap(groundLines),
        ...(drawing ? chainOverlay(state.ground, input, true) : endMarks(store, state, input)),
      ],
      hint: hintOf(store, state, input),
      ...(entry && { entry }),
      choices: [classChoice(wishes.class), rankingChoice(wishes.rankBy)],
      cursor: "crosshair",
    };
  },
});

function pickingNow(store: ClimbStore, { layout }: ToolInput): Picking {
  const { from, to } = store.getState().wishes;
  if (!endSpot(layout, from)) return "from";
  return endSpot(layout, to) ? "again" : "to";
}

/** An end that is free, a turnout's branch, else the place on the track under the pointer. */
function endAt({ layout, deck, reach, units }: ToolInput, at: Point): ClimbEnd | undefined {
  const near = { reach, deck, kinds: ["end", "turnout", "track"] as const };
  const { anchor, track, s } = snap(layout, { x: at.x, y: at.y }, near);
  if (anchor && ("track" in anchor || "turnout" in anchor)) return endSpot(layout, anchor)?.end;
  if (track === undefined || s === undefined) return undefined;
  const length = layout.lines.get(`track:${track}`)?.path.length ?? 0;
  const step = toStep(s, units);
  return { track, at: step > 0 && step < length ? step : s };
}

function picked(store: ClimbStore, end: ClimbEnd, input: ToolInput): Outcome<ClimbRoutesState> {
  const { from, to } = store.getState().wishes;
  const picking = pickingNow(store, input);
  const which = picking === "again" ? ownDeck(store, end, input) : picking;
  if (sameEnd(end, which === "to" ? from : to)) {
    return { state: begun(), effects: [{ do: "say", text: "The other end is there already." }] };
  }
  wish(store, { [which]: end });
  // The finish lies on another deck as a rule: that one comes to hand.
  const other = pickingNow(store, input) === "to" ? partnerDeck(input.plan, input.deck) : undefined;
  return { state: begun(), ...(other !== undefined && { effects: [{ do: "deck", deck: other }] }) };
}

/** With both ends picked a click changes the one of its own deck. */
function ownDeck(store: ClimbStore, end: ClimbEnd, { layout }: ToolInput): "from" | "to" {
  const deck = endSpot(layout, end)?.deck;
  return endSpot(layout, store.getState().wishes.from)?.deck === deck ? "from" : "to";
}

function cancelled(store: ClimbStore, state: ClimbRoutesState, input: ToolInput): Outcome<ClimbRoutesState> {
  if (state.drawing) {
    if (state.ground.corners.length > 0) return { state: begun(true) };
    return { state: begun() };
  }
  if (isSearching(store.getState())) {
    order(store, "stop");
    return { state };
  }
  if (state.typing.text !== "" || state.byKey) return { state: begun() };
  if (pickingNow(store, input) !== "to") return putAside(begun());
  const deck = endSpot(input.layout, store.getState().wishes.from)?.deck;
  wish(store, { from: undefined });
  return { state: begun(), ...(deck !== undefined && { effects: [{ do: "deck", deck }] }) };
}

function chosen(
  store: ClimbStore,
  state: ClimbRoutesState,
  { choice, value }: ToolEvent & { readonly type: "choose" },
): ClimbRoutesState {
  if (choice === "class") wish(store, { class: asClass(value) ?? store.getState().wishes.class });
  if (choice === "rank") wish(store, { rankBy: asRanking(value) });
  if (choice === "pick") return begun(value === "ground");
  return state;
}

function drawnGround(
  store: ClimbStore,
  state: ClimbRoutesState,
  event: ToolEvent & { readonly type: "down" | "move" | "up" | "key" },
  input: ToolInput,
): Outcome<ClimbRoutesState> {
  const { chain: ground, finish } = stepChain(state.ground, event, input, GROUND_RULES);
  if (!finish) return { state: { ...state, ground } };
  const area: Area = [ground.corners.map(({ x, y }) => ({ x, y }))];
  wish(store, { allow: [...(store.getState().wishes.allow ?? []), area] });
  return { state: begun() };
}

const STEPS: Readonly<Record<string, 1 | -1>> = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 };

function keyed(
  store: ClimbStore,
  state: ClimbRoutesState,
  event: ToolEvent & { readonly type: "key" },
  input: ToolInput,
): Outcome<ClimbRoutesState> {
  const way = STEPS[event.key];
  if (way) return { state: { ...state, over: nextEnd(state.over, way, input), byKey: true } };
  if (event.key === "Enter" && state.over && state.byKey && state.typing.text === "") {
    return picked(store, state.over, input);
  }
  if (pickingNow(store, input) !== "again") return { state };
  if (event.key === "g" && state.typing.text === "") return { state: begun(true) };
  const typed = typeKey(state.typing, FIELDS, event, input.units);
  if (!typed) return { state };
  if (typed.set) wish(store, { [typed.set.field]: typed.set.value });
  if (typed.entered && !typed.set) order(store, "search");
  return { state: { ...state, typing: typed.typing } };
}

function nextEnd(over: ClimbEnd | undefined, way: 1 | -1, { layout, deck }: ToolInput): ClimbEnd | undefined {
  const ends = endsOnDeck(layout, deck);
  const here = ends.findIndex(({ end }) => sameEnd(end, over));
  const next = here < 0 ? (way === 1 ? 0 : ends.length - 1) : (here + way + ends.length) % ends.length;
  return ends[next]?.end;
}

function figureText(store: ClimbStore, { typing }: ClimbRoutesState, { plan, units }: ToolInput): string {
  const { wishes } = store.getState();
  const own = limits(plan, wishes.class);
  return typing.field === "grade"
    ? formatGrade(wishes.grade ?? own.grade.value)
    : formatLength(wishes.radius ?? own.radius.value, units);
}

const groundLines = (area: Area): Overlay[] =>
  area.map((ring) => ({ kind: "line", points: ring, closed: true, style: "guide" }));

function endMarks(store: ClimbStore, { over }: ClimbRoutesState, input: ToolInput): Overlay[] {
  const { layout, deck } = input;
  const { from, to } = store.getState().wishes;
  const marks: Overlay[] = endsOnDeck(layout, deck).map(({ pose, word }) => ({
    kind: "handle",
    at: pose,
    shape: "ring",
    name: word,
  }));
  for (const [end, text] of [
    [from, "leaves here"],
    [to, "arrives here"],
  ] as const) {
    const spot = endSpot(layout, end);
    if (!spot) continue;
    marks.push({ kind: "handle", at: spot.pose, shape: "square", name: text, hot: true });
    marks.push({ kind: "label", at: spot.pose, text, style: "draft" });
  }
  const spot = endSpot(layout, over);
  if (spot && !sameEnd(over, from) && !sameEnd(over, to)) {
    const place = over && isTurnoutPlace(over) ? `${spot.word}, with a turnout` : spot.word;
    const way = pickingNow(store, input) === "from" ? "from" : "to";
    marks.push({ kind: "snap", at: spot.pose, to: `${way} ${place}` });
  }
  return marks;
}

function hintOf(store: ClimbStore, { drawing, ground }: ClimbRoutesState, input: ToolInput): string {
  if (drawing) {
    return ground.corners.length === 0
      ? "Click the first corner of ground the climb may be built on. Esc goes back."
      : "Click the next corner; Enter or the first corner closes. Backspace takes back.";
  }
  if (isSearching(store.getState())) return "Searching. Routes stand in the margin as they are found. Esc stops.";
  const picking = pickingNow(store, input);
  if (picking === "from") {
    return "Click where the climb leaves: the end of a track, a turnout’s branch, or a place on a track. Arrows step through the ends, Enter takes one.";
  }
  if (picking === "to") {
    return "Click where it arrives, on the deck now in hand (Page Up and Page Down change it). Arrows and Enter by key. Esc takes the start back.";
  }
  return "Enter searches. Type a grade, Tab for the radius; G draws ground it may be built on; a click moves the end of that deck.";
}
