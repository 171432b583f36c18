/** Where the pointer is on the sheet, and on which deck's sheet: shared by the sheets of a pair, and by nobody else. */
import type { Point } from "../../geometry/pose.js";
import type { Id } from "../../plan/schema.js";

export interface Spot {
  readonly at: Point;
  readonly deck: Id;
}

export interface PointerSpot {
  get(): Spot | undefined;
  set(spot: Spot | undefined): void;
  subscribe(listener: () => void): () => void;
}

export function makePointerSpot(): PointerSpot {
  let now: Spot | undefined;
  const listeners = new Set<() => void>();
  return {
    get: () => now,
    set(spot) {
      now = spot;
      for (const listener of listeners) listener();
    },
    subscribe(listener) {
      listeners.add(listener);
      return () => void listeners.delete(listener);
    },
  };
}
