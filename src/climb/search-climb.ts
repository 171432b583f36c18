/**
 * The search for climb routes: it proposes ways from the lower end to the upper, and the plan's own readings decide.
 * A generator of steps: whoever asks goes on as long as they like, shows routes as they come, and stops by not asking.
 *
 * Always holds: a route's edit joins both ends and adds no failing reading of any id, nor a finding of the layout; routes
 * of one answer are two by `areTwo` (difference.ts); the same plan and request give the same steps.
 * Not modelled in the search, left to the readings: structure where the climb comes up through the upper deck, wider
 * centres of concentric curves beyond the throws, aisles, doors and gates.
 * "None found" is evidence from ways made of lanes along bench edges and turns between them, not a proof.
 */
import type { Layout } from "../layout/layout.js";
import type { Plan } from "../plan/schema.js";
import { overruled } from "./overrule.js";
import { ranked } from "./ranking.js";
import type { ClimbRequest, ClimbStep } from "./request.js";
import { searchOnce } from "./search-once.js";
import { setUp } from "./setup.js";
import { shortfallOf } from "./shortfall.js";

export function* searchClimb(plan: Plan, request: ClimbRequest, derived?: Layout): Generator<ClimbStep, void, void> {
  const asked = overruled(plan, request);
  const search = yield* setUp(asked, request, asked === plan ? derived : undefined);
  if ("why" in search) {
    yield { kind: "refused", why: search.why };
    return;
  }
  const { routes, longest } = yield* searchOnce(search);
  if (routes.length > 0) {
    yield { kind: "answer", routes: ranked(routes, request.rankBy) };
    return;
  }
  const shortfall = yield* shortfallOf(search, longest);
  yield { kind: "answer", routes: [], shortfall };
}
