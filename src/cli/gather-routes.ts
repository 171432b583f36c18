/**
 * A search followed to its end, or until someone has had enough: the program lets go of the processor often enough to hear
 * of Ctrl-C, and what was found so far is not lost.
 */
import { setImmediate } from "node:timers/promises";
import type { ClimbRoute, ClimbStep, Shortfall } from "../core/index.js";

export interface Gathered {
  /** Best first; in the order they came where it was stopped. */
  readonly routes: readonly ClimbRoute[];
  readonly shortfall?: Shortfall;
  /** Stopped before the search was through. */
  readonly stopped: boolean;
}

type Progress = Extract<ClimbStep, { readonly kind: "progress" }>;

export interface Following {
  readonly enough: () => boolean;
  readonly tell: (progress: Progress, routes: number) => void;
}

/** The program listens this often, ms. */
const BREATH = 60;

/** What the search refuses to do is answered with its sentence. */
export async function gatherRoutes(
  steps: Iterable<ClimbStep>,
  { enough, tell }: Following,
  breath = BREATH,
): Promise<Gathered | { readonly refused: string }> {
  const routes: ClimbRoute[] = [];
  let breathed = performance.now();
  for (const step of steps) {
    if (step.kind === "refused") return { refused: step.why };
    if (step.kind === "answer") return { ...step, stopped: false };
    if (step.kind === "route") routes.push(step.route);
    else tell(step, routes.length);
    if (performance.now() - breathed < breath) continue;
    await setImmediate();
    if (enough()) return { routes, stopped: true };
    breathed = performance.now();
  }
  return { routes, stopped: false };
}
