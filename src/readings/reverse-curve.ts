/**
 * Reverse curves: how much straight lies between two curves of opposite hand. None is needed where both are eased
 * (NEM 113: reverse curves with transitions need no straight between), nor where the two curvatures met at once add up
 * to no more than the least radius allows, since a car then swings no further than on entering that curve. Two lead
 * curves of turnouts facing each other, as in a crossover, are the business of the turnouts' own readings.
 */
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import type { Plan } from "../plan/schema.js";
import { type CurveRun, curveRuns } from "./curve-runs.js";
import { joinedEnds } from "./joined-ends.js";
import { limitsOf, type Measured, type Rule, readingByClass } from "./rule.js";

/** Easings shorter than they must be are for the easement reading; here only a curvature met at once counts. */
const EASED = 1e-6;
/** Lines followed past their far end before a curve must have come; more straight pieces in a row are enough straight. */
const MOST_HOPS = 8;

export const reverseCurve: Rule = {
  id: "reverse-curve",
  take(input) {
    const { plan, layout } = input;
    const measured: Measured[] = [];
    for (const line of layout.lines.values()) {
      const runs = curveRuns(line);
      runs.forEach((run, i) => {
        const next = runs[i + 1];
        if (next)
          consider(plan, measured, line, run, run.endJump, line, next, next.startJump, next.from - run.to, run.to);
      });
      const [first, last] = [runs[0], runs.at(-1)];
      if (first) acrossEnd(plan, layout, measured, line, first, "start");
      if (last) acrossEnd(plan, layout, measured, line, last, "end");
    }
    const head = {
      id: "reverse-curve",
      label: "Straight between reverse curves",
      unit: "mm",
      bound: "least",
      margin: 0,
    } as const;
    return readingByClass(input, head, (limits) => limits.reverseStraight, measured);
  },
};

function consider(
  plan: Plan,
  measured: Measured[],
  line: Line,
  run: CurveRun,
  jump: number,
  otherLine: Line,
  other: CurveRun,
  otherJump: number,
  straight: number,
  s: number,
  sameWay = true,
): void {
  const opposite = sameWay ? run.hand !== other.hand : run.hand === other.hand;
  if (!opposite || (line.kind === "turnout" && otherLine.kind === "turnout")) return;
  if (jump < EASED && otherJump < EASED) return;
  const limits = limitsOf(plan, line.class);
  // Half a per cent of the least radius is the rounding of radii typed in fractions of an inch.
  if (jump + otherJump <= 1.005 / limits.radius.value) return;
  measured.push({ value: straight, line, s });
}

/** Follows the track past an end of a line to the next curve, as far as the class's straight is long. */
function acrossEnd(
  plan: Plan,
  layout: Layout,
  measured: Measured[],
  line: Line,
  run: CurveRun,
  end: "start" | "end",
): void {
  const limit = limitsOf(plan, line.class).reverseStraight.value;
  const jump = end === "start" ? run.startJump : run.endJump;
  const s = end === "start" ? run.from : run.to;
  const begun = end === "start" ? run.from : line.path.length - run.to;
  const walk = (from: Line, leaving: "start" | "end", straight: number, hops: number, sameWay: boolean): void => {
    if (straight >= limit || hops > MOST_HOPS) return;
    for (const { end: at, other, otherEnd } of joinedEnds(layout, from)) {
      if (at !== leaving) continue;
      const way = sameWay === (leaving !== otherEnd);
      const runs = curveRuns(other);
      const next = otherEnd === "start" ? runs[0] : runs.at(-1);
      const far = otherEnd === "start" ? "end" : "start";
      if (!next) {
        walk(other, far, straight + other.path.length, hops + 1, way);
        continue;
      }
      // Told once for both ways of coming to it.
      if (other.key < line.key) continue;
      const gap = otherEnd === "start" ? next.from : other.path.length - next.to;
      const nextJump = otherEnd === "start" ? next.startJump : next.endJump;
      consider(plan, measured, line, run, jump, other, next, nextJump, straight + gap, s, way);
    }
  };
  walk(line, end, begun, 0, true);
}
