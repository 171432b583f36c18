/** The search on the page's own thread, in slices that give way to the hand. */
import { searchClimb } from "../../climb/search-climb.js";
import { inSlices, type Slices } from "./in-slices.js";
import type { Searcher } from "./searcher.js";

export function searchHere(slices: Slices): Searcher {
  let end = (): void => {};
  return {
    search({ layout, request }, told) {
      end();
      const steps = searchClimb(layout.plan, request, layout);
      const failed = (error: unknown): void =>
        told({ kind: "refused", why: `the search broke down (${error instanceof Error ? error.message : "unknown"})` });
      end = inSlices(steps, (some) => some.forEach((step) => told(step)), failed, slices);
    },
    stop: () => end(),
  };
}
