/**
 * Carrying answers on from layout to layout. An edit makes a plan that shares with the one before all it did not
 * touch, and so do their layouts: what was found of the one is handed to whoever computes the same of the next, which then
 * looks at what changed and no more.
 *
 * Always holds: an answer carried on is the one computing afresh would give; plans are told to be of one family by their
 * scale, which no other edit makes anew; of each family only the layout last asked about is held.
 */
import type { Layout } from "../layout/layout.js";
import type { Reading } from "./reading.js";
import { sameItems } from "./remember.js";
import type { RuleInput } from "./rule.js";

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

/**
 * What a rule takes, or took of the layout before as long as all it leans on is the same (objects by identity). It must
 * lean on whatever `take` looks at.
 */
export function whileSame<D extends readonly unknown[]>(
  leansOn: (input: RuleInput) => D,
  take: (input: RuleInput, on: D) => Reading[],
): (input: RuleInput) => Reading[] {
  const known = new WeakMap<object, { readonly on: D; readonly readings: Reading[] }>();
  return (input) => {
    const on = leansOn(input);
    const family = input.plan.scale;
    const last = known.get(family);
    if (last && sameItems(last.on, on)) return last.readings;
    const readings = take(input, on);
    known.set(family, { on, readings });
    return readings;
  };
}
