/**
 * Vertical curves: the length each break of grade was given for every percent it changes. Where neighbouring breaks
 * leave too little room the curve is short, and said so. A turnout is a plane and cannot bend: a break at its heel leaves
 * a curve room on one side only, so a climb should begin a little beyond it.
 */
import type { Line } from "../layout/line.js";
import type { Profile } from "../layout/profile.js";
import { limitedReading, type Measured, type Rule, rememberPair } from "./rule.js";

/** Breaks of less than this, percent, lift no coupler by more than the thickness of a sheet of paper. */
const SLIGHT = 0.2;
/** A curve is told by the line its break lies on; of a break at a joint both lines may tell. */
const AT_END = 1e-6;

const curvesOf = rememberPair((line: Line, profile: Profile): Measured[] =>
  profile.curves.flatMap(({ at, length, change }) => {
    const percent = 100 * Math.abs(change);
    if (at < -AT_END || at > line.path.length + AT_END || percent < SLIGHT) return [];
    const s = Math.min(Math.max(at, 0), line.path.length);
    return [{ value: length / percent, line, s, note: `${percent.toFixed(1)} % change over ${Math.round(length)} mm` }];
  }),
);

export const verticalCurve: Rule = {
  id: "vertical-curve",
  take({ plan, layout }) {
    const limit = plan.standards.verticalCurve;
    if (limit.value <= 0) return [];
    const measured = [...layout.lines.values()].flatMap((line) => {
      const profile = layout.profiles.get(line.key);
      return profile ? curvesOf(line, profile) : [];
    });
    const head = {
      id: "vertical-curve",
      label: "Vertical curve, per 1 %",
      unit: "mm",
      bound: "least",
      margin: 0,
    } as const;
    return [limitedReading(plan, { ...head, limit }, measured)];
  },
};
