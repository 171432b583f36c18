/**
 * A line with what rules ask of it first: its heights, the throws of cars on it, and what it is joined to. The context of
 * a line is the same object as long as all of this stays, so that a line, or a pair of lines, is known by its contexts.
 *
 * Always holds: a line whose context stays lies as it lay and at the same heights, and so do the lines joined to its ends
 * lie as they lay; after an edit only contexts near what changed are looked at; where none changed the map is the same.
 */
import { changedKeys } from "../layout/changed-keys.js";
import type { Layout } from "../layout/layout.js";
import type { Line, LineKey } from "../layout/line.js";
import type { Profile } from "../layout/profile.js";
import { carry } from "./carry.js";
import { type Throws, throwsOf } from "./envelope.js";
import { type JoinedEnd, joinedEnds } from "./joined-ends.js";
import { rememberBeside, sameItems } from "./remember.js";

export interface LineContext {
  readonly line: Line;
  readonly heights: Profile | undefined;
  readonly throws: Throws;
  readonly joined: readonly JoinedEnd[];
}

export type LineContexts = ReadonlyMap<LineKey, LineContext>;

const contextOf = rememberBeside(
  (line: Line, heights: Profile | undefined, throws: Throws, joined: readonly JoinedEnd[]): LineContext => ({
    line,
    heights,
    throws,
    joined,
  }),
);

const contextIn = (layout: Layout, line: Line): LineContext =>
  contextOf(line, layout.profiles.get(line.key), throwsOf(layout, line), joinedEnds(layout, line));

/** Contexts of all lines of a layout, in their order. */
export const lineContexts = carry((layout: Layout, last): LineContexts => {
  const near = last && linesNearChange(layout, last.layout);
  const contexts = new Map<LineKey, LineContext>(near && last.value);
  let same = near !== undefined;
  for (const key of near ?? layout.lines.keys()) {
    const line = layout.lines.get(key);
    if (!line) continue;
    const context = contextIn(layout, line);
    if (contexts.get(key) === context) continue;
    same = false;
    contexts.set(key, context);
  }
  if (last && (same || changedKeys(last.value, contexts)?.size === 0)) return last.value;
  return contexts;
});

/** Lines that may have another context than in the layout before; undefined where that may be any. */
function linesNearChange(layout: Layout, before: Layout): ReadonlySet<LineKey> | undefined {
  const { lines, profiles, turnouts, slips } = layout;
  const sameWays = layout.network.nodes === before.network.nodes && sameCar(layout, before);
  const moved = sameWays ? changedKeys(before.lines, lines) : undefined;
  const lifted = moved && changedKeys(before.profiles, profiles);
  if (!moved || !lifted) return undefined;
  const near = new Set<LineKey>([...moved, ...lifted]);
  for (const key of moved) {
    const line = lines.get(key);
    for (const { other } of line ? joinedEnds(layout, line) : []) near.add(other.key);
  }
  for (const turnout of turnouts.values()) {
    if (!moved.has(turnout.host) && before.turnouts.get(turnout.id) === turnout) continue;
    for (const { line } of turnout.routes) near.add(line);
  }
  for (const slip of slips.values()) {
    const same = before.slips.get(slip.id) === slip && !moved.has(slip.on.line) && !moved.has(slip.across.line);
    if (!same) for (const { line } of slip.routes) near.add(line);
  }
  return near;
}

const sameCar = ({ plan }: Layout, before: Layout): boolean =>
  plan.standards.longestCar.value === before.plan.standards.longestCar.value;

/** Where each line stands in the order of a map of contexts. */
const places = new WeakMap<LineContexts, ReadonlyMap<LineKey, number>>();

function placesIn(contexts: LineContexts): ReadonlyMap<LineKey, number> {
  let known = places.get(contexts);
  if (!known) {
    let n = 0;
    places.set(contexts, (known = new Map([...contexts.keys()].map((key) => [key, n++]))));
  }
  return known;
}

/**
 * What is found of every line, in the order of lines: found anew where the line's context changed, or all of it where
 * something `beside` is not what it was (objects by identity). The same list while nothing changes.
 */
export function foundByLine<D extends readonly unknown[], V>(
  find: (context: LineContext, ...beside: D) => V,
): (layout: Layout, ...beside: D) => readonly V[] {
  interface Found {
    readonly contexts: LineContexts;
    readonly beside: D;
    readonly values: readonly V[];
  }
  const known = new WeakMap<object, Found>();
  return (layout, ...beside) => {
    const contexts = lineContexts(layout);
    const family = layout.plan.scale;
    const last = known.get(family);
    const carried = last && sameItems(last.beside, beside) ? last : undefined;
    if (carried?.contexts === contexts) return carried.values;
    const changed = carried && changedKeys(carried.contexts, contexts);
    let values: V[];
    if (carried && changed) {
      const order = placesIn(carried.contexts);
      places.set(contexts, order);
      values = carried.values.slice();
      for (const key of changed) {
        const context = contexts.get(key);
        const at = order.get(key);
        if (context && at !== undefined) values[at] = find(context, ...beside);
      }
    } else values = Array.from(contexts.values(), (context) => find(context, ...beside));
    known.set(family, { contexts, beside, values });
    return values;
  };
}

/** All of several lists, one after another. */
export function joinedLists<T>(lists: readonly (readonly T[])[]): T[] {
  const all: T[] = [];
  for (const list of lists) for (const item of list) all.push(item);
  return all;
}

/** What of a list is there. */
export function present<T>(items: readonly (T | undefined)[]): T[] {
  const all: T[] = [];
  for (const item of items) if (item !== undefined) all.push(item);
  return all;
}
