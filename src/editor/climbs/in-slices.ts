/**
 * A search carried on slice by slice, by whoever runs it: between slices the worker looks at its mailbox, the page draws.
 *
 * Always holds: steps are told in their order and nothing is told after it was stopped; of progress told together only
 * the last is kept; a route is told at once.
 */
import type { ClimbStep } from "../../climb/request.js";

/** How slices are timed, and what runs the next one. */
export interface Slices {
  /** ms. */
  readonly now: () => number;
  readonly later: (work: () => void) => void;
  /** A slice ends with the step that brings it past so many ms. */
  readonly length: number;
}

/** Begins with the next slice; the function given back stops it. `failed` is told what a step threw. */
export function inSlices(
  steps: Iterator<ClimbStep, void, void>,
  told: (steps: readonly ClimbStep[]) => void,
  failed: (error: unknown) => void,
  { now, later, length }: Slices,
): () => void {
  let stopped = false;
  const slice = (): void => {
    if (stopped) return;
    const begun = now();
    const taken: ClimbStep[] = [];
    let over = false;
    try {
      while (!over && now() - begun < length) {
        const step = steps.next();
        over = step.done === true;
        if (step.done) break;
        if (step.value.kind === "progress" && taken.at(-1)?.kind === "progress") taken.pop();
        taken.push(step.value);
        if (step.value.kind === "route") break;
      }
    } catch (error) {
      stopped = true;
      failed(error);
      return;
    }
    if (taken.length > 0) told(taken);
    if (!over) later(slice);
  };
  later(slice);
  return () => {
    stopped = true;
  };
}
