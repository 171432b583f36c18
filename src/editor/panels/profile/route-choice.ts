/** Which route the profile shows: a climb between decks, the track in hand, or a way between two named places. */
import { type Climb, climbName, climbsOf, longestTrack, routeOfClimb } from "../../../exchange/shown-route.js";
import type { Thing } from "../../../drafting/thing.js";
import type { Layout } from "../../../layout/layout.js";
import { placesNamed } from "../../../layout/place-names.js";
import { findRoute, type Route } from "../../../layout/route.js";
import type { Id, Plan } from "../../../plan/schema.js";
import type { Reading } from "../../../readings/reading.js";
import { trackName } from "../details/names.js";

export type RouteChoice =
  | Climb
  | { readonly kind: "track" }
  | { readonly kind: "between"; readonly from: string; readonly to: string };

export type ChosenRoute =
  | { readonly ok: true; readonly route: Route; readonly name: string }
  | { readonly ok: false; readonly message: string };

export const CHOOSE_START = "Choose where the route starts.";

/** What is shown before anything is chosen: the first climb, else the track in hand. */
export const firstChoice = (readings: readonly Reading[]): RouteChoice => climbsOf(readings)[0] ?? { kind: "track" };

export function sameChoice(a: RouteChoice, b: RouteChoice): boolean {
  if (a.kind === "climb") return b.kind === "climb" && a.lower === b.lower && a.upper === b.upper;
  if (a.kind === "between") return b.kind === "between" && a.from === b.from && a.to === b.to;
  return b.kind === a.kind;
}

export function chosenRoute(layout: Layout, choice: RouteChoice, selection: readonly Thing[]): ChosenRoute {
  const { plan } = layout;
  if (choice.kind === "climb") {
    const name = climbName(plan, choice);
    return shown(routeOfClimb(layout, choice), name, `No train gets from ${name} without reversing.`);
  }
  if (choice.kind === "track") {
    const id = trackInHand(layout, selection);
    const line = id === undefined ? undefined : layout.lines.get(`track:${id}`);
    if (!line || id === undefined) return { ok: false, message: CHOOSE_START };
    const { length } = line.path;
    return shown({ stretches: [{ line: line.key, from: 0, to: length }], length }, trackName(plan, id), CHOOSE_START);
  }
  const from = choice.from.trim();
  const to = choice.to.trim();
  if (from === "") return { ok: false, message: CHOOSE_START };
  const begins = placesNamed(layout, from);
  if (begins.length === 0) return { ok: false, message: `Nothing with track is called “${from}”.` };
  if (to === "") return { ok: false, message: "Choose where it ends." };
  const ends = placesNamed(layout, to);
  if (ends.length === 0) return { ok: false, message: `Nothing with track is called “${to}”.` };
  const message = `No train gets from ${from} to ${to} without reversing.`;
  return shown(findRoute(layout, begins, ends), `${from} to ${to}`, message);
}

const shown = (route: Route | undefined, name: string, message: string): ChosenRoute =>
  route && route.length > 0 ? { ok: true, route, name } : { ok: false, message };

/** The track selected, or that of what is selected; else the longest main, else the longest track. */
function trackInHand(layout: Layout, selection: readonly Thing[]): Id | undefined {
  const { plan } = layout;
  for (const thing of selection) {
    if (thing.kind !== "record") continue;
    if (thing.collection === "tracks") return thing.id;
    if (thing.collection === "pins") return plan.pins[thing.id]?.track;
    if (thing.collection === "turnouts") return plan.turnouts[thing.id]?.on;
  }
  return longestTrack(layout);
}

/** Names a route may start and end at: places on the sheet first, then decks, then tracks. */
export function namedPlaces(plan: Plan): string[] {
  const names = [
    ...Object.values(plan.labels).map(({ text }) => text),
    ...Object.values(plan.decks).map(({ name }) => name),
    ...Object.entries(plan.tracks).map(([id, { name }]) => name ?? id),
  ];
  return [...new Set(names.filter((name) => name.trim() !== ""))];
}
