/** A route held against the plan's own readings: whatever adds a failing one is given up. And its figures. */
import { toDegrees } from "../geometry/units.js";
import { deriveLayout } from "../layout/derive.js";
import type { Layout } from "../layout/layout.js";
import type { LineKey } from "../layout/line.js";
import type { Id, Plan } from "../plan/schema.js";
import { easement } from "../readings/easement.js";
import { edge } from "../readings/edge.js";
import { feltGrade, feltPercent, feltPlaces } from "../readings/felt-grade.js";
import { grade } from "../readings/grade.js";
import { joint } from "../readings/joint.js";
import { overTrack } from "../readings/over-track.js";
import { radius } from "../readings/radius.js";
import { type Place, type Reading, readingKey } from "../readings/reading.js";
import { reverseCurve } from "../readings/reverse-curve.js";
import type { Rule } from "../readings/rule.js";
import { readingsOf } from "../readings/take.js";
import { trackSpacing } from "../readings/track-spacing.js";
import { verticalCurve } from "../readings/vertical-curve.js";
import { judge } from "../readings/verdict.js";
import type { ClimbFigures } from "./request.js";
import type { RouteEdit } from "./route-edit.js";
import type { Way } from "./find-ways.js";

const RULES: readonly Rule[] = [
  joint,
  radius,
  easement,
  reverseCurve,
  grade,
  feltGrade,
  verticalCurve,
  edge,
  trackSpacing,
  overTrack,
];

/** Values nearer than this are as bad as before. */
const SAME = 1e-6;

/** Takes the readings of a plan once, and holds every route's against them. */
export class RouteJudge {
  private readonly before: ReadonlyMap<string, Reading>;

  constructor(private readonly layout: Layout) {
    this.before = readings(layout.plan, layout);
  }

  /** The layout with the route, or the key of the reading it fails. */
  judge(plan: Plan, track: Id): Layout | string {
    const layout = deriveLayout(plan, this.layout);
    for (const rule of RULES) {
      for (const reading of readingsOf(rule, plan, layout)) {
        const key = readingKey(reading);
        if (reading.verdict === "fails" && this.isNew(reading, this.before.get(key), track)) return key;
      }
    }
    return layout;
  }

  private isNew(reading: Reading, before: Reading | undefined, track: Id): boolean {
    if (before?.verdict !== "fails") return true;
    const fails = ({ value }: Place): boolean => judge(value, reading.limit, reading.bound, 0) === "fails";
    if (reading.places.some((place) => place.thing === `tracks.${track}` && fails(place))) return true;
    const more = (reading.value ?? 0) - (before.value ?? 0);
    return reading.bound === "least" ? more < -SAME : more > SAME;
  }
}

const readings = (plan: Plan, layout: Layout): Map<string, Reading> =>
  new Map(RULES.flatMap((rule) => readingsOf(rule, plan, layout)).map((r) => [readingKey(r), r]));

export function figuresOf(layout: Layout, { track, newBench }: RouteEdit, way: Way, rise: number): ClimbFigures {
  const key: LineKey = `track:${track}`;
  const line = layout.lines.get(key);
  const profile = layout.profiles.get(key);
  const felt = line && profile ? feltPlaces(line, profile) : [];
  const drag = layout.plan.standards.curveDrag.value;
  const car = layout.plan.standards.longestCar.value.height;
  let gap = Number.POSITIVE_INFINITY;
  for (const { a, b, places } of layout.meetings) {
    if (a !== key || b !== key) continue;
    for (const place of places) if (Math.abs(place.rise) > car / 2) gap = Math.min(gap, Math.abs(place.rise));
  }
  let hidden = 0;
  for (const stretch of layout.hidden) if (stretch.line === key) hidden += stretch.to - stretch.from;
  const curves = way.turns.flatMap(({ parts }) => parts);
  return {
    run: line?.path.length ?? 0,
    rise,
    ruling: felt.reduce((most, { slope }) => Math.max(most, 100 * Math.abs(slope)), 0),
    felt: felt.reduce((most, place) => Math.max(most, feltPercent(place, drag)), 0),
    gap: Number.isFinite(gap) ? gap : undefined,
    hidden,
    curvature: toDegrees(curves.reduce((sum, { shape }) => sum + shape.angle, 0)),
    curves: curves.length,
    reversals: curves.filter(({ hand }, i) => i > 0 && curves[i - 1]?.hand !== hand).length,
    leastRadius: curves.length > 0 ? Math.min(...curves.map(({ shape }) => shape.radius)) : undefined,
    newBench,
  };
}
