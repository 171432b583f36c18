/**
 * Something drawn about a centre line: pressed where it begins, drawn to where it ends, then as wide as the hand is off
 * the line. The part that peninsulas and gates have in common.
 *
 * Always holds: nothing here touches the plan; Backspace takes back the last step.
 */
import { snap, type SnapKind } from "../../drafting/snap.js";
import { squareTo } from "../../drafting/square.js";
import { LEAST_STRIP } from "../../drafting/strips.js";
import { nearestWall, wallOf } from "../../drafting/walls.js";
import { bearing, distance, localPoint, offsetPoint, type Point } from "../../geometry/pose.js";
import type { Millimetres, Radians } from "../../geometry/units.js";
import { formatLength } from "../../plan/format-length.js";
import { INCH } from "../../plan/parse-length.js";
import type { Plan } from "../../plan/schema.js";
import type { Overlay, ToolEvent, ToolInput } from "../tool.js";
import { type Field, startTyping, type Typed, typeKey, type Typing } from "./typing.js";

export type LineField = "length" | "width";

export interface CentreLine<K extends string> {
  readonly at: "rest" | "along" | "wide";
  readonly from: Point;
  readonly to: Point;
  readonly width: Millimetres;
  readonly typedLength?: Millimetres;
  readonly typedWidth?: boolean;
  readonly caught?: string;
  readonly pressed?: Point;
  readonly typing: Typing<K | LineField>;
}

export interface LineStep<K extends string> {
  readonly line: CentreLine<K>;
  readonly finish?: boolean;
  readonly set?: { readonly field: K; readonly value: number };
}

export interface LineRules<K extends string> {
  readonly kinds: readonly SnapKind[];
  readonly fields: readonly Field<K>[];
}

const ORIGIN: Point = { x: 0, y: 0 };
/** A hand on a button trembles by less, px. */
const TREMBLE = 4;
const STEP: Readonly<Record<Plan["units"], Millimetres>> = { imperial: INCH / 2, metric: 10 };

export const restLine = <K extends string>(width: Millimetres): CentreLine<K> => ({
  at: "rest",
  from: ORIGIN,
  to: ORIGIN,
  width,
  typing: startTyping("length"),
});

const LINE_FIELDS: readonly Field<LineField>[] = [
  { key: "length", label: "Length", takes: "length" },
  { key: "width", label: "Width", takes: "length" },
];
export const lineFields = <K extends string>(rules: LineRules<K>): readonly Field<K | LineField>[] => [
  ...LINE_FIELDS,
  ...rules.fields,
];

export function stepLine<K extends string>(
  line: CentreLine<K>,
  event: ToolEvent & { readonly type: "down" | "move" | "up" | "key" },
  input: ToolInput,
  rules: LineRules<K>,
): LineStep<K> {
  if (event.type === "key") return keyed(line, event, input, rules);
  if (event.type === "down") {
    if (line.at === "rest") {
      const from = event.alt ? { point: plain(event.at), word: "" } : snapped(event.at, input, rules);
      const begun = { ...restLine<K>(line.width), at: "along" as const, from: from.point, to: from.point };
      return { line: { ...begun, pressed: event.screen } };
    }
    const moved = follow(line, event, input, rules);
    return line.at === "along" ? { line: wider(moved) } : { line: moved, finish: true };
  }
  if (event.type === "move") return { line: follow(line, event, input, rules) };
  if (line.at !== "along" || !line.pressed) return { line };
  const { pressed, ...rest } = line;
  const dragged = Math.hypot(event.screen.x - pressed.x, event.screen.y - pressed.y) > TREMBLE;
  return { line: dragged ? wider(rest) : rest };
}

const plain = ({ x, y }: Point): Point => ({ x, y });

const snapped = <K extends string>(at: Point, input: ToolInput, { kinds }: LineRules<K>) =>
  snap(input.layout, plain(at), { reach: input.reach, deck: input.deck, kinds });

const wider = <K extends string>(line: CentreLine<K>): CentreLine<K> =>
  distance(line.from, line.to) < LEAST_STRIP ? line : { ...line, at: "wide", typing: startTyping("width") };

type Hand = ToolEvent & { readonly type: "down" | "move" | "up" };

function follow<K extends string>(
  line: CentreLine<K>,
  event: Hand,
  input: ToolInput,
  rules: LineRules<K>,
): CentreLine<K> {
  const { caught: _, ...rest } = line;
  if (line.at === "rest") return line;
  if (line.at === "wide") {
    if (line.typedWidth) return line;
    const off = Math.abs(localPoint({ ...line.from, heading: bearing(line.from, line.to) }, event.at).y);
    const step = STEP[input.units];
    return { ...line, width: Math.max(step, Math.round((2 * off) / step) * step) };
  }
  const end = event.alt ? { point: plain(event.at), word: "" } : endAt(line, event.at, input, rules);
  const caught = end.word === "" ? {} : { caught: end.word };
  if (line.typedLength === undefined) return { ...rest, to: end.point, ...caught };
  return { ...rest, to: ahead(line.from, end.point, line.typedLength), ...caught };
}

function endAt<K extends string>(line: CentreLine<K>, at: Point, input: ToolInput, rules: LineRules<K>) {
  const found = snapped(at, input, rules);
  // What is caught right where the line begins is only its own beginning.
  if (found.kind !== "free" && distance(found.point, line.from) > input.reach) return found;
  return squareTo(line.from, wallHeading(line.from, input), plain(at), input.reach);
}

/** Direction of the wall nearest to where the line begins: square to it is what is mostly wanted. */
function wallHeading(point: Point, { plan }: ToolInput): Radians | undefined {
  const place = nearestWall(plan.room.outline, point);
  return place && wallOf(plan.room.outline, place.wall)?.heading;
}

const ahead = (from: Point, toward: Point, length: Millimetres): Point =>
  offsetPoint({ ...from, heading: bearing(from, toward) }, length, 0);

function keyed<K extends string>(
  line: CentreLine<K>,
  event: ToolEvent & { readonly type: "key" },
  input: ToolInput,
  rules: LineRules<K>,
): LineStep<K> {
  const typed = typeKey<K | LineField>(line.typing, lineFields(rules), event, input.units);
  if (!typed) return { line: event.key === "Backspace" ? back(line) : line };
  let next: CentreLine<K> = { ...line, typing: typed.typing };
  const { set } = typed;
  if (set?.field === "length" && line.at !== "rest") {
    next = { ...next, typedLength: set.value, to: ahead(line.from, line.to, set.value) };
  } else if (set?.field === "width")
    next = { ...next, width: set.value, ...(line.at !== "rest" && { typedWidth: true }) };
  const own = isOwn<K>(set) ? { set: { field: set.field, value: set.value } } : {};
  if (!typed.entered || line.at === "rest") return { line: next, ...own };
  return line.at === "along" ? { line: wider(next), ...own } : { line: next, finish: true, ...own };
}

const isOwn = <K extends string>(
  set: Typed<K | LineField>["set"],
): set is { readonly field: K; readonly value: number; readonly text: string } =>
  set !== undefined && set.field !== "length" && set.field !== "width";

function back<K extends string>(line: CentreLine<K>): CentreLine<K> {
  const { typedLength: _, typedWidth: __, ...rest } = line;
  return line.at === "wide" ? { ...rest, at: "along", typing: startTyping("length") } : restLine(line.width);
}

/** The centre line, what caught it, and its measures. */
export function lineOverlay<K extends string>(line: CentreLine<K>, { units }: ToolInput, refusal?: string): Overlay[] {
  if (line.at === "rest") return [];
  const { from, to } = line;
  const middle = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
  const size = `${formatLength(distance(from, to), units)} × ${formatLength(line.width, units)}`;
  const style = refusal === undefined ? "draft" : "refused";
  return [
    { kind: "line", points: [from, to], style: refusal === undefined ? "guide" : "refused" },
    { kind: "handle", at: from, shape: "square", name: "where it begins" },
    { kind: "handle", at: to, shape: "square", name: "where it ends", hot: line.at === "along" },
    { kind: "label", at: middle, text: refusal ?? size, style },
    ...(line.caught === undefined ? [] : [{ kind: "snap" as const, at: to, to: line.caught }]),
  ];
}
