/**
 * Reverse curves from turnout to turnout: the straight between two lead curves of opposite hand. Through a crossover or
 * a ladder no more is asked than standard turnouts of these numbers have behind their lead curves and before their
 * points; between points that face one another as much as between curves. What is short is advised against: trains run
 * through such track, and longer cars push one another sideways there.
 */
import { limitsOf } from "../plan/class-limits.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import { changedKeys } from "../layout/changed-keys.js";
import type { Line, LineKey, PlacedTurnout } from "../layout/line.js";
import { tableTurnout } from "../layout/turnout-shape.js";
import type { Id, Plan } from "../plan/schema.js";
import { type Carried, carry } from "./carry.js";
import { curveRuns } from "./curve-runs.js";
import { type Facing, needsStraight, reversals, startOf } from "./facing-curves.js";
import { type LineContexts, lineContexts } from "./line-context.js";
import type { Reading } from "./reading.js";
import { type Measured, MOST_PLACES, placeOf } from "./rule.js";
import { turnoutAhead, type TurnoutStretches, turnoutStretches } from "./turnout-stretches.js";
import { judge } from "./verdict.js";

interface Short extends Measured {
  readonly asked: Millimetres;
  readonly limit: ReturnType<typeof limitsOf>["reverseStraight"];
}

/** One reading, or none where no two lead curves face each other that need a straight between. */
export function turnoutReversals(plan: Plan, layout: Layout): Reading[] {
  const found = [
    ...throughRoutes(plan, layout),
    ...[...betweenPoints(layout).byTurnout.values()].flatMap(({ short }) => short),
  ];
  found.sort(
    (a, b) =>
      Math.round((a.value - a.asked - b.value + b.asked) * 1000) ||
      (a.line.key === b.line.key ? a.s - b.s : a.line.key < b.line.key ? -1 : 1),
  );
  const [worst] = found;
  if (!worst) return [];
  const short = found.filter(({ value, asked }) => judge(value, asked, "least", 0) === "fails");
  const shown = short.length > 0 ? short : [worst];
  return [
    {
      id: "turnout-room",
      scope: "reverse",
      label: "Straight between lead curves",
      value: worst.value,
      unit: "mm",
      limit: worst.asked,
      bound: "least",
      verdict: short.length > 0 ? "tight" : "clear",
      places: shown.slice(0, MOST_PLACES).map(placeOf),
      source: `${worst.limit.source}; through crossovers and ladders what standard turnouts have`,
      ...(worst.limit.reason !== undefined && { reason: worst.limit.reason }),
    },
  ];
}

/** Through at least one diverging route from its end, as in crossovers and ladders. */
function throughRoutes(plan: Plan, layout: Layout): Short[] {
  return reversals(layout).flatMap(({ a, b, asks, straight }): Short[] => {
    if (a.line.kind === "track" || b.line.kind === "track" || a.line === b.line) return [];
    const own = ownStraight(layout, a.line, a.way === 1) + ownStraight(layout, b.line, b.way === -1);
    const limit = limitsOf(plan, asks.line.class).reverseStraight;
    const note = "one lead curve into another of the opposite hand";
    return [{ ...about(asks), value: straight, asked: Math.min(limit.value, own), limit, note }];
  });
}

const about = ({ line, s }: Facing): Pick<Measured, "line" | "s" | "thing"> => ({
  line,
  s,
  thing: `${line.kind}s.${line.id}`,
});

/** Straight a standard turnout of this number has behind its lead curve, or between its joint and its lead curve. */
function ownStraight(layout: Layout, { kind, id }: Line, behind: boolean): Millimetres {
  const number = (kind === "slip" ? layout.slips : layout.turnouts).get(id)?.number;
  if (number === undefined) return 0;
  const { tail, departs, joint } = tableTurnout(layout.plan.scale.gauge, number);
  // Both ends of a slip are points.
  return behind && kind !== "slip" ? tail : departs - joint;
}

interface FoundAhead {
  readonly turnout: PlacedTurnout;
  readonly short: readonly Short[];
  /** Lines looked along, and those of the turnout met. */
  readonly followed: readonly LineKey[];
}

interface Between {
  readonly contexts: LineContexts;
  readonly stretches: TurnoutStretches;
  readonly byTurnout: ReadonlyMap<Id, FoundAhead>;
}

/** Between points that face one another, with nothing but straight between them. */
const betweenPoints = carry((layout: Layout, last: Carried<Between> | undefined): Between => {
  const { plan, network } = layout;
  const contexts = lineContexts(layout);
  const stretches = turnoutStretches(layout);
  const same = last?.layout.network.nodes === network.nodes && last.layout.plan.standards === plan.standards;
  const before = same ? last.value : undefined;
  const moved = before && changedKeys(before.contexts, contexts);
  const turned = before && changedKeys(before.stretches, stretches);
  const most = Math.max(...Object.values(plan.standards.classes).map((limits) => limits?.reverseStraight.value ?? 0));
  const byTurnout = new Map<Id, FoundAhead>();
  for (const turnout of layout.turnouts.values()) {
    const known = moved && turned ? before?.byTurnout.get(turnout.id) : undefined;
    const stays =
      known?.turnout === turnout &&
      !known.followed.some((key) => moved?.has(key) === true || turned?.has(key) === true);
    byTurnout.set(turnout.id, known && stays ? known : aheadOf(plan, layout, turnout, most));
  }
  return { contexts, stretches, byTurnout };
});

function aheadOf(plan: Plan, layout: Layout, turnout: PlacedTurnout, most: Millimetres): FoundAhead {
  const host = layout.lines.get(turnout.host);
  const away = turnout.direction === 1 ? -1 : 1;
  const followed: LineKey[] = turnout.routes.map(({ line }) => line);
  const thing = `turnouts.${turnout.id}`;
  const ahead = host && turnoutAhead(layout, host, turnout.joint, away, most, thing, followed);
  const other = ahead?.stretch?.onHost;
  if (!ahead || !other || other.direction !== ahead.way || ahead.curved || turnout.id >= other.id)
    return { turnout, short: [], followed };
  for (const { line } of other.routes) followed.push(line);
  const value = ahead.distance + beforeLead(turnout) + beforeLead(other);
  const short = leadsOf(layout, turnout, -1).flatMap((a) =>
    leadsOf(layout, other, 1).flatMap((b): Short[] => {
      const asks = needsStraight(plan, a, b);
      if (!asks) return [];
      const limit = limitsOf(plan, asks.line.class).reverseStraight;
      return [{ ...about(asks), value, asked: limit.value, limit, note: "points that face one another" }];
    }),
  );
  return { turnout, short, followed };
}

const beforeLead = ({ joint, departs }: PlacedTurnout): Millimetres => Math.abs(joint - departs);

const leadsOf = (layout: Layout, { routes }: PlacedTurnout, way: 1 | -1): Facing[] =>
  routes.flatMap(({ line: key }) => {
    const line = layout.lines.get(key);
    const run = line && curveRuns(line)[0];
    return line && run ? [startOf(line, run, way)] : [];
  });
