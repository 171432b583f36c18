/** The steepest grade of each class of track, as it is built. */
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import type { Profile } from "../layout/profile.js";
import { whileSame } from "./carry.js";
import { foundByLine, joinedLists } from "./line-context.js";
import { rememberPair } from "./remember.js";
import { type Measured, type Rule, readingByClass } from "./rule.js";

/** Grades of less than this are level track with rounding, percent. */
const LEVEL = 1e-6;

/** Every straight grade of a line, at its middle. Vertical curves only ease what lies between. */
const gradesOf = rememberPair((line: Line, profile: Profile): Measured[] => {
  const grades: Measured[] = [];
  for (let i = 1; i < profile.stations.length; i++) {
    const [s0 = 0, s1 = 0] = [profile.stations[i - 1], profile.stations[i]];
    const rise = (profile.heights[i] ?? 0) - (profile.heights[i - 1] ?? 0);
    if (s1 <= s0) continue;
    const value = (100 * Math.abs(rise)) / (s1 - s0);
    grades.push({ value: value < LEVEL ? 0 : value, line, s: (s0 + s1) / 2 });
  }
  return grades;
});

const gradesByLine = foundByLine(({ line, heights }): readonly Measured[] => (heights ? gradesOf(line, heights) : []));

export const measuredGrades = (layout: Layout): Measured[] => joinedLists(gradesByLine(layout));

export const grade: Rule = {
  id: "grade",
  take: whileSame(
    ({ plan, layout }) => [gradesByLine(layout), plan.standards] as const,
    (input, [grades]) => {
      const head = { id: "grade", label: "Steepest grade", unit: "percent", bound: "most" } as const;
      return readingByClass(input, head, (limits) => limits.grade, joinedLists(grades));
    },
  ),
};
