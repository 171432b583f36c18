/**
 * Carrying answers on from layout to layout. An edit makes a plan that shares with the one before all it did not
 * touch, and so do their layouts: what was found of the one is handed to whoever computes the same of the next, which then
 * looks at what changed and no more.
 *
 * Always holds: an answer carried on is the one computing afresh would give; plans are told to be of one family by their
 * scale, which no other edit makes anew; of each family only the layout last asked about is held.
 */
import type { Layout } from "../layout/layout.js";

export interface Carried<V> {
  readonly layout: Layout;
  readonly value: V;
}

/** `next` is given the layout that was asked about before, with its answer, where there was one. */
export function carry<V>(next: (layout: Layout, last: Carried<V> | undefined) => V): (layout: Layout) => V {
  const known = new WeakMap<object, Carried<V>>();
  return (layout) => {
    const family = layout.plan.scale;
    const last = known.get(family);
    if (last?.layout === layout) return last.value;
    const value = next(layout, last);
    known.set(family, { layout, value });
    return value;
  };
}
