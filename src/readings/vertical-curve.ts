/**
 * Vertical curves: the length each break of grade was given for every percent it changes. Where neighbouring breaks
 * leave too little room the curve is short, and said so. A turnout is a plane and cannot bend: a break at its heel leaves
 * a curve room on one side only, so a climb should begin a little beyond it.
 */
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import type { Profile } from "../layout/profile.js";
import { whileSame } from "./carry.js";
import { joinedEnds } from "./joined-ends.js";
import { foundByLine, joinedLists, lineContexts } from "./line-context.js";
import { rememberPair } from "./remember.js";
import { limitedReading, type Measured, type Rule } from "./rule.js";

/** Breaks of less than this, percent, lift no coupler by more than the thickness of a sheet of paper. */
const SLIGHT = 0.2;
/** A curve is told by the line its break lies on; distances along a line nearer than this are one, mm. */
const ONE_PLACE = 1e-3;

const curvesOf = rememberPair((line: Line, profile: Profile): Measured[] =>
  profile.curves.flatMap(({ at, length, change }) => {
    const percent = 100 * Math.abs(change);
    if (at < -ONE_PLACE || at > line.path.length + ONE_PLACE || percent < SLIGHT) return [];
    const s = Math.min(Math.max(at, 0), line.path.length);
    return [{ value: length / percent, line, s, note: `${percent.toFixed(1)} % change over ${Math.round(length)} mm` }];
  }),
);

const curvesByLine = foundByLine(({ line, heights }): readonly Measured[] => (heights ? curvesOf(line, heights) : []));

export const verticalCurve: Rule = {
  id: "vertical-curve",
  take: whileSame(
    ({ plan, layout }) => [lineContexts(layout), layout.turnouts, layout.slips, plan.standards] as const,
    ({ plan, layout }) => {
      const limit = plan.standards.verticalCurve;
      if (limit.value <= 0) return [];
      const measured = joinedLists(curvesByLine(layout)).filter(({ line, s }) => !toldElsewhere(layout, line, s));
      const head = {
        id: "vertical-curve",
        label: "Vertical curve, per 1 %",
        unit: "mm",
        bound: "least",
        margin: 0,
      } as const;
      return [limitedReading(plan, { ...head, limit }, measured)];
    },
  ),
};

/** A break where lines meet stands on all of them; the one whose key comes first tells it, of a turnout's points the host. */
function toldElsewhere(layout: Layout, line: Line, s: number): boolean {
  const end = s < ONE_PLACE ? "start" : s > line.path.length - ONE_PLACE ? "end" : undefined;
  if (!end) return false;
  const slip = line.kind === "slip" ? layout.slips.get(line.id)?.routes.find((r) => r.line === line.key) : undefined;
  if (slip && hasBreakAt(layout, slip[end].line, slip[end].s)) return true;
  const turnout = line.kind === "turnout" && end === "start" ? layout.turnouts.get(line.id) : undefined;
  if (turnout && hasBreakAt(layout, turnout.host, turnout.departs)) return true;
  return joinedEnds(layout, line).some(({ end: at, other, otherEnd }) => {
    if (at !== end || (other === line ? end === "start" : other.key > line.key)) return false;
    return hasBreakAt(layout, other.key, otherEnd === "start" ? 0 : other.path.length);
  });
}

const hasBreakAt = (layout: Layout, key: Line["key"], s: number): boolean =>
  layout.profiles.get(key)?.curves.some(({ at }) => Math.abs(at - s) < ONE_PLACE) ?? false;
