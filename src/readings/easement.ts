/**
 * Easements: how fast curvature changes. A curve of the class's least radius asks for the class's easement; a gentler
 * one for as much less, which is the same greatest rate of change. The value is the easement length as it would be on a
 * curve of the least radius; where curvature jumps it is 0. Lead curves of turnouts are never eased and are not asked,
 * nor curves so wide that nobody could lay the difference.
 */
import { limitsOf } from "../plan/class-limits.js";
import type { Line } from "../layout/line.js";
import type { Plan } from "../plan/schema.js";
import { easementShift, NEM_113_DISPENSABLE } from "../standards/easements.js";
import { whileSame } from "./carry.js";
import { endCurvatures } from "./joined-ends.js";
import { foundByLine, joinedLists, type LineContext } from "./line-context.js";
import { remember } from "./remember.js";
import { type Measured, type Rule, readingByClass } from "./rule.js";

/** An easement that would move the curve by less than this is finer than track is laid by hand, mm. */
const LEAST_SHIFT = 0.5;
/** Changes of curvature below this (a radius of 10 km met at once) are rounding. */
const NO_CHANGE = 1e-7;

interface Change {
  readonly s: number;
  /** Change of curvature and the length it takes. */
  readonly change: number;
  readonly length: number;
}

const changesOf = remember((line: Line): Change[] => {
  if (line.kind !== "track") return [];
  const changes: Change[] = [];
  const { segments, stations } = line.path;
  segments.forEach((g, i) => {
    const begin = stations[i] ?? 0;
    const before = segments[i - 1];
    const jump = before ? Math.abs(g.k0 - before.k1) : 0;
    if (jump > NO_CHANGE) changes.push({ s: begin, change: jump, length: 0 });
    const change = Math.abs(g.k1 - g.k0);
    if (change > NO_CHANGE) changes.push({ s: begin + g.length / 2, change, length: g.length });
  });
  return changes;
});

export const easement: Rule = {
  id: "easement",
  take: whileSame(
    ({ plan, layout }) => [easementsByLine(layout, plan.standards, plan.scale), plan.standards] as const,
    (input, [easements]) => {
      const head = { id: "easement", label: "Easement", unit: "mm", bound: "least", margin: 0 } as const;
      return readingByClass(input, head, (limits) => limits.easement, joinedLists(easements));
    },
  ),
};

const easementsByLine = foundByLine(
  ({ line, joined }: LineContext, standards: Plan["standards"], scale: Plan["scale"]): readonly Measured[] => {
    const limits = limitsOf({ standards }, line.class);
    if (limits.easement.value <= 0) return [];
    const asked = limits.easement.value * limits.radius.value;
    return [...changesOf(line), ...jumpsAtEnds(standards, line, joined)].flatMap(
      ({ s, change, length }): Measured[] => {
        if (dispensable({ standards, scale }, asked, change)) return [];
        const value = length / (change * limits.radius.value);
        return [length > 0 ? { value, line, s } : { value, line, s, note: "curvature jumps" }];
      },
    );
  },
);

/**
 * Whether a change of curvature needs no easing: where the easement asked for, `asked` (length times radius) over the
 * radius, would hardly move the curve; or by NEM 113 (2016, read), which lets curves of over 60 gauges do without.
 */
function dispensable({ standards, scale }: Pick<Plan, "standards" | "scale">, asked: number, change: number): boolean {
  const radius = 1 / change;
  if (standards.body === "NEM" && radius > NEM_113_DISPENSABLE * scale.gauge) return true;
  return easementShift(asked / radius, radius) < LEAST_SHIFT;
}

/** Jumps where a track begins or ends at another, of those that are this line's to tell. */
function jumpsAtEnds(standards: Plan["standards"], line: Line, joined: LineContext["joined"]): Change[] {
  if (line.kind !== "track") return [];
  return joined.flatMap(({ end, other, otherEnd }) => {
    const here = endCurvatures(line)[end];
    const there = endCurvatures(other)[otherEnd];
    if (other === line ? end === "end" : other.kind === "track" && !tells(standards, line, here, other, there))
      return [];
    // Both are seen leaving the joint, so a smooth way through has opposite signs.
    const jump = Math.abs(here + there);
    return jump > NO_CHANGE ? [{ s: end === "start" ? 0 : line.path.length, change: jump, length: 0 }] : [];
  });
}

/** A jump is the matter of the sharper of two curves that meet; of two alike, of the line that asks for more. */
function tells(standards: Plan["standards"], line: Line, here: number, other: Line, there: number): boolean {
  const sharper = Math.abs(here) - Math.abs(there);
  if (Math.abs(sharper) > NO_CHANGE) return sharper > 0;
  const more = limitsOf({ standards }, line.class).easement.value - limitsOf({ standards }, other.class).easement.value;
  return more === 0 ? line.key < other.key : more > 0;
}
