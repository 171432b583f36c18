/**
 * What of a layout moves while something is in the hand, and what lies still: two parts to be drawn one by one, so that
 * what lies still is drawn once.
 *
 * Always holds: every line of the layout shown is in one part and in one only; the still part looks the same in both
 * layouts, with all that stands on it; it is the same object as long as nothing more moves.
 */
import type { Layout } from "../layout/layout.js";
import type { Line, LineKey } from "../layout/line.js";
import type { Id, Plan } from "../plan/schema.js";

export type SomeLines = ReadonlyMap<LineKey, Line>;

export interface Parts {
  readonly still: SomeLines;
  readonly moving: SomeLines;
}

export interface Parting {
  /** Parts of the layout shown, against the one at rest; undefined where there is nothing, or too much, to tell apart. */
  of(settled: Layout, shown: Layout): Parts | undefined;
}

/** What has moved once counts as moving until another layout is at rest. */
export function makeParting(): Parting {
  let last: { readonly settled: Layout; readonly keys: ReadonlySet<LineKey>; readonly still: SomeLines } | undefined;
  return {
    of(settled, shown) {
      if (settled === shown || !comparable(settled, shown)) return undefined;
      if (last?.settled !== settled) last = { settled, keys: new Set(), still: settled.lines };
      const moved = movedLines(settled, shown);
      const more = [...moved].filter((key) => !last?.keys.has(key));
      if (more.length > 0) {
        const keys = new Set([...last.keys, ...more]);
        last = { settled, keys, still: new Map([...last.still].filter(([key]) => !keys.has(key))) };
      }
      const moving = new Map<LineKey, Line>();
      for (const key of last.keys) {
        const line = shown.lines.get(key);
        if (line) moving.set(key, line);
      }
      return { still: last.still, moving };
    },
  };
}

const comparable = ({ plan: a, findings }: Layout, { plan: b }: Layout): boolean =>
  findings.length === 0 && a.decks === b.decks && a.scale === b.scale && a.option === b.option;

/** Lines that are not what they were, or on which or at whose ends something else stands. */
export function movedLines(before: Layout, after: Layout): Set<LineKey> {
  const moved = new Set<LineKey>();
  const add = (...keys: readonly (LineKey | undefined)[]): void => {
    for (const key of keys) if (key !== undefined) moved.add(key);
  };
  for (const key of changed(before.lines, after.lines)) moved.add(key);
  for (const id of changed(before.turnouts, after.turnouts))
    for (const { turnouts } of [before, after]) add(turnouts.get(id)?.host);
  for (const id of changed(before.slips, after.slips))
    for (const { slips } of [before, after]) add(slips.get(id)?.on.line, slips.get(id)?.across.line);
  for (const id of changed(before.turntables, after.turntables))
    for (const { turntables } of [before, after]) add(turntables.get(id)?.approach.line);
  for (const id of changedRecords(before.plan.pins, after.plan.pins))
    for (const { plan } of [before, after]) add(trackKey(plan.pins[id]?.track));
  const tracks = new Set(changedRecords(before.plan.tracks, after.plan.tracks));
  // Hidden stretches are the track's, and those of the routes on it.
  if (tracks.size > 0) for (const [key, line] of after.lines) if (tracks.has(hostOf(after.plan, line))) moved.add(key);
  for (const of of [before, after]) for (const key of neighbours(of, [...moved])) moved.add(key);
  return moved;
}

const trackKey = (id: Id | undefined): LineKey | undefined => (id === undefined ? undefined : `track:${id}`);

const hostOf = (plan: Plan, { kind, id }: Line): Id => (kind === "track" ? id : (plan[`${kind}s`][id]?.on ?? ""));

function changed<K, T>(before: ReadonlyMap<K, T>, after: ReadonlyMap<K, T>): K[] {
  if (before === after) return [];
  const keys: K[] = [];
  for (const [key, item] of after) if (before.get(key) !== item) keys.push(key);
  for (const key of before.keys()) if (!after.has(key)) keys.push(key);
  return keys;
}

/** The same of records by id; with every move of a hand, so without a list of all ids. */
function changedRecords(before: Readonly<Record<Id, unknown>>, after: Readonly<Record<Id, unknown>>): Id[] {
  if (before === after) return [];
  const ids: Id[] = [];
  for (const id in after) if (before[id] !== after[id]) ids.push(id);
  for (const id in before) if (!Object.hasOwn(after, id)) ids.push(id);
  return ids;
}

/** Lines that meet these at their ends: whether an end is free, or goes into hiding, is told by both. */
function* neighbours({ network }: Layout, keys: Iterable<LineKey>): Generator<LineKey> {
  for (const key of keys) {
    const chain = network.byLine.get(key);
    for (const place of [chain?.[0]?.a, chain?.at(-1)?.b]) {
      const node = place && network.nodes.get(place.node);
      for (const edge of node?.sides.flat() ?? []) {
        const line = network.edges[edge]?.line;
        if (line !== undefined) yield line;
      }
    }
  }
}
