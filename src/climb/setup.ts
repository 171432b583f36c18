/** From a plan and a request to a search: its ends placed, its limits, and the ground prepared. */
import { deriveLayout } from "../layout/derive.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Plan } from "../plan/schema.js";
import { placedEnds } from "./ends.js";
import type { Ground } from "./ground.js";
import { RouteJudge } from "./judge-route.js";
import { climbLimits, radiiWorth } from "./limits.js";
import { type Ends, existingTrack, groundOf, helicesFor, prepare } from "./prepare.js";
import type { ClimbRequest, ClimbStep } from "./request.js";
import type { Pass, Search } from "./search-once.js";

interface Refusal {
  readonly why: string;
}

/** A search of a plan; in words why there can be none. */
export function* setUp(
  plan: Plan,
  request: ClimbRequest,
  derived?: Layout,
  /** That of the same plan with another radius, and radii that were searched with it. */
  ground?: Ground,
  searched: readonly Millimetres[] = [],
): Generator<ClimbStep, Search | Refusal, void> {
  const layout = derived ?? deriveLayout(plan);
  const judge = new RouteJudge(layout);
  const ends = endsOf(layout, request, judge);
  if ("why" in ends) return ends;
  const limits = climbLimits(plan, request.class);
  const base = ground ?? groundOf(layout, ends, request, limits);
  const passes: Pass[] = [];
  const worth = radiiWorth(limits).filter(({ radius }) => !searched.includes(radius));
  for (const own of worth) passes.push({ limits: own, prepared: yield* prepare(layout, ends, base, own) });
  return { layout, judge, request, ends, limits, passes };
}

/**
 * The search of a plan that differs in its grade or in the height of a deck alone: what setting it up afresh would give,
 * with the lanes and turns there are.
 */
export function* reuse(
  { request, passes }: Search,
  plan: Plan,
  like: Layout,
): Generator<ClimbStep, Search | Refusal, void> {
  const layout = deriveLayout(plan, like);
  const judge = new RouteJudge(layout);
  const ends = endsOf(layout, request, judge);
  if ("why" in ends) return ends;
  const limits = climbLimits(plan, request.class);
  const again: Pass[] = [];
  for (const own of radiiWorth(limits)) {
    const before = passes.find((pass) => pass.limits.radius === own.radius);
    if (!before) {
      const ground = passes[0]?.prepared.ground ?? groundOf(layout, ends, request, limits);
      again.push({ limits: own, prepared: yield* prepare(layout, ends, ground, own) });
      continue;
    }
    const { ground, lanes, turns } = before.prepared;
    if (ends.from.length !== lanes.starts.length || ends.to.length !== lanes.goals.length)
      return { why: "a turnout of the one plan does not fit the other" };
    const helices = yield* helicesFor(lanes, turns, ground, own, ends.high - ends.low);
    again.push({ limits: own, prepared: { ...before.prepared, helices, existing: existingTrack(layout, ends, own) } });
  }
  return { layout, judge, request, ends, limits, passes: again };
}

function endsOf(layout: Layout, request: ClimbRequest, judge: RouteJudge): Ends | Refusal {
  const from = placedEnds(layout, request.from, request.class, "climb-foot", judge);
  if ("why" in from) return { why: `from: ${from.why}` };
  const to = placedEnds(layout, request.to, request.class, "climb-head", judge);
  if ("why" in to) return { why: `to: ${to.why}` };
  const low = Math.min(...from.map(({ height }) => height));
  const high = Math.max(...to.map(({ height }) => height));
  const least = Math.min(...to.map(({ height }) => height)) - Math.max(...from.map(({ height }) => height));
  return least > 0 ? { from, to, low, high } : { why: "the upper end must be above the lower" };
}
