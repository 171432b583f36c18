/**
 * Reverse curves: how much straight lies between two curves of opposite hand, within a track, across joints, and from a
 * turnout's diverging route back through its points. None is needed where both are eased (NEM 113: reverse curves with
 * transitions need no straight between), nor where the two curvatures met at once add up to no more than the least
 * radius allows, since a car then swings no further than on entering that curve. Two lead curves of turnouts facing each
 * other, as in a crossover, are the business of the turnouts' own readings.
 *
 * Of tracks of two classes the lesser limit holds: a train that runs over both is bound to the lesser track.
 */
import { whileSame } from "./carry.js";
import { reversals } from "./facing-curves.js";
import { type Measured, type Rule, readingByClass } from "./rule.js";

export const reverseCurve: Rule = {
  id: "reverse-curve",
  take: whileSame(
    ({ plan, layout }) => [reversals(layout), plan.standards] as const,
    (input, [found]) => {
      const measured = found.flatMap(({ a, b, asks, straight }): Measured[] =>
        a.line.kind === "track" || b.line.kind === "track" ? [{ value: straight, line: asks.line, s: asks.s }] : [],
      );
      const head = {
        id: "reverse-curve",
        label: "Straight between reverse curves",
        unit: "mm",
        bound: "least",
        margin: 0,
      } as const;
      return readingByClass(input, head, (limits) => limits.reverseStraight, measured);
    },
  ),
};
