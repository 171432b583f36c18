/**
 * Track spacing: how far tracks on one level lie apart, held to the track centres of straight track, after taking off
 * what the longest cars on both reach toward each other on curves (their swept envelopes), as far as the plan does not let
 * that use up part of the centres (NEM 112 does; NMRA S-8 does not). So one limit serves straight
 * and curve, and the value is what the spacing is worth.
 * Left out: what lies together at joints and turnouts, and crossings on the level.
 */
import type { Layout } from "../layout/layout.js";
import type { Line, LinePlace } from "../layout/line.js";
import { meetingReach } from "../layout/derive.js";
import type { Meeting, NearPlace } from "../layout/meetings.js";
import type { Standards } from "../plan/schema.js";
import { throwToward } from "./envelope.js";
import { foulingZones } from "./fouling.js";
import { limitsOf, type Measured, type Rule, readingByClass } from "./rule.js";

export const trackSpacing: Rule = {
  id: "track-spacing",
  take(input) {
    const { plan, layout } = input;
    const fouling = foulingZones(layout, 2 * meetingReach(plan));
    const crossed = crossedPlaces(layout, 2 * meetingReach(plan));
    const measured: Measured[] = [];
    for (const meeting of layout.meetings) {
      const a = layout.lines.get(meeting.a);
      const b = layout.lines.get(meeting.b);
      if (!a || !b) continue;
      const worst = worstPlace(plan.standards, meeting, a, b, (place) => {
        const pa = { line: a.key, s: place.sa };
        const pb = { line: b.key, s: place.sb };
        return fouling.together(pa, pb) || crossed(pa, pb);
      });
      if (!worst) continue;
      const centres = (line: Line): number => limitsOf(plan, line.class).centres.value;
      const [line, s] = centres(a) >= centres(b) ? [a, worst.place.sa] : [b, worst.place.sb];
      measured.push({ value: worst.value, line, s, note: `centres ${worst.place.apart.toFixed(1)} mm` });
    }
    const head = { id: "track-spacing", label: "Track centres", unit: "mm", bound: "least" } as const;
    return readingByClass(input, head, (limits) => limits.centres, measured);
  },
};

function worstPlace(
  { longestCar: { value: car }, curveSlack }: Standards,
  meeting: Meeting,
  a: Line,
  b: Line,
  leftOut: (place: NearPlace) => boolean,
): { value: number; place: NearPlace } | undefined {
  const slack = curveSlack?.value ?? 0;
  let worst: { value: number; place: NearPlace } | undefined;
  for (const place of meeting.places) {
    // Further apart in height than half a car they are meant to pass one over the other.
    if (Math.abs(place.rise) > car.height / 2) continue;
    const throws = throwToward(a, car, place.sa, b, place.sb) + throwToward(b, car, place.sb, a, place.sa);
    const value = place.apart - Math.max(0, throws - slack);
    if (worst && value >= worst.value) continue;
    if (!leftOut(place)) worst = { value, place };
  }
  return worst;
}

/** Near a crossing on the level, `near` mm across the other line. */
function crossedPlaces(layout: Layout, near: number): (a: LinePlace, b: LinePlace) => boolean {
  return (a, b) =>
    layout.crossings.some((c) => {
      const reach = near / Math.max(Math.sin(c.angle), 0.05);
      const at = (p: LinePlace, q: LinePlace): boolean => p.line === q.line && Math.abs(p.s - q.s) <= reach;
      return (at(a, c.a) && at(b, c.b)) || (at(a, c.b) && at(b, c.a));
    });
}
