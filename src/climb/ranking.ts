/** The order of routes in an answer, by what the owner cares about. */
import type { ClimbFigures, ClimbRoute, Ranking } from "./request.js";

/** Less is better. */
const WORTH: Readonly<Record<Ranking, (figures: ClimbFigures) => number>> = {
  "least-grade": ({ felt }) => felt,
  "least-hidden": ({ hidden }) => hidden,
  "most-visible-run": ({ run, hidden }) => hidden - run,
  "easiest-reach": ({ reach }) => reach ?? 0,
  "least-new-bench": ({ newBench }) => newBench,
};

/** Figures nearer than this are alike; the cheaper route then comes first. */
const ALIKE = 1e-3;

/** Routes in order, best first; by cost alone where no ranking is asked for. */
export function ranked(routes: readonly ClimbRoute[], by: Ranking | undefined): ClimbRoute[] {
  const worth = (route: ClimbRoute): number => (by ? Math.round(WORTH[by](route.figures) / ALIKE) : 0);
  return [...routes].sort((a, b) => worth(a) - worth(b) || a.cost - b.cost);
}
