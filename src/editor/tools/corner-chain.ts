/**
 * A chain of corners drawn by hand or walked by typing: the part that walls, obstacles, benches and backdrops have in
 * common. Click corners; or type a length, Enter, turn, type the next.
 *
 * Always holds: no two corners in a row coincide; Backspace takes back the last corner; nothing here touches the plan.
 */
import { snap, type SnapKind } from "../../drafting/snap.js";
import { squareTo } from "../../drafting/square.js";
import { bearing, distance, offsetPoint, type Point } from "../../geometry/pose.js";
import { type Millimetres, type Radians, toDegrees, toRadians, wrapAngle } from "../../geometry/units.js";
import { formatLength } from "../../plan/format-length.js";
import { formatAngle } from "../../plan/grade-text.js";
import { BOUNDS } from "../../plan/schema.js";
import type { Overlay, ToolEvent, ToolInput } from "../tool.js";
import { type Field, startTyping, type Typed, typeKey, type Typing } from "./typing.js";

export type ChainField = "length" | "turn";

export interface Chain<K extends string> {
  readonly corners: readonly Point[];
  /** Where the next corner would come by the hand, and what caught it. */
  readonly pointer?: { readonly point: Point; readonly word: string; readonly closes: boolean };
  readonly typing: Typing<K | ChainField>;
  /** The turn asked for before the next length. */
  readonly turn?: Radians;
  /** +1 for a way round to the left. A turn that is not given goes this way. */
  readonly way: 1 | -1;
  /** Where the hand lay when a corner was typed: it leads again once it has moved from there. */
  readonly parked?: Point;
  /** Where the hand last was, on the screen. */
  readonly hand?: Point;
  /** Why the last corner was not taken. */
  readonly refusal?: string;
}

export interface ChainRules<K extends string> {
  readonly closed: boolean;
  /** What corners are caught by, besides the set square. */
  readonly kinds: readonly SnapKind[];
  /** The tool's own fields, Tab after the chain's. */
  readonly fields: readonly Field<K>[];
  /** Where a chain begins that is typed before it is clicked; none where left out. */
  readonly origin?: Point;
  /** Why a line to the next corner cannot be. */
  readonly refuse?: (corners: readonly Point[], next: Point) => string | undefined;
}

export interface ChainStep<K extends string> {
  readonly chain: Chain<K>;
  /** The last corner is there: by a click on the first corner, a double click, or Enter. */
  readonly finish?: boolean;
  /** A field of the tool's own has been given a value. */
  readonly set?: { readonly field: K; readonly value: number; readonly text: string };
}

/** A line shorter than this is a slip. */
const LEAST: Millimetres = 1;
/** How far a hand that rests beside the keyboard must move before it leads again, px. */
const WAKE = 24;

export const emptyChain = <K extends string>(): Chain<K> => ({ corners: [], typing: startTyping("length"), way: 1 });

const CHAIN_FIELDS: readonly Field<ChainField>[] = [
  { key: "length", label: "Length", takes: "length" },
  { key: "turn", label: "Turn", takes: "angle", least: -360, most: 360 },
];
export const chainFields = <K extends string>(rules: ChainRules<K>): readonly Field<K | ChainField>[] => [
  ...CHAIN_FIELDS,
  ...rules.fields,
];

export function stepChain<K extends string>(
  chain: Chain<K>,
  event: ToolEvent & { readonly type: "down" | "move" | "up" | "key" },
  input: ToolInput,
  rules: ChainRules<K>,
): ChainStep<K> {
  if (event.type === "up") return { chain };
  if (event.type === "key") return keyed(chain, event, input, rules);
  const hand = { x: event.screen.x, y: event.screen.y };
  const { parked } = chain;
  if (event.type === "move" && parked && Math.hypot(hand.x - parked.x, hand.y - parked.y) < WAKE) {
    return { chain: { ...chain, hand } };
  }
  const { parked: _, ...awake } = chain;
  const pointer = caught(chain, event.at, event.alt, input, rules);
  const moved = { ...awake, hand, pointer };
  if (event.type === "move") return { chain: moved };
  const enough = chain.corners.length >= (rules.closed ? 3 : 2);
  if (enough && (pointer.closes || event.clicks > 1)) return { chain: moved, finish: true };
  return { chain: added(moved, pointer.point, rules) };
}

/** Where the next corner would come; Alt frees it from everything that catches. */
function caught<K extends string>(
  { corners }: Chain<K>,
  at: Point,
  free: boolean,
  input: ToolInput,
  rules: ChainRules<K>,
): NonNullable<Chain<K>["pointer"]> {
  const [first, last] = [corners[0], corners.at(-1)];
  const point = { x: at.x, y: at.y };
  if (rules.closed && first && corners.length >= 3 && distance(first, point) <= input.reach) {
    return { point: first, word: "the first corner", closes: true };
  }
  if (free) return { point, word: "", closes: false };
  if (rules.kinds.length > 0) {
    const found = snap(input.layout, point, { reach: input.reach, deck: input.deck, kinds: rules.kinds });
    if (found.kind !== "free") return { point: found.point, word: found.word, closes: false };
  }
  if (!last) return { point, word: "", closes: false };
  const level = rules.closed && corners.length >= 2 ? first : undefined;
  return { ...squareTo(last, headingOf(corners), point, input.reach, level), closes: false };
}

function headingOf(corners: readonly Point[]): Radians | undefined {
  const [a, b] = [corners.at(-2), corners.at(-1)];
  return a && b ? bearing(a, b) : undefined;
}

function added<K extends string>(chain: Chain<K>, next: Point, rules: ChainRules<K>): Chain<K> {
  const { turn: _, refusal: __, ...rest } = chain;
  const { corners } = chain;
  const last = corners.at(-1);
  if (last && distance(last, next) < LEAST) return rest;
  const refusal = outside(next)
    ? "that is beyond any plan"
    : corners.length >= BOUNDS.corners
      ? "that is more corners than a plan holds"
      : rules.refuse?.(corners, next);
  if (refusal !== undefined) return { ...chain, refusal };
  return { ...rest, corners: [...corners, { x: tidy(next.x), y: tidy(next.y) }] };
}

const outside = ({ x, y }: Point): boolean => !(Math.max(Math.abs(x), Math.abs(y)) <= BOUNDS.coordinate);

/** Direction of the next line when it is walked: by the turn given, by the hand, or the next turn of the way round. */
export function walkHeading<K extends string>(chain: Chain<K>): Radians {
  const along = headingOf(chain.corners);
  if (chain.turn !== undefined) return (along ?? 0) + chain.turn;
  const last = chain.corners.at(-1);
  if (last && chain.pointer && !chain.parked && distance(last, chain.pointer.point) >= LEAST) {
    return bearing(last, chain.pointer.point);
  }
  return along === undefined ? 0 : along + (chain.way * Math.PI) / 2;
}

const ARROWS: ReadonlyMap<string, number> = new Map([
  ["ArrowLeft", 90],
  ["ArrowRight", -90],
  ["ArrowUp", 0],
]);

function keyed<K extends string>(
  chain: Chain<K>,
  event: ToolEvent & { readonly type: "key" },
  input: ToolInput,
  rules: ChainRules<K>,
): ChainStep<K> {
  const { typing } = chain;
  const arrow = ARROWS.get(event.key);
  if (arrow !== undefined) {
    const turn = typing.field === "turn" && typing.text !== "" ? typedTurn(chain, input, rules, arrow) : arrow;
    return { chain: turn === undefined ? chain : turned(chain, turn) };
  }
  const typed = typeKey<K | ChainField>(typing, chainFields(rules), event, input.units);
  if (!typed) {
    if (event.key === "Backspace") return { chain: shortened(chain) };
    return { chain };
  }
  const { refusal: _, ...rest } = chain;
  const next: Chain<K> = { ...rest, typing: typed.typing };
  if (isOwn(typed.set)) {
    return { chain: typed.entered ? { ...next, typing: startTyping("length") } : next, set: typed.set };
  }
  if (typed.set?.field === "turn") return { chain: turned(next, typed.set.value) };
  if (typed.set?.field === "length" && typed.entered) return { chain: walked(next, typed.set.value, rules) };
  if (typed.entered && !typed.set) return { chain: next, finish: chain.corners.length >= (rules.closed ? 3 : 2) };
  return { chain: next };
}

type OwnSet<K extends string> = NonNullable<ChainStep<K>["set"]>;
const isOwn = <K extends string>(set: Typed<K | ChainField>["set"]): set is OwnSet<K> =>
  set !== undefined && set.field !== "length" && set.field !== "turn";

/** A turn typed and then sent left or right by an arrow. */
function typedTurn<K extends string>(
  chain: Chain<K>,
  input: ToolInput,
  rules: ChainRules<K>,
  arrow: number,
): number | undefined {
  const enter = { type: "key", key: "Enter", shift: false, alt: false } as const;
  const set = typeKey<K | ChainField>(chain.typing, chainFields(rules), enter, input.units)?.set;
  return set && (arrow < 0 ? -1 : 1) * Math.abs(set.value);
}

function turned<K extends string>(chain: Chain<K>, degrees: number): Chain<K> {
  const first = chain.corners.length === 2 && chain.turn === undefined && degrees !== 0;
  const way = first ? (degrees < 0 ? -1 : 1) : chain.way;
  return { ...chain, turn: toRadians(degrees), way, typing: startTyping("length") };
}

function walked<K extends string>(chain: Chain<K>, length: Millimetres, rules: ChainRules<K>): Chain<K> {
  const begun = chain.corners.length === 0 && rules.origin ? { ...chain, corners: [rules.origin] } : chain;
  const last = begun.corners.at(-1);
  if (!last) return { ...chain, refusal: "click the first corner, then type" };
  // Directions a whole number of right angles from one another stay so, however many are walked.
  const heading = walkHeading(begun);
  const next = offsetPoint({ ...last, heading: crisp(heading) }, length, 0);
  const after = added(begun, next, rules);
  if (after.corners.length === begun.corners.length)
    return { ...chain, ...(after.refusal !== undefined && { refusal: after.refusal }) };
  const { pointer: _, ...rest } = after;
  return { ...rest, typing: startTyping("length"), ...(chain.hand && { parked: chain.hand }) };
}

/** Directions this near a right angle are meant square. */
const CRISP: Radians = 1e-9;
function crisp(heading: Radians): Radians {
  const square = (Math.round(heading / (Math.PI / 2)) * Math.PI) / 2;
  return Math.abs(heading - square) < CRISP ? wrapAngle(square) : heading;
}
/** Rounding (1e-9 mm) would leave level walls a hair out of level; nor is there a nought below nought. */
const tidy = (x: Millimetres): Millimetres => Math.round(x * 1e9) / 1e9 + 0;

function shortened<K extends string>(chain: Chain<K>): Chain<K> {
  const { turn, refusal: _, ...rest } = chain;
  if (turn !== undefined) return rest;
  // A chain begun by typing has its first corner by itself.
  const corners = chain.corners.slice(0, -1);
  return { ...rest, corners, way: corners.length < 2 ? 1 : chain.way };
}

/** The chain with the line to the hand, lengths along it, and what caught the hand. */
export function chainOverlay<K extends string>(chain: Chain<K>, input: ToolInput, closed: boolean): Overlay[] {
  const { corners, pointer } = chain;
  const overlay: Overlay[] = [];
  const last = corners.at(-1);
  if (corners.length > 1) overlay.push({ kind: "line", points: corners, style: "draft" });
  for (const [i, at] of corners.entries()) {
    overlay.push({ kind: "handle", at, shape: "square", name: `corner ${i + 1}`, hot: i === corners.length - 1 });
  }
  if (last && pointer && !chain.parked && chain.turn === undefined) {
    const style = chain.refusal === undefined ? "draft" : "refused";
    overlay.push({ kind: "line", points: [last, pointer.point], style });
    const middle = { x: (last.x + pointer.point.x) / 2, y: (last.y + pointer.point.y) / 2 };
    overlay.push({ kind: "label", at: middle, text: formatLength(distance(last, pointer.point), input.units) });
    if (closed && corners[0] && corners.length > 1) {
      overlay.push({ kind: "line", points: [pointer.point, corners[0]], style: "guide" });
    }
  } else if (last && corners.length > 0) {
    const ahead = offsetPoint({ ...last, heading: walkHeading(chain) }, 60 / input.viewport.scale, 0);
    overlay.push({ kind: "line", points: [last, ahead], style: "guide" });
  }
  if (pointer && pointer.word !== "") overlay.push({ kind: "snap", at: pointer.point, to: pointer.word });
  if (chain.refusal !== undefined) {
    const at = pointer?.point ?? last;
    if (at) overlay.push({ kind: "label", at, text: chain.refusal, style: "refused" });
  }
  return overlay;
}

/** The turn that the next length will take, in words. */
export function turnText<K extends string>(chain: Chain<K>): string {
  const along = headingOf(chain.corners) ?? 0;
  const turn = toDegrees(wrapAngle(walkHeading(chain) - along));
  const size = formatAngle(Math.abs(turn));
  return Math.abs(turn) < 0.005 ? "straight on" : turn > 0 ? `left ${size}` : `right ${size}`;
}
