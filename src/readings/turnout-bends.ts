/** How far turnouts lie from where their host changes its curve or its grade: negative where they lie within. */
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import type { Profile } from "../layout/profile.js";
import { remember, rememberPair } from "./remember.js";
import type { Measured } from "./rule.js";
import { type TurnoutStretch, turnoutStretches } from "./turnout-stretches.js";

/** Curvatures nearer than this, 1/mm, are one: what is left of easements of hand-laid and joined track. */
const ONE_CURVATURE = 1e-7;
/** A break of less than this, percent, lifts no point off its chair. */
const SLIGHT = 0.2;
/** Overlaps up to this are rounding, mm. */
const TOUCHES: Millimetres = 0.5;

interface Bend {
  readonly from: Millimetres;
  readonly to: Millimetres;
}

const easementsOf = remember((line: Line): readonly Bend[] => {
  const { segments, stations } = line.path;
  return segments.flatMap(({ k0, k1, length }, i) => {
    const from = stations[i] ?? 0;
    return Math.abs(k1 - k0) > ONE_CURVATURE ? [{ from, to: from + length }] : [];
  });
});

const verticalCurvesOf = rememberPair((_: Line, profile: Profile): readonly Bend[] =>
  profile.curves.flatMap(({ at, length, change }) =>
    length > 0 && 100 * Math.abs(change) >= SLIGHT ? [{ from: at - length / 2, to: at + length / 2 }] : [],
  ),
);

/** From a stretch to the nearest bend of its line; negative by how far the two overlap. */
function clearOf(from: Millimetres, to: Millimetres, bends: readonly Bend[]): Millimetres | undefined {
  let least: Millimetres | undefined;
  for (const bend of bends) {
    const apart = Math.max(bend.from - to, from - bend.to);
    const clear = apart < 0 && apart > -TOUCHES ? 0 : apart;
    if (least === undefined || clear < least) least = clear;
  }
  return least;
}

/** From the joint end before the points to the points, on the host; of a wye the host ends there. */
export function clearOfEasements(layout: Layout): Measured[] {
  return measuredBy(layout, ({ line, onHost }) => {
    if (!onHost || onHost.hand === "wye") return undefined;
    const { joint, at } = onHost;
    return clearOf(Math.min(joint, at), Math.max(joint, at), easementsOf(line));
  });
}

/** From joint to joint, and on diverging routes. */
export function clearOfVerticalCurves(layout: Layout): Measured[] {
  return measuredBy(layout, ({ line, from, to }) => {
    const profile = layout.profiles.get(line.key);
    return profile && to > from ? clearOf(from, to, verticalCurvesOf(line, profile)) : undefined;
  });
}

/** The least of each turnout. */
function measuredBy(layout: Layout, clear: (stretch: TurnoutStretch) => Millimetres | undefined): Measured[] {
  const worst = new Map<string, Measured>();
  for (const own of turnoutStretches(layout).values()) {
    for (const stretch of own) {
      const { line, from, to, thing, onHost } = stretch;
      const value = clear(stretch);
      const before = worst.get(thing);
      if (value === undefined || (before && !isWorse(value, line, before))) continue;
      worst.set(thing, { value, line, s: onHost?.at ?? (from + to) / 2, thing });
    }
  }
  return [...worst.values()];
}

const isWorse = (value: Millimetres, line: Line, before: Measured): boolean =>
  Math.abs(value - before.value) < TOUCHES ? line.key > before.line.key : value < before.value;
