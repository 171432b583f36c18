/** What a rule is given, and what rules share: limits by class, places on lines, one reading a class. */
import { limitsOf } from "../plan/class-limits.js";
import { poseAt } from "../geometry/path.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import { type ClassLimits, type Plan, type Setting, TRACK_CLASSES, type TrackClass } from "../plan/schema.js";
import type { Place, Reading, ReadingId } from "./reading.js";
import { judge } from "./verdict.js";
import { firstFew } from "./worst-few.js";

export interface RuleInput {
  readonly plan: Plan;
  readonly layout: Layout;
}

/** One rule a file; a rule gives one reading, or one for each scope it finds. */
export interface Rule {
  readonly id: ReadingId;
  take(input: RuleInput): Reading[];
}

/** Places kept of a reading; more would only be scrolled past. */
export const MOST_PLACES = 50;

export const thingOf = (line: Line): string => `${line.kind}s.${line.id}`;

export function placeOn(line: Line, s: Millimetres, value?: number, note?: string): Place {
  const { x, y } = poseAt(line.path, s);
  return {
    deck: line.deck,
    point: { x, y },
    thing: thingOf(line),
    s,
    ...(value !== undefined && { value }),
    ...(note !== undefined && { note }),
  };
}

/** A value found somewhere. The place is only made for those that are shown. */
export interface Measured {
  readonly value: number;
  readonly line: Line;
  readonly s: Millimetres;
  readonly note?: string;
  /** What it is about, where that is not the line it lies on. */
  readonly thing?: string;
}

export function placeOf({ line, s, value, note, thing }: Measured): Place {
  const place = placeOn(line, s, value, note);
  return thing === undefined ? place : { ...place, thing };
}

interface LimitedReading {
  readonly id: ReadingId;
  readonly scope?: string;
  readonly label: string;
  readonly unit: Reading["unit"];
  readonly bound: "least" | "most";
  readonly limit: Pick<Setting<number>, "value" | "source" | "reason">;
  /** Limits the plan's own defaults are laid to exactly are kept or not; nothing is tight about keeping them. */
  readonly margin?: 0;
}

/** Values nearer than this are one, whichever was found first: those of the line whose key comes first go first. */
const ONE_VALUE = 1e-6;

const worstFirst = (bound: "least" | "most") => (a: Measured, b: Measured) => {
  const order = Math.round(a.value / ONE_VALUE) - Math.round(b.value / ONE_VALUE);
  if (order !== 0) return bound === "least" ? order : -order;
  return a.line.key === b.line.key ? a.s - b.s : a.line.key < b.line.key ? -1 : 1;
};

/** Most values are better by far, and need not be held against the worst any closer. */
const mayBeWorse = (bound: "least" | "most", value: number, worst: number): boolean =>
  (bound === "least" ? value - worst : worst - value) < 2 * ONE_VALUE;

/**
 * The reading of a limit from all that was measured: its value is the worst, its places those that are tight or fail,
 * or else the worst one.
 */
export function limitedReading(plan: Plan, head: LimitedReading, measured: readonly Measured[]): Reading {
  const { bound, limit } = head;
  const margin = head.margin ?? plan.standards.tight.value;
  const first = worstFirst(bound);
  const noted: Measured[] = [];
  let fails = false;
  let worst: Measured | undefined;
  for (const m of measured) {
    if (!worst || (mayBeWorse(bound, m.value, worst.value) && first(m, worst) < 0)) worst = m;
    const verdict = judge(m.value, limit.value, bound, margin);
    if (verdict !== "fails" && verdict !== "tight") continue;
    noted.push(m);
    fails ||= verdict === "fails";
  }
  const shown = noted.length > 0 ? firstFew(noted, MOST_PLACES, first) : worst ? [worst] : [];
  const verdict = fails ? "fails" : noted.length > 0 ? "tight" : worst ? "clear" : "none";
  return {
    id: head.id,
    ...(head.scope !== undefined && { scope: head.scope }),
    label: head.label,
    value: worst?.value,
    unit: head.unit,
    limit: limit.value,
    bound,
    verdict,
    places: shown.map(placeOf),
    source: limit.source,
    ...(limit.reason !== undefined && { reason: limit.reason }),
  };
}

/** One reading for each class of track that is measured, in the order of the classes. */
export function readingByClass(
  { plan }: RuleInput,
  head: Omit<LimitedReading, "scope" | "limit">,
  limit: (limits: ClassLimits, trackClass: TrackClass) => LimitedReading["limit"],
  measured: readonly Measured[],
): Reading[] {
  const byClass = new Map<TrackClass, Measured[]>();
  for (const m of measured) {
    const own = byClass.get(m.line.class);
    if (own) own.push(m);
    else byClass.set(m.line.class, [m]);
  }
  return TRACK_CLASSES.flatMap((trackClass) => {
    const own = byClass.get(trackClass);
    if (!own) return [];
    const full = {
      ...head,
      scope: trackClass,
      label: `${head.label}, ${trackClass}`,
      limit: limit(limitsOf(plan, trackClass), trackClass),
    };
    return [limitedReading(plan, full, own)];
  });
}
