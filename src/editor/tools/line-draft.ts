/** What the line tool has drawn so far, and what the pointer would add: legs, their path, and the edit they make. */
import type { Snapped } from "../../drafting/snap.js";
import { joinPaths, makePath, type Path } from "../../geometry/path.js";
import { bearing, distance, type Point, type Pose, reversePose } from "../../geometry/pose.js";
import { type Degrees, type Millimetres, toDegrees, toRadians } from "../../geometry/units.js";
import { layLeg } from "../../layout/legs.js";
import type { Edit } from "../../plan/edit.js";
import { formatLength } from "../../plan/format-length.js";
import type { Leg, TrackClass } from "../../plan/schema.js";
import type { ToolInput } from "../tool.js";
import { CLASS_WORDS } from "./lay-show.js";
import { type LayBase, layBase, layLegs, type LayStart, limits, sameAnchor } from "./lay-start.js";
import { type Given, layPlain, legsToward, toStep } from "./legs-toward.js";

export interface LineDrawing {
  readonly class: TrackClass;
  readonly frog: number;
  readonly start: LayStart | { readonly kind: "paper"; readonly at: Point };
  /** Legs by the click that laid them. */
  readonly groups: readonly (readonly Leg[])[];
  readonly caught: Snapped | undefined;
  /** Shift: turns of whole steps. */
  readonly steps: boolean;
  readonly given: Given;
  /** Typed; the class's least where not. */
  readonly radius: Millimetres | undefined;
}

export interface LineDraft {
  readonly base: LayBase | undefined;
  /** Where the pending legs leave from. */
  readonly head: Pose | undefined;
  readonly pending: readonly Leg[];
  /** The pending legs reach an end: there is nothing to lay on. */
  readonly closes: boolean;
  readonly laid: Path | undefined;
  readonly ahead: Path | undefined;
  /** Why there are no pending legs, where the pointer asks for some. */
  readonly why: string | undefined;
  /** Worth knowing, not in the way. */
  readonly note: string | undefined;
  readonly easement: Millimetres;
  readonly radius: Millimetres;
}

/** Shift turns by these. */
const TURN_STEP: Degrees = 15;

export function draftLine(input: ToolInput, drawing: LineDrawing): LineDraft {
  const legs = drawing.groups.flat();
  const first = baseOf(input, drawing);
  const trackClass = first.ok ? first.base.class : drawing.class;
  const { radius: least, easement: eased, reverseStraight } = limits(input.plan, trackClass);
  const radius = drawing.radius ?? least.value;
  const easement = eased.value;
  const nothing = { pending: [], closes: false, laid: undefined, ahead: undefined, note: undefined, easement, radius };
  if (!first.ok) return { ...nothing, base: undefined, head: undefined, why: first.why };
  const { base } = first;
  const laid = layPlain(base.pose, legs, easement);
  const head = laid.end;
  const own = { ...nothing, base, head, laid };
  const { caught, given, steps } = drawing;
  const end = caught?.anchor && (caught.kind === "end" || caught.kind === "turnout") ? caught : undefined;
  if (end?.pose && end.anchor && given.angle === undefined && given.length === undefined) {
    // The end it leaves from leads nowhere.
    if (sameAnchor(end.anchor, base.anchor)) return { ...own, why: undefined };
    const join: Leg = { join: { to: end.anchor, radius } };
    const way = layLeg({ leg: join, from: head, easement, goal: reversePose(end.pose) });
    if (!way.ok) return { ...own, why: way.note };
    return { ...own, pending: [join], closes: true, ahead: makePath(head, way.value), why: undefined };
  }
  const straightFirst = drawing.start.kind === "paper";
  const toward = legsToward({
    from: head,
    to: caught?.point,
    radius,
    easement,
    units: input.units,
    given: straightFirst ? { ...given, angle: 0 } : given,
    ...(steps && !straightFirst && { turnStep: TURN_STEP }),
  });
  if (!toward.ok) {
    const word =
      drawing.radius === undefined ? `the ${CLASS_WORDS[trackClass].toLowerCase()}'s least radius` : "the radius";
    return { ...own, why: `too near: ${word} is ${formatLength(radius, input.units)}` };
  }
  const note =
    radius < least.value
      ? `sharper than the ${CLASS_WORDS[trackClass].toLowerCase()}'s ${formatLength(least.value, input.units)}`
      : reverseNote([...legs, ...toward.legs], easement, reverseStraight.value);
  return { ...own, pending: toward.legs, ahead: toward.path, why: undefined, note };
}

function baseOf(input: ToolInput, drawing: LineDrawing) {
  const { start, caught, given, steps } = drawing;
  const toward = drawing.groups.length === 0 ? caught?.point : undefined;
  const wishes = { class: drawing.class, frog: drawing.frog, toward };
  if (start.kind !== "paper") return layBase(input, { ...wishes, start });
  // From bare paper the pointer, or a typed angle, gives the direction.
  let heading = given.angle ?? (toward && distance(start.at, toward) > 0 ? toDegrees(bearing(start.at, toward)) : 0);
  if (steps && given.angle === undefined) heading = Math.round(heading / TURN_STEP) * TURN_STEP;
  return layBase(input, { ...wishes, start: { kind: "pose", pose: { ...start.at, heading: toRadians(heading) } } });
}

/** Curves of opposite hand want a straight between them, unless easements part them. */
function reverseNote(legs: readonly Leg[], easement: Millimetres, least: Millimetres): string | undefined {
  let between = 0;
  let last: "left" | "right" | undefined;
  for (const leg of legs) {
    if ("straight" in leg) between += leg.straight;
    if (!("curve" in leg)) continue;
    if (last !== undefined && last !== leg.curve.hand && between < least && easement === 0)
      return "short of straight between curves of opposite hand";
    last = leg.curve.hand;
    between = 0;
  }
  return undefined;
}

/** Whole path that is drawn, pending legs included. */
export const wholePath = ({ laid, ahead }: LineDraft): Path | undefined =>
  laid && ahead ? joinPaths(laid, ahead) : laid;

/** The edit of the legs laid, with or without those pending; undefined where there are none. */
export function lineEdit(draft: LineDraft, groups: readonly (readonly Leg[])[], pending: boolean): Edit | undefined {
  const legs = [...groups.flat(), ...(pending ? draft.pending : [])];
  return draft.base && legs.length > 0 ? layLegs(draft.base, legs) : undefined;
}

export const roundedPoint = (input: ToolInput, point: Point): Point => ({
  x: toStep(point.x, input.units),
  y: toStep(point.y, input.units),
});
