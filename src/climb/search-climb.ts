/**
 * The search for climb routes: it proposes ways from the lower end to the upper, and the plan's own readings decide.
 * A generator of steps: whoever asks goes on as long as they like, shows routes as they come, and stops by not asking.
 *
 * Always holds: a route's edit joins both ends and adds none of the failing readings that `RouteJudge` takes
 * (joints, curves, grades, edges, spacing, height over track); routes of one answer differ by at least `DIFFERENT`; the
 * same plan and request give the same steps.
 * Not modelled in the search, left to the readings: structure where the climb comes up through the upper deck, wider
 * centres of concentric curves beyond the throws.
 * Not asked for at all: level stretches on the way, reach, aisles, doors and gates the route may spoil.
 * "None found" is evidence from ways made of lanes along bench edges and turns between them, not a proof.
 */
import type { Layout } from "../layout/layout.js";
import type { Plan } from "../plan/schema.js";
import { overruled } from "./overrule.js";
import type { ClimbRequest, ClimbStep } from "./request.js";
import { searchOnce } from "./search-once.js";
import { shortfallOf } from "./shortfall.js";

export function* searchClimb(plan: Plan, request: ClimbRequest, derived?: Layout): Generator<ClimbStep, void, void> {
  const asked = overruled(plan, request);
  const answer = yield* searchOnce(asked, request, asked === plan ? derived : undefined);
  if (!answer) return;
  if (answer.routes.length > 0) {
    yield { kind: "answer", routes: answer.routes };
    return;
  }
  const shortfall = yield* shortfallOf(asked, request, answer);
  yield { kind: "answer", routes: [], shortfall };
}
