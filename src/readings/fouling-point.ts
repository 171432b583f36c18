/**
 * Fouling points: how far on from where two ways part cars on the one stand clear of cars on the other. That is where
 * their spacing, less what the longest cars reach toward each other, comes to be worth the track centres of the class
 * that asks for more, as track spacing is judged, and stays so for the length of a car.
 *
 * Always holds: exchanging left and right changes nothing; wider centres never bring a fouling point nearer; ways that
 * do not come to part have none.
 */
import type { Millimetres } from "../geometry/units.js";
import type { Crossing, Layout } from "../layout/layout.js";
import type { LineKey, LinePlace } from "../layout/line.js";
import { besideAtStart, firstLine, type Run, type Sections, sectionsOf } from "../layout/sections.js";
import type { Id, Standards } from "../plan/schema.js";
import { edgeStamps } from "./edge-stamps.js";
import { FAR_REACH, legReach, legShape, type LegShape, type Piece, placeAlong, shapeOf } from "./leg-shape.js";
import { lineContexts } from "./line-context.js";
import { partsAt } from "./parting.js";

/**
 * Distance along the leg a run begins from where ways part to its fouling point with every other leg there; 0 where no
 * other leaves, undefined where they do not part.
 */
export function legFouling(layout: Layout, run: Run): Millimetres | undefined {
  const others = besideAtStart(sectionsOf(layout.network), run);
  if (others.length === 0) return 0;
  const { byRun, users } = stillKnown(layout);
  const known = byRun.get(run);
  if (known) return known.value;
  const legs: LegShape[] = [];
  let furthest: Millimetres | undefined = 0;
  for (const other of others) {
    const parts = partingOf(layout, run, other, legs);
    if (parts === undefined) {
      furthest = undefined;
      break;
    }
    furthest = Math.max(furthest, parts);
  }
  byRun.set(run, { value: furthest });
  for (const { pieces } of legs) {
    for (const { edge } of pieces) {
      const own = users.get(edge);
      if (own) own.add(run);
      else users.set(edge, new Set([run]));
    }
  }
  return furthest;
}

/** Most ways part near their turnout; only where these do not are they followed further. `legs` is told what was looked at. */
function partingOf(layout: Layout, run: Run, other: Run, legs: LegShape[]): Millimetres | undefined {
  const { standards } = layout.plan;
  const parts = (extent: "near" | "far"): ReturnType<typeof partsAt> => {
    const pair = [legShape(layout, run, extent), legShape(layout, other, extent)] as const;
    legs.push(...pair);
    return partsAt(...pair, standards);
  };
  const near = parts("near");
  if (near !== "further on") return near;
  const far = parts("far");
  return far === "further on" ? undefined : far;
}

/** Fouling points by the run that begins the leg, and by edge the runs whose fouling points lean on it. */
interface KnownFouling {
  readonly standards: Standards;
  readonly made: number;
  readonly byRun: Map<Run, { readonly value: Millimetres | undefined }>;
  readonly users: Map<number, Set<Run>>;
}
const knownFouling = new WeakMap<Sections, KnownFouling>();

/** What is known of fouling points, without those that lean on an edge that changed since. */
function stillKnown(layout: Layout): KnownFouling {
  const sections = sectionsOf(layout.network);
  const { standards } = layout.plan;
  const { stamps, now } = edgeStamps(layout);
  const last = knownFouling.get(sections);
  if (last?.standards === standards && last.made === now) return last;
  const kept = last?.standards === standards ? last : undefined;
  const byRun: KnownFouling["byRun"] = kept?.byRun ?? new Map();
  const users: KnownFouling["users"] = kept?.users ?? new Map();
  for (let edge = 0; kept && edge < stamps.length; edge++) {
    if ((stamps[edge] ?? 0) <= kept.made) continue;
    for (const run of users.get(edge) ?? []) byRun.delete(run);
    users.delete(edge);
  }
  const next = { standards, made: now, byRun, users };
  knownFouling.set(sections, next);
  return next;
}

export interface FoulingPoint {
  /** Line by which the leg leaves the points: the host's, or that of a route. */
  readonly line: LineKey;
  /** Along the leg from the points, mm; undefined where the routes do not part. */
  readonly distance: Millimetres | undefined;
  /** Where that is. */
  readonly place: LinePlace | undefined;
}

/** The fouling points of a turnout, one for each route, the through route among them; none for one that is not there. */
export function foulingPoint(layout: Layout, turnout: Id): readonly FoulingPoint[] {
  const placed = layout.turnouts.get(turnout);
  const first = placed?.routes[0] && layout.network.byLine.get(placed.routes[0].line)?.[0];
  if (!placed || !first) return [];
  const sections = sectionsOf(layout.network);
  // Routes part a little beyond the points, where the lead curve begins.
  const inside = (placed.departs - placed.at) * placed.direction;
  return (sections.leaving.get(first.a.node)?.[first.a.side] ?? []).map((run) => {
    const parts = legFouling(layout, run);
    const place = parts === undefined ? undefined : placeAlong(legShape(layout, run, "far"), parts);
    return {
      line: firstLine(sections, run) ?? placed.host,
      distance: parts === undefined ? undefined : parts + inside,
      place: place && { line: place.line.key, s: place.s },
    };
  });
}

/** The fouling points of a crossing on the level: on each line before it and after it, as distances from the crossing. */
export function crossingFouling(
  layout: Layout,
  { a, b }: Crossing,
): readonly {
  readonly line: LineKey;
  readonly before: Millimetres | undefined;
  readonly after: Millimetres | undefined;
}[] {
  const [armsA, armsB] = [armsOf(layout, a), armsOf(layout, b)];
  const { standards } = layout.plan;
  const parts = (arm: LegShape, others: readonly LegShape[]): Millimetres | undefined => {
    const each = others.map((other) => partsAt(arm, other, standards));
    const known = each.flatMap((d) => (typeof d === "number" ? d : []));
    return known.length === each.length ? Math.max(0, ...known) : undefined;
  };
  const both = ({ line }: LinePlace, arms: readonly [LegShape, LegShape], others: readonly LegShape[]) => ({
    line,
    before: parts(arms[0], others),
    after: parts(arms[1], others),
  });
  return [both(a, armsA, armsB), both(b, armsB, armsA)];
}

/** Part of a line that is no edge. */
const NO_EDGE = -1;

/** A line back from a place, and on from it. */
function armsOf(layout: Layout, { line, s }: LinePlace): readonly [LegShape, LegShape] {
  const context = lineContexts(layout).get(line);
  const length = context?.line.path.length ?? 0;
  const { standards } = layout.plan;
  const arm = (from: Millimetres, to: Millimetres, forwards: boolean): LegShape => {
    const piece: Piece | undefined = context && { context, edge: NO_EDGE, from, to, forwards, begin: 0 };
    return shapeOf(piece ? [piece] : [], standards, legReach(standards, FAR_REACH));
  };
  return [arm(0, s, false), arm(s, length, true)];
}
