/** The least radius of each class of track, turnout routes among them. */
import type { Line } from "../layout/line.js";
import { whileSame } from "./carry.js";
import { foundByLine, joinedLists } from "./line-context.js";
import { remember } from "./remember.js";
import { type Measured, type Rule, readingByClass } from "./rule.js";
import { STRAIGHT } from "./curve-runs.js";

/** Curvatures that differ by less than this share are one: the end of an easement and the arc it leads to. */
const SAME_CURVATURE = 1e-9;

/** The sharpest place of every curve of a line; of a compound curve that of each of its radii. */
const sharpest = remember((line: Line): Measured[] => {
  const found: { readonly k: number; readonly s: number; readonly segment: number; readonly arc: boolean }[] = [];
  line.path.segments.forEach((g, segment) => {
    const [k0, k1] = [Math.abs(g.k0), Math.abs(g.k1)];
    const k = Math.max(k0, k1);
    if (k < STRAIGHT) return;
    const begin = line.path.stations[segment] ?? 0;
    const arc = Math.abs(g.k1 - g.k0) <= SAME_CURVATURE * k;
    const s = begin + (arc ? g.length / 2 : k0 > k1 ? 0 : g.length);
    const last = found.at(-1);
    const same = last?.segment === segment - 1 && Math.abs(last.k - k) <= SAME_CURVATURE * k;
    // An arc and the easements at its ends have one radius: it is told once, in the middle of the arc.
    if (last && same) found[found.length - 1] = arc && !last.arc ? { k, s, segment, arc } : { ...last, segment };
    else found.push({ k, s, segment, arc });
  });
  return found.map(({ k, s }) => ({ value: 1 / k, line, s }));
});

const sharpestByLine = foundByLine(({ line }) => sharpest(line));

export const radius: Rule = {
  id: "radius",
  take: whileSame(
    ({ plan, layout }) => [sharpestByLine(layout), plan.standards] as const,
    (input, [sharp]) => {
      const head = { id: "radius", label: "Least radius", unit: "mm", bound: "least" } as const;
      return readingByClass(input, head, (limits) => limits.radius, joinedLists(sharp));
    },
  ),
};
