/**
 * Where trains run: closed circuits on each deck and across decks, how many can be run at once with every turnout left as
 * it lies, the longest way without reversing, and where a train can be turned. Nothing limits them.
 */
import type { Millimetres } from "../geometry/units.js";
import { circuitsOf, MOST_CIRCUITS } from "../layout/circuits.js";
import type { Layout } from "../layout/layout.js";
import { longestWay } from "../layout/longest-way.js";
import { recordsInHand } from "../layout/options.js";
import { type Run, sectionOf, sectionsOf } from "../layout/sections.js";
import { turningPlaces } from "../layout/turning.js";
import type { Place, Reading } from "./reading.js";
import { MOST_PLACES, placeOn, type Rule } from "./rule.js";
import { lengthOfRuns, placeOnRuns } from "./runs-of-track.js";

interface Circuit {
  readonly length: Millimetres;
  readonly place: Place;
  readonly decks: string;
}

export const runs: Rule = {
  id: "runs",
  take({ layout }) {
    if (layout.lines.size === 0) return [];
    const { circuits, all, together, most } = circuitsOf(layout.network);
    const found = circuits.flatMap((lap) => circuitOf(layout, lap));
    found.sort((p, q) => q.length - p.length || (p.place.thing < q.place.thing ? -1 : 1));
    const byDecks = new Map<string, number>();
    for (const { decks } of found) byDecks.set(decks, (byDecks.get(decks) ?? 0) + 1);
    const turning = turningIn(layout);
    const way = longestWay(layout.network);
    const count = (value: number) => ({ value, unit: "count" }) as const;
    const reading: Reading = {
      id: "runs",
      label: "Circuits to run on",
      value: circuits.length,
      unit: "count",
      limit: undefined,
      bound: undefined,
      verdict: "none",
      places: [...turning, ...found.map(({ place }) => place)].slice(0, MOST_PLACES),
      source: [
        "found on the network, without reversing",
        ...(all ? [] : [`there are more: no further than ${MOST_CIRCUITS} circuits are told apart`]),
        ...(most ? [] : ["more may be run at once"]),
      ].join("; "),
      figures: {
        ...Object.fromEntries(
          [...byDecks].sort(([a], [b]) => (a < b ? -1 : 1)).map(([name, n]) => [`circuits ${name}`, count(n)]),
        ),
        "at once, no turnout thrown": count(together.length),
        ...(way && { "longest way": { value: way.length, unit: "mm" } as const }),
        "places to turn": count(turning.length),
      },
    };
    return [reading];
  },
};

function circuitOf(layout: Layout, lap: readonly Run[]): Circuit[] {
  const place = placeOnRuns(layout, lap, 0);
  if (!place) return [];
  const decks = decksOf(layout, lap);
  const length = lengthOfRuns(layout, lap);
  return [{ length, decks, place: placeOn(place.line, place.s, length, `circuit ${decks}`) }];
}

/** `on Lower`, or `across Lower and Upper`. */
function decksOf({ plan, lines, network }: Layout, lap: readonly Run[]): string {
  const { sections } = sectionsOf(network);
  const decks = new Set<string>();
  for (const run of lap) {
    for (const { line } of sections[sectionOf(run)]?.edges ?? []) {
      const deck = lines.get(line)?.deck ?? "";
      decks.add(plan.decks[deck]?.name ?? deck);
    }
  }
  const names = [...decks].sort();
  return names.length > 1 ? `across ${names.slice(0, -1).join(", ")} and ${names.at(-1)}` : `on ${names[0] ?? ""}`;
}

/** Loops, wyes and turntables. */
function turningIn(layout: Layout): Place[] {
  const words = { loop: "a train turns on this loop", wye: "a train turns on this wye, reversing" } as const;
  const rounds = turningPlaces(layout.network).flatMap(({ kind, round }): Place[] => {
    const section = round[0] ?? 0;
    const length = lengthOfRuns(
      layout,
      round.map((i) => 2 * i),
    );
    const place = placeOnRuns(layout, [2 * section], lengthOfRuns(layout, [2 * section]) / 2);
    return place ? [placeOn(place.line, place.s, length, words[kind])] : [];
  });
  const tables = recordsInHand(layout.plan, layout.plan.turntables).flatMap(([id, { on, end }]): Place[] => {
    const line = layout.lines.get(`track:${on}`);
    if (!line) return [];
    const place = placeOn(line, end === "start" ? 0 : line.path.length, undefined, "an engine turns on this turntable");
    return [{ ...place, thing: `turntables.${id}` }];
  });
  return [...rounds, ...tables].sort((p, q) => (p.value ?? 0) - (q.value ?? 0) || (p.thing < q.thing ? -1 : 1));
}
