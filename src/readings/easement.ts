/**
 * Easements: how fast curvature changes. A curve of the class's least radius asks for the class's easement; a gentler
 * one for as much less, which is the same greatest rate of change. The value is the easement length as it would be on a
 * curve of the least radius; where curvature jumps it is 0. Lead curves of turnouts are never eased and are not asked.
 */
import type { Line } from "../layout/line.js";
import type { Layout } from "../layout/layout.js";
import { endCurvatures, joinedEnds } from "./joined-ends.js";
import { limitsOf, type Measured, type Rule, readingByClass, remember } from "./rule.js";

/** Changes of curvature below this (a radius of 1 km met at once) are felt by no train. */
const NO_JUMP = 1e-6;

interface Change {
  readonly s: number;
  /** Change of curvature and the length it takes. */
  readonly change: number;
  readonly length: number;
}

const changesOf = remember((line: Line): Change[] => {
  if (line.kind === "turnout") return [];
  const changes: Change[] = [];
  const { segments, stations } = line.path;
  segments.forEach((g, i) => {
    const begin = stations[i] ?? 0;
    const before = segments[i - 1];
    const jump = before ? Math.abs(g.k0 - before.k1) : 0;
    if (jump > NO_JUMP) changes.push({ s: begin, change: jump, length: 0 });
    const change = Math.abs(g.k1 - g.k0);
    if (change > NO_JUMP) changes.push({ s: begin + g.length / 2, change, length: g.length });
  });
  return changes;
});

export const easement: Rule = {
  id: "easement",
  take(input) {
    const { plan, layout } = input;
    const measured: Measured[] = [];
    for (const line of layout.lines.values()) {
      const limits = limitsOf(plan, line.class);
      if (limits.easement.value <= 0) continue;
      const add = ({ s, change, length }: Change): void => {
        const value = length / (change * limits.radius.value);
        measured.push(length > 0 ? { value, line, s } : { value, line, s, note: "curvature jumps" });
      };
      for (const change of changesOf(line)) add(change);
      for (const change of jumpsAtEnds(layout, line)) add(change);
    }
    const head = { id: "easement", label: "Easement", unit: "mm", bound: "least", margin: 0 } as const;
    return readingByClass(input, head, (limits) => limits.easement, measured);
  },
};

/** Jumps where a track begins or ends at another; told once, by the line of the two whose key is the smaller. */
function jumpsAtEnds(layout: Layout, line: Line): Change[] {
  if (line.kind === "turnout") return [];
  return joinedEnds(layout, line).flatMap(({ end, other, otherEnd }) => {
    if (other.kind === "track" && (other.key < line.key || (other.key === line.key && end === "end"))) return [];
    const here = endCurvatures(line)[end];
    const there = endCurvatures(other)[otherEnd];
    // Both are seen leaving the joint, so a smooth way through has opposite signs.
    const jump = Math.abs(here + there);
    return jump > NO_JUMP ? [{ s: end === "start" ? 0 : line.path.length, change: jump, length: 0 }] : [];
  });
}
