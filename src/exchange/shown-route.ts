/** The route whose profile stands for a plan where nobody chose one: its first climb between decks, else its longest main. */
import type { Layout } from "../layout/layout.js";
import { placesOfDeck } from "../layout/place-names.js";
import { findRoute, type Route } from "../layout/route.js";
import type { Id, Plan } from "../plan/schema.js";
import type { Reading } from "../readings/reading.js";

export interface Climb {
  readonly kind: "climb";
  readonly lower: Id;
  readonly upper: Id;
}

/** The climbs there are, as the readings found them. */
export const climbsOf = (readings: readonly Reading[]): Climb[] =>
  readings.flatMap((reading) => {
    const [lower, upper] = reading.scope?.split("/") ?? [];
    return reading.id === "climb" && reading.value !== undefined && lower !== undefined && upper !== undefined
      ? [{ kind: "climb", lower, upper }]
      : [];
  });

export const climbName = (plan: Plan, { lower, upper }: Pick<Climb, "lower" | "upper">): string =>
  `${plan.decks[lower]?.name ?? lower} to ${plan.decks[upper]?.name ?? upper}`;

/** Undefined where no train gets up without reversing. */
export const routeOfClimb = (layout: Layout, { lower, upper }: Pick<Climb, "lower" | "upper">): Route | undefined =>
  findRoute(layout, placesOfDeck(layout, lower), placesOfDeck(layout, upper));

/** The longest main, else the longest track. */
export const longestTrack = (layout: Layout): Id | undefined =>
  [...layout.lines.values()]
    .filter(({ kind }) => kind === "track")
    .sort((a, b) => Number(b.class === "main") - Number(a.class === "main") || b.path.length - a.path.length)[0]?.id;

export interface ShownRoute {
  readonly route: Route;
  readonly from: string;
  readonly to: string;
}

/** Undefined where there is no track of any length. */
export function shownRoute(layout: Layout, readings: readonly Reading[]): ShownRoute | undefined {
  const { plan } = layout;
  for (const climb of climbsOf(readings)) {
    const route = routeOfClimb(layout, climb);
    const [from, to] = [climb.lower, climb.upper].map((deck) => plan.decks[deck]?.name ?? deck);
    if (route && route.length > 0) return { route, from: from ?? "", to: to ?? "" };
  }
  const id = longestTrack(layout);
  const line = id === undefined ? undefined : layout.lines.get(`track:${id}`);
  if (!line || line.path.length === 0) return undefined;
  const { length } = line.path;
  const name = plan.tracks[line.id]?.name ?? line.id;
  return { route: { stretches: [{ line: line.key, from: 0, to: length }], length }, from: name, to: "its end" };
}
