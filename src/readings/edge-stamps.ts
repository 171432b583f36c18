/**
 * What of the network changed since it was last asked about: every edge bears the number of the asking at which it, its
 * line or the throws of cars on it were last found changed. What was computed from edges at a later asking still holds.
 *
 * Always holds: an answer kept with the number of its asking is the one computing would give, as long as no edge it was
 * computed from bears a later number.
 */
import { changedKeys } from "../layout/changed-keys.js";
import type { Layout } from "../layout/layout.js";
import { type Sections, sectionsOf } from "../layout/sections.js";
import { type LineContexts, lineContexts } from "./line-context.js";

export interface EdgeStamps {
  /** By index of the edge. */
  readonly stamps: Uint32Array;
  /** Number of this asking. */
  readonly now: number;
}

interface Known {
  readonly layout: Layout;
  readonly contexts: LineContexts;
  readonly stamps: EdgeStamps;
}
/** By sections: while the network hangs together as it did, edges keep their index. */
const known = new WeakMap<Sections, Known>();

export function edgeStamps(layout: Layout): EdgeStamps {
  const { network } = layout;
  const sections = sectionsOf(network);
  const last = known.get(sections);
  if (last?.layout === layout) return last.stamps;
  const contexts = lineContexts(layout);
  const now = (last?.stamps.now ?? 0) + 1;
  const stamps = last?.stamps.stamps ?? new Uint32Array(network.edges.length).fill(now);
  if (last) {
    for (const key of changedKeys(last.contexts, contexts) ?? contexts.keys()) {
      const [before, context] = [last.contexts.get(key), contexts.get(key)];
      if (before === context || (before?.line === context?.line && before?.throws === context?.throws)) continue;
      for (const { index } of network.byLine.get(key) ?? []) stamps[index] = now;
    }
    const { edges } = last.layout.network;
    if (edges !== network.edges)
      for (const [i, edge] of network.edges.entries()) if (edges[i] !== edge) stamps[i] = now;
  }
  const next: Known = { layout, contexts, stamps: { stamps, now } };
  known.set(sections, next);
  return next.stamps;
}
