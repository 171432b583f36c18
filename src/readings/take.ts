/**
 * All readings of a layout, in an order that never changes: track, climb, decks, room, trains. A rule that throws would take
 * the others with it, so none may; what cannot be measured reads `none`.
 */
import type { Layout } from "../layout/layout.js";
import type { Plan } from "../plan/schema.js";
import { aisle } from "./aisle.js";
import { climb } from "./climb.js";
import { deckSeparation } from "./deck-separation.js";
import { door } from "./door.js";
import { easement } from "./easement.js";
import { edge } from "./edge.js";
import { feltGrade } from "./felt-grade.js";
import { gate } from "./gate.js";
import { grade } from "./grade.js";
import { hidden } from "./hidden.js";
import { joint } from "./joint.js";
import { length } from "./length.js";
import { overTrack } from "./over-track.js";
import { radius } from "./radius.js";
import { reach } from "./reach.js";
import { type Reading, readingKey } from "./reading.js";
import { reverseCurve } from "./reverse-curve.js";
import type { Rule } from "./rule.js";
import { sight } from "./sight.js";
import { trackSpacing } from "./track-spacing.js";
import { turnoutReach } from "./turnout-reach.js";
import { turnoutRoom } from "./turnout-room.js";
import { turnoutSize } from "./turnout-size.js";
import { verticalCurve } from "./vertical-curve.js";
import { runaround } from "./runaround.js";
import { runs } from "./runs.js";
import { siding } from "./siding.js";
import { spur } from "./spur.js";
import { staging } from "./staging.js";
import { totals } from "./totals.js";
import { yard } from "./yard.js";

export const RULES: readonly Rule[] = [
  length,
  radius,
  easement,
  reverseCurve,
  trackSpacing,
  joint,
  turnoutSize,
  turnoutRoom,
  grade,
  feltGrade,
  verticalCurve,
  climb,
  deckSeparation,
  sight,
  hidden,
  overTrack,
  edge,
  aisle,
  reach,
  turnoutReach,
  gate,
  door,
  siding,
  yard,
  staging,
  spur,
  runaround,
  runs,
  totals,
];

/** What the rules find, with the owner's reasons for living with it. */
export const takeReadings = (plan: Plan, layout: Layout): Reading[] =>
  RULES.flatMap((rule) => readingsOf(rule, plan, layout));

/** What one rule finds; all rules in turn give what `takeReadings` gives. */
export function readingsOf(rule: Rule, plan: Plan, layout: Layout): Reading[] {
  return rule.take({ plan, layout }).map((reading) => {
    const accepted = plan.accepted[readingKey(reading)] ?? plan.accepted[reading.id];
    return accepted && reading.reason === undefined ? { ...reading, reason: accepted.reason } : reading;
  });
}
