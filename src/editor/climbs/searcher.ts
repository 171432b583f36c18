/** Who runs the search for climb routes: a worker, or the page itself between frames where no worker can be had. */
import type { ClimbRequest, ClimbStep } from "../../climb/request.js";
import type { Layout } from "../../layout/layout.js";

export interface Search {
  readonly layout: Layout;
  readonly request: ClimbRequest;
}

export interface Searcher {
  /** Begins a search; one under way is given up. Steps are told as they come, the last of them an answer or a refusal. */
  readonly search: (search: Search, told: (step: ClimbStep) => void) => void;
  /** Gives up: nothing more is told. */
  readonly stop: () => void;
}
