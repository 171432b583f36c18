/**
 * A route held against the plan's own readings, all of them: whatever adds a failing one is given up. Rules that give up
 * most for least work come first.
 */
import { deriveLayout } from "../layout/derive.js";
import type { Layout } from "../layout/layout.js";
import type { Id, Plan } from "../plan/schema.js";
import { easement } from "../readings/easement.js";
import { edge } from "../readings/edge.js";
import { feltGrade } from "../readings/felt-grade.js";
import { grade } from "../readings/grade.js";
import { joint } from "../readings/joint.js";
import { overTrack } from "../readings/over-track.js";
import { radius } from "../readings/radius.js";
import { type Place, type Reading, readingKey } from "../readings/reading.js";
import { reverseCurve } from "../readings/reverse-curve.js";
import type { Rule } from "../readings/rule.js";
import { readingsOf, RULES } from "../readings/take.js";
import { trackSpacing } from "../readings/track-spacing.js";
import { turnoutReach } from "../readings/turnout-reach.js";
import { turnoutRoom } from "../readings/turnout-room.js";
import { turnoutSize } from "../readings/turnout-size.js";
import { verticalCurve } from "../readings/vertical-curve.js";
import { judge } from "../readings/verdict.js";

const OF_THE_TRACK: readonly Rule[] = [
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

/** All rules there are. */
export const ALL_RULES: readonly Rule[] = [...OF_THE_TRACK, ...RULES.filter((rule) => !OF_THE_TRACK.includes(rule))];
/** What a turnout that leads nowhere yet is held against. */
export const TURNOUT_RULES: readonly Rule[] = [
  joint,
  turnoutSize,
  turnoutRoom,
  edge,
  trackSpacing,
  overTrack,
  turnoutReach,
];

/** Values nearer than this are as bad as before. */
const SAME = 1e-6;

export type Judged = { readonly layout: Layout } | { readonly fails: string };

/** Takes the readings of a plan once, each when it is first needed, and holds every route's against them. */
export class RouteJudge {
  private readonly before = new Map<Rule, ReadonlyMap<string, Reading>>();
  private readonly found: ReadonlySet<string>;

  constructor(private readonly layout: Layout) {
    this.found = new Set(layout.findings.map(nameOf));
  }

  /** The layout with the route, or what it fails: a reading's label, or a finding. */
  judge(plan: Plan, track: Id, rules: readonly Rule[] = ALL_RULES): Judged {
    const layout = deriveLayout(plan, this.layout);
    const finding = layout.findings.find((f) => !this.found.has(nameOf(f)));
    if (finding) return { fails: finding.note };
    for (const rule of rules) {
      for (const reading of readingsOf(rule, plan, layout)) {
        if (reading.verdict !== "fails") continue;
        if (this.isNew(reading, this.beforeOf(rule).get(readingKey(reading)), track)) return { fails: reading.label };
      }
    }
    return { layout };
  }

  private beforeOf(rule: Rule): ReadonlyMap<string, Reading> {
    let known = this.before.get(rule);
    if (!known) {
      known = new Map(readingsOf(rule, this.layout.plan, this.layout).map((r) => [readingKey(r), r]));
      this.before.set(rule, known);
    }
    return known;
  }

  private isNew(reading: Reading, before: Reading | undefined, track: Id): boolean {
    if (before?.verdict !== "fails") return true;
    const fails = ({ value }: Place): boolean => judge(value, reading.limit, reading.bound, 0) === "fails";
    if (reading.places.some((place) => place.thing === `tracks.${track}` && fails(place))) return true;
    const more = (reading.value ?? 0) - (before.value ?? 0);
    return reading.bound === "least" ? more < -SAME : more > SAME;
  }
}

const nameOf = ({ thing, note }: Layout["findings"][number]): string => `${thing} ${note}`;
