/** Who takes the readings of the plan that is shown: at once, in slices between frames, or in a worker. */
import type { Layout } from "../../layout/layout.js";
import type { Plan } from "../../plan/schema.js";
import type { Reading } from "../../readings/reading.js";

export interface Reader {
  /** Readings of this plan are wanted. One under way is finished first; of those waiting only the last is taken. */
  readonly read: (plan: Plan, layout: Layout) => void;
}

/** Called with the readings of a plan, when they are there. */
export type Found = (readings: readonly Reading[], of: Plan) => void;
export type MakeReader = (found: Found) => Reader;

/**
 * One at a time, and of those that wait only the last: the way of every reader that takes time, so that readings go on
 * moving while a drag outruns them. `take` answers once for every call.
 */
export function oneAtATime(
  take: (plan: Plan, layout: Layout, done: (readings: readonly Reading[]) => void) => void,
  found: Found,
): Reader {
  let busy = false;
  let waiting: (() => void) | undefined;
  const read = (plan: Plan, layout: Layout): void => {
    if (busy) {
      waiting = () => read(plan, layout);
      return;
    }
    busy = true;
    take(plan, layout, (readings) => {
      busy = false;
      const next = waiting;
      waiting = undefined;
      // The next is begun before the last is told, so that it does not wait for the page to be drawn.
      next?.();
      found(readings, plan);
    });
  };
  return { read };
}
