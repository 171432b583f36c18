/**
 * Climbs: for each pair of decks, the shortest way a train can run from the level of the one to the level of the other:
 * rise, run, mean grade, ruling grade and grade felt, and where each is worst. The value is the ruling grade, held to the
 * limit of the class of track it is found on. A way that does not come to the height of both decks fails: a pin is
 * missing. Decks on one level make no climb; neither do two with another between them that no track joins.
 */
import { limitsOf } from "../plan/class-limits.js";
import type { Layout } from "../layout/layout.js";
import { slopeAt, straightHeightAt } from "../layout/profile.js";
import { findRoute, type Route, routePlaceAt, type Stretch } from "../layout/route.js";
import type { Deck, Id, Plan } from "../plan/schema.js";
import { whileSame } from "./carry.js";
import { climbEnds } from "./climb-ends.js";
import { feltPercent, feltPlaces } from "./felt-grade.js";
import { lineContexts } from "./line-context.js";
import type { Place, Reading } from "./reading.js";
import { placeOn, type Rule } from "./rule.js";
import { judge } from "./verdict.js";

/** Decks nearer in height than this are one level, mm. */
const ONE_LEVEL = 1;

export const climb: Rule = {
  id: "climb",
  take: whileSame(
    ({ plan, layout }) => [lineContexts(layout), layout.network, plan.decks, plan.standards] as const,
    ({ plan, layout }) => {
      const decks = levels(plan);
      const readings: Reading[] = [];
      const ends = decks.map(([id]) => climbEnds(layout, id));
      decks.forEach(([lowerId, lower], i) => {
        for (const [j, [upperId, upper]] of decks.entries()) {
          if (j <= i) continue;
          const route = findRoute(layout, ends[i] ?? [], ends[j] ?? []);
          const between = decks.some(
            ([, d]) => d.height > lower.height + ONE_LEVEL && d.height < upper.height - ONE_LEVEL,
          );
          if (!route && between) continue;
          readings.push(reading(plan, layout, lowerId, lower, upperId, upper, route));
        }
      });
      return readings;
    },
  ),
};

/** The lowest deck of every level: one on which trains run level onto another is not climbed to. */
function levels(plan: Plan): [Id, Deck][] {
  const scenicFirst = (deck: Deck): number => (deck.kind === "scenic" ? 0 : 1);
  const decks = Object.entries(plan.decks).sort(
    ([idA, a], [idB, b]) => a.height - b.height || scenicFirst(a) - scenicFirst(b) || (idA < idB ? -1 : 1),
  );
  return decks.filter(([, deck], i) => {
    const before = decks[i - 1];
    return !before || deck.height - before[1].height >= ONE_LEVEL;
  });
}

interface Worst {
  readonly value: number;
  readonly place: Place;
  readonly limit: ReturnType<typeof limitsOf>;
}

function reading(
  plan: Plan,
  layout: Layout,
  lowerId: Id,
  lower: Deck,
  upperId: Id,
  upper: Deck,
  route: Route | undefined,
): Reading {
  const head = {
    id: "climb",
    scope: `${lowerId}/${upperId}`,
    label: `Climb, ${lower.name} to ${upper.name}`,
    unit: "percent",
  } as const;
  if (!route) {
    const nothing = { value: undefined, limit: undefined, bound: undefined, verdict: "none", places: [] } as const;
    return { ...head, ...nothing, source: "no track joins these decks" };
  }
  const { ruling, felt } = worstOnRoute(plan, layout, route);
  const ends = [endOf(layout, route, 0, lower), endOf(layout, route, route.length, upper)] as const;
  const rise = ends[1].height - ends[0].height;
  const missed = ends.flatMap(({ place }) => (place ? [place] : []));
  const limit = ruling?.limit.grade;
  const { reason } = limit ?? {};
  const verdict = judge(ruling?.value, limit?.value, limit && "most", plan.standards.tight.value);
  return {
    ...head,
    value: ruling?.value,
    limit: limit?.value,
    bound: limit && "most",
    verdict: missed.length > 0 ? "fails" : verdict,
    places: [...missed, ...[ruling?.place, felt?.place].filter((place) => place !== undefined)],
    source: limit?.source ?? "no run between these decks",
    ...(reason !== undefined && { reason }),
    figures: {
      rise: { value: rise, unit: "mm" },
      run: { value: route.length, unit: "mm" },
      mean: { value: route.length > 0 ? (100 * rise) / route.length : 0, unit: "percent" },
      ruling: { value: ruling?.value ?? 0, unit: "percent" },
      felt: { value: felt?.value ?? 0, unit: "percent" },
    },
  };
}

/** Height of a route's end, before vertical curves, and the place of it where that is not its deck's. */
function endOf(
  layout: Layout,
  route: Route,
  distance: number,
  deck: Deck,
): { readonly height: number; readonly place?: Place } {
  const at = routePlaceAt(route, distance);
  const line = at && layout.lines.get(at.line);
  const profile = at && layout.profiles.get(at.line);
  if (!line || !profile) return { height: deck.height };
  const height = straightHeightAt(profile, at.s);
  const off = height - deck.height;
  if (Math.abs(off) <= ONE_LEVEL) return { height };
  const note = `${Math.abs(off).toFixed(1)} mm ${off < 0 ? "below" : "above"} ${deck.name}; pin its height`;
  return { height, place: placeOn(line, at.s, off, note) };
}

/** The steepest slope and the hardest felt grade, uphill or down, on a route. */
function worstOnRoute(
  plan: Plan,
  layout: Layout,
  route: Route,
): { ruling: Worst | undefined; felt: Worst | undefined } {
  let ruling: Worst | undefined;
  let felt: Worst | undefined;
  const drag = plan.standards.curveDrag.value;
  for (const stretch of route.stretches) {
    const line = layout.lines.get(stretch.line);
    const profile = layout.profiles.get(stretch.line);
    if (!line || !profile) continue;
    const limit = limitsOf(plan, line.class);
    for (const place of feltPlaces(line, profile)) {
      if (!within(stretch, place.s)) continue;
      const value = feltPercent(place, drag);
      if (!felt || value > felt.value) felt = { value, limit, place: placeOn(line, place.s, value, "felt") };
    }
    for (const s of gradeMiddles(profile.stations, stretch)) {
      const value = 100 * Math.abs(slopeAt({ ...profile, curves: [] }, s));
      if (!ruling || value > ruling.value) ruling = { value, limit, place: placeOn(line, s, value, "ruling grade") };
    }
  }
  return { ruling, felt };
}

const within = ({ from, to }: Stretch, s: number): boolean => s >= Math.min(from, to) && s <= Math.max(from, to);

/** The middle of every straight grade, of as much of it as lies in the stretch. */
function gradeMiddles(stations: readonly number[], { from, to }: Stretch): number[] {
  const [low, high] = [Math.min(from, to), Math.max(from, to)];
  const cuts = [low, ...stations.filter((s) => s > low && s < high), high];
  return cuts.slice(1).flatMap((s, i) => {
    const before = cuts[i] ?? s;
    return s > before ? [(s + before) / 2] : [];
  });
}
