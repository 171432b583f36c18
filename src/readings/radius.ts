/** The least radius of each class of track, turnout routes among them. */
import type { Line } from "../layout/line.js";
import { type Measured, type Rule, readingByClass, remember } from "./rule.js";

/** The sharpest place of every curve of a line. Flat easements between two curves belong to both. */
const sharpest = remember((line: Line): Measured[] => {
  const found: Measured[] = [];
  line.path.segments.forEach((g, i) => {
    const k = Math.max(Math.abs(g.k0), Math.abs(g.k1));
    if (k === 0) return;
    const begin = line.path.stations[i] ?? 0;
    const middle = Math.abs(g.k0) === Math.abs(g.k1) ? g.length / 2 : Math.abs(g.k0) > Math.abs(g.k1) ? 0 : g.length;
    found.push({ value: 1 / k, line, s: begin + middle });
  });
  // Both easements of a curve name the radius of its arc: one place a curve is enough.
  return found.filter((m, i) => {
    const neighbours = [found[i - 1], found[i + 1]];
    return !neighbours.some((n) => n && n.value === m.value && isArcMiddle(line, n.s) && !isArcMiddle(line, m.s));
  });
});

const isArcMiddle = (line: Line, s: number): boolean => !line.path.stations.includes(s);

export const radius: Rule = {
  id: "radius",
  take(input) {
    const measured = [...input.layout.lines.values()].flatMap(sharpest);
    const head = { id: "radius", label: "Least radius", unit: "mm", bound: "least" } as const;
    return readingByClass(input, head, (limits) => limits.radius, measured);
  },
};
