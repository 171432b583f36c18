/**
 * The track turnouts and slips take up: of the host from joint to joint, every diverging route whole, of both tracks of a
 * slip from end to end; and how much track there is from a place to the next of them.
 *
 * Always holds: stretches of a line are in order along it, whatever the order of records; a wye takes no more of its host
 * than the end.
 */
import type { Millimetres } from "../geometry/units.js";
import { changedKeys } from "../layout/changed-keys.js";
import type { Layout } from "../layout/layout.js";
import type { Line, LineKey, PlacedTurnout } from "../layout/line.js";
import { type Carried, carry } from "./carry.js";
import { curveRuns } from "./curve-runs.js";
import { joinedEnds } from "./joined-ends.js";

export interface TurnoutStretch {
  readonly line: Line;
  readonly from: Millimetres;
  readonly to: Millimetres;
  /** Collection and id in the plan. */
  readonly thing: string;
  /** The turnout, where this is its stretch of the host. */
  readonly onHost: PlacedTurnout | undefined;
}

export type TurnoutStretches = ReadonlyMap<LineKey, readonly TurnoutStretch[]>;

/** The stretches of every line that has any; those of a line are the same list while nothing of them changes. */
export const turnoutStretches = carry(
  (layout: Layout, last: Carried<TurnoutStretches> | undefined): TurnoutStretches => {
    const touched = last && touchedLines(layout, last.layout);
    if (!last || !touched) return stretchesOn(layout, undefined);
    if (touched.size === 0) return last.value;
    const again = new Map(last.value);
    const anew = stretchesOn(layout, touched);
    for (const key of touched) {
      const own = anew.get(key);
      if (own) again.set(key, own);
    }
    return again;
  },
);

/** Lines on which turnouts may lie otherwise than in the layout before; undefined where that may be any. */
function touchedLines(layout: Layout, before: Layout): ReadonlySet<LineKey> | undefined {
  const lines = changedKeys(before.lines, layout.lines);
  const turnouts = changedKeys(before.turnouts, layout.turnouts);
  if (!lines || !turnouts || before.slips !== layout.slips) return undefined;
  const touched = new Set(lines);
  for (const id of turnouts) {
    const [was, is] = [before.turnouts.get(id), layout.turnouts.get(id)];
    // A turnout that lies on another track now leaves one on which none may be left.
    if (!was || !is || was.host !== is.host || was.routes.length !== is.routes.length) return undefined;
    touched.add(is.host);
    for (const { line } of is.routes) touched.add(line);
  }
  return touched;
}

/** The stretches of all lines, or of some. */
function stretchesOn({ lines, turnouts, slips }: Layout, only: ReadonlySet<LineKey> | undefined): TurnoutStretches {
  const found = new Map<LineKey, TurnoutStretch[]>();
  const add = (key: LineKey, from: Millimetres, to: Millimetres, thing: string, onHost?: PlacedTurnout): void => {
    const line = only && !only.has(key) ? undefined : lines.get(key);
    if (!line) return;
    const stretch = { line, from: Math.min(from, to), to: Math.max(from, to), thing, onHost };
    const own = found.get(key);
    if (own) own.push(stretch);
    else found.set(key, [stretch]);
  };
  for (const turnout of turnouts.values()) {
    if (only && !only.has(turnout.host) && !turnout.routes.some(({ line }) => only.has(line))) continue;
    const thing = `turnouts.${turnout.id}`;
    add(turnout.host, turnout.joint, turnout.heel, thing, turnout);
    for (const { line } of turnout.routes) add(line, 0, lines.get(line)?.path.length ?? 0, thing);
  }
  for (const { id, on, across, tangent, routes } of slips.values()) {
    for (const { line, s } of [on, across]) add(line, s - tangent, s + tangent, `slips.${id}`);
    for (const { line } of routes) add(line, 0, lines.get(line)?.path.length ?? 0, `slips.${id}`);
  }
  for (const own of found.values())
    own.sort((a, b) => a.from - b.from || a.to - b.to || (a.thing < b.thing ? -1 : a.thing > b.thing ? 1 : 0));
  return found;
}

/** A place this near to a stretch's end is at it, mm. */
const AT_END: Millimetres = 1e-6;
/** Lines followed one after another; rings of plain track end here too. */
const MOST_HOPS = 16;

export interface Ahead {
  readonly distance: Millimetres;
  /** The stretch met; undefined for the pit of a turntable. */
  readonly stretch: TurnoutStretch | undefined;
  /** Which way one goes along the line met. */
  readonly way: 1 | -1;
  /** Whether there is a curve on the way there. */
  readonly curved: boolean;
}

/**
 * The next turnout, slip or turntable as one looks along a line from a place, over joints, up to `most` mm away; where
 * several tracks lead on, the nearest. Undefined where there is none. `except` is looked past. `followed` is told the lines
 * looked along.
 */
export function turnoutAhead(
  layout: Layout,
  line: Line,
  s: Millimetres,
  way: 1 | -1,
  most: Millimetres,
  except?: string,
  followed?: LineKey[],
): Ahead | undefined {
  const all = turnoutStretches(layout);
  const look = (on: Line, at: Millimetres, along: 1 | -1, gone: Millimetres, bent: boolean, hops: number) => {
    followed?.push(on.key);
    let next: TurnoutStretch | undefined;
    for (const stretch of all.get(on.key) ?? []) {
      if (stretch.thing === except || !isAhead(stretch, at, along)) continue;
      if (!next || distanceTo(stretch, at, along) < distanceTo(next, at, along)) next = stretch;
    }
    const end = along === 1 ? on.path.length : 0;
    const step = next ? distanceTo(next, at, along) : Math.abs(end - at);
    const distance = gone + step;
    if (distance > most) return undefined;
    const curved = bent || curvesWithin(on, Math.min(at, at + along * step), Math.max(at, at + along * step));
    if (next) return { distance, stretch: next, way: along, curved };
    const joined = joinedEnds(layout, on).filter((j) => j.end === (along === 1 ? "end" : "start"));
    if (joined.length === 0)
      return atTurntable(layout, on, along) ? { distance, stretch: undefined, way: along, curved } : undefined;
    let nearest: Ahead | undefined;
    for (const { other, otherEnd } of hops < MOST_HOPS ? joined : []) {
      const starts = otherEnd === "start";
      const found: Ahead | undefined = look(
        other,
        starts ? 0 : other.path.length,
        starts ? 1 : -1,
        distance,
        curved,
        hops + 1,
      );
      if (found && (!nearest || found.distance < nearest.distance)) nearest = found;
    }
    return nearest;
  };
  return look(line, s, way, 0, false, 0);
}

const isAhead = ({ from, to }: TurnoutStretch, s: Millimetres, way: 1 | -1): boolean =>
  way === 1 ? to > s + AT_END || from >= s - AT_END : from < s - AT_END || to <= s + AT_END;

const distanceTo = ({ from, to }: TurnoutStretch, s: Millimetres, way: 1 | -1): Millimetres =>
  Math.max(0, way === 1 ? from - s : s - to);

const curvesWithin = (line: Line, from: Millimetres, to: Millimetres): boolean =>
  curveRuns(line).some((run) => run.from < to - AT_END && run.to > from + AT_END);

function atTurntable({ network }: Layout, line: Line, way: 1 | -1): boolean {
  const edges = network.byLine.get(line.key);
  const end = way === 1 ? edges?.at(-1)?.b : edges?.[0]?.a;
  return end !== undefined && network.nodes.get(end.node)?.kind === "turntable";
}
