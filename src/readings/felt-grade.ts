/**
 * The grade a train feels: the slope, and the drag of the curve it is on, drag / radius. The drag is a setting: hobby
 * rule 32/R percent for HO with R in inches (common practice, no source); the prototype's 0.04 percent per degree of
 * curve (US Army Transportation School, TR0603, para. 2.8) scaled down gives the same size.
 */
import { curvatureAt } from "../geometry/path.js";
import type { Line } from "../layout/line.js";
import { type Profile, slopeAt } from "../layout/profile.js";
import { whileSame } from "./carry.js";
import { foundByLine, type LineContext, present } from "./line-context.js";
import { rememberPair } from "./remember.js";
import { type Measured, type Rule, readingByClass } from "./rule.js";

/** To either side of a break, far enough to be off it and near enough to change nothing. */
const BESIDE = 1e-6;

export interface Felt {
  readonly s: number;
  readonly slope: number;
  readonly curvature: number;
}

/**
 * Slope and curvature on both sides of every break of either. Between breaks both are linear, so the sum of their sizes
 * is greatest at one of these.
 */
export const feltPlaces = rememberPair((line: Line, profile: Profile): Felt[] => {
  const breaks = new Set([...line.path.stations, ...profile.stations]);
  for (const { at, length } of profile.curves) {
    for (const s of [at - length / 2, at, at + length / 2]) if (s > 0 && s < line.path.length) breaks.add(s);
  }
  const places: Felt[] = [];
  for (const s of breaks) {
    for (const beside of [s - BESIDE, s + BESIDE]) {
      if (beside < 0 || beside > line.path.length) continue;
      places.push({ s, slope: slopeAt(profile, beside), curvature: curvatureAt(line.path, beside) });
    }
  }
  return places;
});

/** Grade felt in percent, drag in percent times millimetres of radius. */
export const feltPercent = ({ slope, curvature }: Felt, drag: number): number =>
  100 * Math.abs(slope) + drag * Math.abs(curvature);

const hardestByLine = foundByLine(({ line, heights }: LineContext, drag: number): Measured | undefined => {
  let worst: Measured | undefined;
  for (const place of heights ? feltPlaces(line, heights) : []) {
    const value = feltPercent(place, drag);
    if (!worst || value > worst.value) worst = { value, line, s: place.s };
  }
  return worst;
});

export const feltGrade: Rule = {
  id: "felt-grade",
  take: whileSame(
    ({ plan, layout }) => [hardestByLine(layout, plan.standards.curveDrag.value), plan.standards] as const,
    (input, [hardest]) => {
      const head = { id: "felt-grade", label: "Grade felt", unit: "percent", bound: "most" } as const;
      const measured = present(hardest);
      return readingByClass(input, head, (limits) => limits.feltGrade, measured);
    },
  ),
};
