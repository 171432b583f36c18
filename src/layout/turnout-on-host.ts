/**
 * A turnout on its host: whether it fits there, where its parts come to lie, and the paths of its diverging routes.
 *
 * Always holds: what is laid depends on the host from the joint end to the heel only, so it is the same whether or not
 * the host is laid farther; the diverging routes start on the host, tangent to it.
 */
import type { Path } from "../geometry/path.js";
import type { Millimetres } from "../geometry/units.js";
import type { Id, Plan, Template, Turnout } from "../plan/schema.js";
import type { GrowingTrack, LaidLeg } from "./growing-track.js";
import type { LineKey, PlacedTurnout } from "./line.js";
import { fail, found, type Outcome } from "./outcome.js";
import { divergingRoute, measuredTurnout, tableTurnout, type TurnoutShape, wyeRoute } from "./turnout-shape.js";

/** A place this little beyond the end of a track is at its end: the slack of figures typed to a tenth of a millimetre. */
export const END_SLACK: Millimetres = 0.5;

export interface TurnoutOnHost {
  readonly placed: PlacedTurnout;
  readonly routes: readonly { readonly key: LineKey; readonly path: Path }[];
  /** What it was laid from; the same again gives the same. */
  readonly turnout: Turnout;
  readonly shape: TurnoutShape;
  readonly under: readonly LegUnder[];
}

/** A leg of the host below the turnout, and where it begins. */
interface LegUnder {
  readonly leg: LaidLeg;
  readonly station: Millimetres;
}

/** The shape of a turnout by number or template; `known` holds those already worked out. */
export function turnoutShapeOf(
  turnout: Turnout,
  plan: Plan,
  known: Map<number | Template, TurnoutShape>,
): Outcome<TurnoutShape> {
  if (turnout.hand !== "wye" && turnout.at === undefined) return fail("turnout-unknown", "says no place on its track");
  const kind = turnout.template === undefined ? turnout.number : plan.templates[turnout.template];
  if (kind === undefined) {
    const lacking = turnout.template === undefined;
    const note = lacking ? "has neither frog number nor template" : `there is no template ${turnout.template}`;
    return fail("turnout-unknown", note);
  }
  const shape =
    known.get(kind) ?? (typeof kind === "number" ? tableTurnout(plan.scale.gauge, kind) : measuredTurnout(kind));
  if (!shape) return fail("turnout-unknown", `template ${turnout.template}: its curve is longer than its route`);
  known.set(kind, shape);
  return found(shape);
}

const directionOf = (turnout: Turnout): 1 | -1 => (turnout.facing === "with" ? 1 : -1);

/** The stretch of host a turnout covers; a wye only touches its end, which may be the far one (infinite). */
export function stretchNeeded(
  turnout: Turnout,
  shape: TurnoutShape,
): { readonly from: Millimetres; readonly to: Millimetres } {
  const direction = directionOf(turnout);
  if (turnout.hand === "wye") {
    const end = direction === 1 ? Number.POSITIVE_INFINITY : 0;
    return { from: end, to: end };
  }
  const at = turnout.at ?? 0;
  const ends = [at + direction * shape.joint, at + direction * shape.heel];
  return { from: Math.min(...ends), to: Math.max(...ends) };
}

/** Whether a turnout would be laid just as it was before. */
export function sameTurnout(before: TurnoutOnHost, turnout: Turnout, shape: TurnoutShape, host: GrowingTrack): boolean {
  if (before.turnout !== turnout || before.under.length === 0 || !sameShape(before.shape, shape)) return false;
  const under = legsUnder(host, stretchNeeded(turnout, shape));
  return (
    under.length === before.under.length &&
    under.every(({ leg, station }, i) => leg === before.under[i]?.leg && station === before.under[i]?.station)
  );
}

const sameShape = (a: TurnoutShape, b: TurnoutShape): boolean =>
  a.number === b.number &&
  a.angle === b.angle &&
  a.radius === b.radius &&
  a.joint === b.joint &&
  a.departs === b.departs &&
  a.heel === b.heel &&
  a.tail === b.tail;

function legsUnder(host: GrowingTrack, stretch: { readonly from: Millimetres; readonly to: Millimetres }): LegUnder[] {
  const from = Math.min(stretch.from, host.length);
  const to = Math.min(stretch.to, host.length);
  const under: LegUnder[] = [];
  host.legs.forEach((leg, i) => {
    const station = host.legStations[i] ?? 0;
    if (station <= to && station + leg.path.length >= from) under.push({ leg, station });
  });
  return under;
}

export function placeTurnout(
  id: Id,
  turnout: Turnout,
  shape: TurnoutShape,
  host: GrowingTrack,
): Outcome<TurnoutOnHost> {
  const path = host.path();
  if (!path) return fail("anchor-missing", `track ${turnout.on} has no place on the sheet`);
  const stretch = stretchNeeded(turnout, shape);
  const { hand } = turnout;
  const isWye = hand === "wye";
  if (!isWye && (stretch.from < -END_SLACK || stretch.to > path.length + END_SLACK)) {
    const needs = `needs ${Math.round(stretch.from)} to ${Math.round(stretch.to)} mm of track ${turnout.on}`;
    return fail("turnout-off-track", `${needs}, which is ${Math.round(path.length)} mm long`);
  }
  const direction = directionOf(turnout);
  const end = direction === 1 ? path.length : 0;
  const at = isWye ? end : (turnout.at ?? 0);
  // What the slack lets lie beyond the host's end lies at its end.
  const onHost = (offset: Millimetres): Millimetres =>
    isWye ? end : Math.min(Math.max(at + direction * offset, 0), path.length);
  const departs = onHost(shape.departs);
  const heel = onHost(shape.heel);
  const routes = isWye
    ? (["left", "right"] as const).map((side) => ({
        side,
        key: `turnout:${id}:${side}` as const,
        path: wyeRoute(path, direction, shape, side),
      }))
    : [
        {
          side: hand,
          key: `turnout:${id}` as const,
          path: divergingRoute(path, departs, heel, direction, shape, hand),
        },
      ];
  const placed: PlacedTurnout = {
    id,
    host: `track:${turnout.on}`,
    at,
    direction,
    hand,
    number: shape.number,
    departs,
    heel,
    joint: onHost(shape.joint),
    radius: shape.radius,
    angle: shape.angle,
    routes: routes.map(({ side, key }) => ({ side, line: key })),
  };
  return found({
    placed,
    routes: routes.map(({ key, path: route }) => ({ key, path: route })),
    turnout,
    shape,
    under: legsUnder(host, stretch),
  });
}
