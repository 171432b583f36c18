/**
 * What the ladder tool and the yard tool have in common: from an end, by figures. The pointer shows the side and how long
 * the tracks are, typed figures hold; K changes the kind, F the side, and a click or Enter lays it all as one step.
 */
import type { Snapped } from "../../drafting/snap.js";
import { distance, localPoint, type Point, type Pose } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import type { Layout } from "../../layout/layout.js";
import type { Edit } from "../../plan/edit.js";
import { formatLength } from "../../plan/format-length.js";
import { INCH } from "../../plan/parse-length.js";
import type { Anchor, Id, Plan, Side, Track } from "../../plan/schema.js";
import type { Choice, Outcome, Overlay, Tool, ToolEvent, ToolInput } from "../tool.js";
import { asFrog, caughtMark, endHandles, frogChoice, refusedLine, USUAL_FROG } from "./lay-show.js";
import {
  caughtForStart,
  type LayBase,
  layBase,
  type LayStart,
  limits,
  startFrom,
  startFromSelection,
} from "./lay-start.js";
import { lengthStep, toStep } from "./legs-toward.js";
import { madeOnce, type Made, pastBumper, selectNew } from "./made.js";
import { committed, previewed, putAside } from "./outcomes.js";
import { entryOf, entryWhile, type Field, startTyping, typeKey, type Typing } from "./typing.js";

export type Figure = "tracks" | "spacing" | "number" | "length" | "lead";
export type Figures = Readonly<Record<Figure, number>>;

export interface GroupWishes extends Figures {
  readonly from: Anchor;
  readonly deck: Id;
  readonly hand: Side;
  readonly kind: string;
  readonly runaround: boolean;
}

/** What is laid in a group, and how. */
export interface Group {
  readonly id: string;
  readonly name: string;
  readonly key: string;
  readonly fields: readonly Figure[];
  readonly kindLabel: string;
  readonly kinds: readonly { readonly value: string; readonly label: string }[];
  readonly runaround: boolean;
  make(layout: Layout, wishes: GroupWishes): Edit;
  /** Why the tracks lie too near one another. */
  lacks(plan: Plan, wishes: GroupWishes): string | undefined;
  /** The track whose end moves away as the tracks grow longer. */
  farthest(tracks: readonly (readonly [id: Id, track: Track])[]): Id | undefined;
}

export interface GroupState {
  readonly start: LayStart | undefined;
  readonly caught: Snapped | undefined;
  readonly at: Point | undefined;
  readonly figures: { readonly [K in Figure]?: number };
  /** Typed or chosen; otherwise the pointer's side. */
  readonly hand: Side | undefined;
  readonly kind: string;
  readonly runaround: boolean;
  readonly typing: Typing<Figure>;
  /** Where the button went down, and whether that was on the end it begins at. */
  readonly pressed: { readonly from: Point; readonly begins: boolean } | undefined;
}

const FIELDS: Readonly<Record<Figure, Field<Figure>>> = {
  tracks: { key: "tracks", label: "Tracks", takes: "number", least: 2, most: 40 },
  spacing: { key: "spacing", label: "Track centres", takes: "length" },
  number: { key: "number", label: "Frog number", takes: "number", least: 2, most: 40 },
  length: { key: "length", label: "Length of the shortest", takes: "length" },
  lead: { key: "lead", label: "Lead", takes: "length", least: 0 },
};
const HANDS = [
  { value: "left", label: "Left" },
  { value: "right", label: "Right" },
] as const;
/** Numbers of tracks offered; any other can be typed. */
const COUNTS = [2, 3, 4, 5, 6, 8];
const FIRST_COUNT = 3;
/** A length to begin with, to be drawn or typed over. */
const FIRST_LENGTH = { imperial: 24 * INCH, metric: 600 } as const;
/** Tracks so long are tried to see where their ends lie; any length would do. */
const TRIED: Millimetres = 1000;
/** Where the class's track centres are too few for the turnouts, up to so many times as much is tried. */
const WIDEST = 2;

export function groupTool(group: Group): Tool<GroupState> {
  const fields = group.fields.map((figure) => FIELDS[figure]);
  const [firstKind] = group.kinds;
  const begun = (start?: LayStart, kept?: GroupState): GroupState => ({
    start,
    caught: undefined,
    at: undefined,
    figures: kept?.figures ?? {},
    hand: undefined,
    kind: kept?.kind ?? firstKind?.value ?? "",
    runaround: kept?.runaround ?? false,
    typing: startTyping("tracks"),
    pressed: undefined,
  });
  const shown = (state: GroupState, input: ToolInput): Outcome<GroupState> => ({
    state,
    effects: previewed(madeBy(group, state, input)?.made.edit),
  });
  const laid = (state: GroupState, input: ToolInput): Outcome<GroupState> => {
    const edit = madeBy(group, state, input)?.made.edit;
    return edit ? committed(edit, begun(undefined, state), state, selectNew(input.plan, edit)) : { state };
  };
  const keyed = (state: GroupState, event: ToolEvent & { type: "key" }, input: ToolInput): Outcome<GroupState> => {
    const typed = typeKey(state.typing, fields, event, input.units);
    if (typed) {
      const { set, typing, entered } = typed;
      const next = { ...state, typing, figures: set ? { ...state.figures, [set.field]: set.value } : state.figures };
      return entered && state.start ? laid(next, input) : shown(next, input);
    }
    const key = event.key.toLowerCase();
    if (key === "f") return shown({ ...state, hand: handOf(state, input) === "left" ? "right" : "left" }, input);
    if (key === "k") return shown({ ...state, kind: nextKind(group, state.kind) }, input);
    if (key === "a" && group.runaround) return shown({ ...state, runaround: !state.runaround }, input);
    return { state };
  };

  return {
    id: group.id,
    stage: "lay",
    name: group.name,
    key: group.key,
    begin: (input) => begun(startFromSelection(input)),
    handle(state, event, input) {
      if (event.type === "cancel") {
        return state.start ? { state: begun(undefined, state), effects: [{ do: "abandon" }] } : putAside(begun());
      }
      if (event.type === "choose") return shown(chosen(state, group, event.choice, event.value), input);
      if (event.type === "key") return keyed(state, event, input);
      const at = { x: event.at.x, y: event.at.y };
      const caught = caughtForStart(input, at, "yard");
      const end = caught.kind === "end" || caught.kind === "turnout" ? caught : undefined;
      const moved: GroupState = { ...state, at, caught: end };
      if (event.type === "move") return shown(moved, input);
      if (event.type === "down") {
        const begins = end ? startFrom(end) : undefined;
        return shown(
          { ...moved, start: begins ?? state.start, pressed: { from: at, begins: begins !== undefined } },
          input,
        );
      }
      const released = { ...moved, pressed: undefined };
      const { pressed } = state;
      if (!pressed || !state.start) return shown(released, input);
      // Pressed on the end and let go there: that only said where it begins.
      const pulled = distance(pressed.from, at) > input.reach;
      return pressed.begins && !pulled ? shown(released, input) : laid(released, input);
    },
    show(state, input) {
      const drawn = madeBy(group, state, input);
      const { figures, kind, runaround } = state;
      const overlay: Overlay[] = [...endHandles(input), ...caughtMark(state.caught)];
      if (drawn) overlay.push(...drawnFigures(drawn, input));
      const also = group.runaround ? ", A a runaround" : "";
      return {
        overlay,
        hint: state.start
          ? `Pull to the side and length wanted, or type the figures (Tab goes on). F changes the side, K the ${group.kindLabel.toLowerCase()}${also}; click or Enter lays it. Esc lets the end go.`
          : `Click the end of a track or of a turnout from which the ${group.name.toLowerCase()} leads.`,
        ...entryWhile(state.start !== undefined, entryOf(state.typing, fields, figureText(state, drawn, input))),
        choices: [
          countChoice(figures.tracks ?? FIRST_COUNT),
          frogChoice(figures.number ?? USUAL_FROG),
          { id: "hand", label: "Side", value: handOf(state, input), options: HANDS },
          { id: "kind", label: group.kindLabel, value: kind, options: group.kinds },
          ...(group.runaround ? [runaroundChoice(runaround)] : []),
        ],
        cursor: "crosshair",
      };
    },
  };
}

const nextKind = ({ kinds }: Group, kind: string): string =>
  kinds[(kinds.findIndex(({ value }) => value === kind) + 1) % kinds.length]?.value ?? kind;

function chosen(state: GroupState, { kinds }: Group, choice: string, value: string): GroupState {
  const { figures } = state;
  if (choice === "tracks") return { ...state, figures: { ...figures, tracks: Number(value) } };
  if (choice === "frog") return { ...state, figures: { ...figures, number: asFrog(value) ?? USUAL_FROG } };
  if (choice === "hand") return { ...state, hand: value === "right" ? "right" : "left" };
  if (choice === "runaround") return { ...state, runaround: value === "yes" };
  return { ...state, kind: kinds.some((kind) => kind.value === value) ? value : state.kind };
}

const countChoice = (value: number): Choice => ({
  id: "tracks",
  label: "Tracks",
  value: String(value),
  options: [...new Set([...COUNTS, value])].sort((a, b) => a - b).map((n) => ({ value: String(n), label: String(n) })),
});
const runaroundChoice = (with_: boolean): Choice => ({
  id: "runaround",
  label: "Runaround",
  value: with_ ? "yes" : "no",
  options: [
    { value: "no", label: "None" },
    { value: "yes", label: "With one" },
  ],
});

function baseOf({ start }: GroupState, input: ToolInput): LayBase | undefined {
  const result = start && layBase(input, { start, class: "yard", frog: USUAL_FROG, toward: undefined });
  return result?.ok ? result.base : undefined;
}

function handOf(state: GroupState, input: ToolInput): Side {
  if (state.hand) return state.hand;
  const base = state.at && baseOf(state, input);
  return base && state.at && localPoint(base.pose, state.at).y < 0 ? "right" : "left";
}

interface Drawn {
  readonly base: LayBase;
  readonly wishes: GroupWishes;
  readonly made: Made;
  /** The end that the pointer pulls. */
  readonly end: Pose | undefined;
}

function madeBy(group: Group, state: GroupState, input: ToolInput): Drawn | undefined {
  const base = baseOf(state, input);
  if (!base) return undefined;
  const { plan, units } = input;
  const { figures, kind, runaround } = state;
  const wishes: GroupWishes = {
    from: base.anchor,
    deck: base.deck,
    hand: handOf(state, input),
    kind,
    runaround,
    tracks: figures.tracks ?? FIRST_COUNT,
    number: figures.number ?? USUAL_FROG,
    spacing: figures.spacing ?? limits(plan, "yard").centres.value,
    length: figures.length ?? TRIED,
    lead: figures.lead ?? 0,
  };
  const spaced = figures.spacing === undefined ? { ...wishes, spacing: usualSpacing(group, wishes, input) } : wishes;
  const typed = makeOf(group, spaced, input);
  if (figures.length !== undefined) return { base, wishes: spaced, made: typed, end: endOf(group, typed, input) };
  const tried = endOf(group, typed, input);
  const pulled = tried && state.at ? toStep(TRIED + localPoint(tried, state.at).x, units) : 0;
  const length = pulled > 0 ? pulled : FIRST_LENGTH[units];
  const made = makeOf(group, { ...spaced, length }, input);
  return { base, wishes: { ...spaced, length }, made, end: endOf(group, made, input) };
}

const makeOf = (group: Group, wishes: GroupWishes, { layout }: ToolInput): Made =>
  madeOnce(layout, `${group.id} ${JSON.stringify(wishes)}`, () => pastBumper(group.make(layout, wishes), wishes.from));

function endOf(group: Group, made: Made, { plan }: ToolInput): Pose | undefined {
  const { edit } = made;
  if (!edit.ok) return undefined;
  const tracks = Object.entries(edit.plan.tracks).filter(([id]) => !Object.hasOwn(plan.tracks, id));
  return made.layout().lines.get(`track:${group.farthest(tracks) ?? ""}`)?.path.end;
}

/** The class's track centres, or as much more as the turnouts want. */
function usualSpacing(group: Group, wishes: GroupWishes, { plan, units }: ToolInput): Millimetres {
  const { spacing: least } = wishes;
  const step = lengthStep(units);
  for (let spacing = least; spacing <= WIDEST * least; spacing = Math.ceil(spacing / step + 0.5) * step)
    if (group.lacks(plan, { ...wishes, spacing }) === undefined) return spacing;
  return least;
}

function drawnFigures({ base, wishes, made, end }: Drawn, { units }: ToolInput): Overlay[] {
  if (!made.edit.ok) return refusedLine(base.pose, base.pose, made.edit.message);
  if (!end) return [];
  const { tracks, spacing, length } = wishes;
  const text = `${tracks} tracks ${formatLength(spacing, units)} apart, ${formatLength(length, units)} and more`;
  return [
    { kind: "snap", at: end, to: "" },
    { kind: "label", at: { x: (base.pose.x + end.x) / 2, y: (base.pose.y + end.y) / 2 }, text, style: "draft" },
  ];
}

function figureText({ typing: { field } }: GroupState, drawn: Drawn | undefined, { units }: ToolInput): string {
  if (!drawn) return "";
  const value = drawn.wishes[field];
  return field === "tracks" || field === "number" ? String(value) : formatLength(value, units);
}
