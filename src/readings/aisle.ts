/**
 * Aisles: how wide the way from the doorways to every place where people work is at its narrowest, with gates open.
 * Below the least aisle it fails. What is asked beyond that is advice, and a place is held to one piece of it alone:
 *
 * - back to back: a bench or gate on both sides of the narrow place, so that people at work on both stand in it at once;
 * - two pass: one side of it at most is a bench, and there is no other way to what lies beyond, so that those who come
 *   and go meet in it;
 * - work: every other narrow place, those there is a wider way round among them;
 * - entrance: the free depth in front of each doorway, over its whole width.
 *
 * Benches are taken to have work on them whether track is laid yet or not. A last reading names what is only reached
 * through a gate, or by ducking under.
 */
import type { Gap } from "../geometry/gaps.js";
import type { Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import { type PreparedArea, prepareArea } from "../geometry/area-distance.js";
import { type Aisles, type Pinch, TOUCHING } from "../layout/aisles.js";
import type { PlaceBehind } from "../layout/behind.js";
import { type Barrier, depthBefore, type Floor } from "../layout/floor.js";
import type { Layout } from "../layout/layout.js";
import type { Plan, Setting } from "../plan/schema.js";
import { settingOf } from "../plan/settings.js";
import { WALK_UNDER, wayUnder } from "../standards/people.js";
import { whileSame } from "./carry.js";
import type { Place, Reading, Verdict } from "./reading.js";
import { remember } from "./remember.js";
import { MOST_PLACES, type Rule } from "./rule.js";
import { judge } from "./verdict.js";
import { aislesOf, CAUTION, floorOf, hasBenches, placesBehindOf } from "./walkable.js";

export const aisle: Rule = {
  id: "aisle",
  take: whileSame(
    ({ plan, layout }) => [hasBenches(layout) ? floorOf(layout) : undefined, plan.standards] as const,
    ({ plan, layout }, [floor]) => {
      if (!floor) return [];
      const found = aislesOf(floor);
      const { work, pass, back } = advisedOf(floor);
      const entrances = entrancesOf(floor, settingOf(plan, "aisleBackToBack").value);
      const least = settingOf(plan, "aisle");
      return [
        reading(plan, undefined, "Aisle, narrowest way", least, narrowestOf(floor, found), true),
        reading(plan, "work", "Aisle to work in", settingOf(plan, "aisleWork"), work),
        reading(plan, "pass", "Aisle where two pass", settingOf(plan, "aislePass"), pass),
        reading(plan, "back", "Aisle, back to back", settingOf(plan, "aisleBackToBack"), back),
        reading(plan, "entrance", "Aisle at the entrance", settingOf(plan, "aisleBackToBack"), entrances),
        behindReading(placesBehindOf(floor), firstDeck(layout)),
      ].flatMap((r) => r ?? []);
    },
  ),
};

/** Floor of that width somewhere. */
interface Narrow {
  readonly value: Millimetres;
  readonly place: Place;
}

/** Held to a limit that fails, or to advice that is followed or not. */
function reading(
  plan: Plan,
  scope: string | undefined,
  label: string,
  limit: Setting<number>,
  narrow: readonly Narrow[],
  fails = false,
): Reading | undefined {
  const verdictOf = (value: Millimetres): Verdict => {
    const verdict = judge(value, limit.value, "least", fails ? plan.standards.tight.value : 0);
    return fails || verdict !== "fails" ? verdict : "tight";
  };
  const [worst, ...rest] = [...narrow].sort(byValue);
  if (!worst) return undefined;
  const noted = [worst, ...rest.filter(({ value }) => verdictOf(value) !== "clear")];
  return {
    id: "aisle",
    ...(scope !== undefined && { scope }),
    label,
    value: worst.value,
    unit: "mm",
    limit: limit.value,
    bound: "least",
    verdict: verdictOf(worst.value),
    places: noted.slice(0, MOST_PLACES).map(({ place }) => place),
    source: `${limit.source}; ${CAUTION}`,
    ...(limit.reason !== undefined && { reason: limit.reason }),
  };
}

/** A thousandth of a millimetre decides nothing: then the place does, so that the order never changes. */
const byValue = (a: Narrow, b: Narrow): number =>
  Math.round((a.value - b.value) * 1000) || a.place.point.x - b.place.point.x || a.place.point.y - b.place.point.y;

/** The narrowest place on the way to each part, each place once. */
const narrowestOf = (floor: Floor, { parts }: Aisles): Narrow[] => {
  const sides = sidesOf(floor);
  const seen = new Set<string>();
  return parts.flatMap(({ width, narrowest, spot }): Narrow[] => {
    if (width === 0) return [];
    const point = narrowest ? middleOf(narrowest) : spot;
    const key = `${point.x} ${point.y}`;
    if (seen.has(key)) return [];
    seen.add(key);
    const ends = narrowest ? sides(narrowest) : nearestThings(floor, spot, width);
    return [{ value: width, place: placeAt(point, width, ends) }];
  });
};

interface Advised {
  readonly work: readonly Narrow[];
  readonly pass: readonly Narrow[];
  readonly back: readonly Narrow[];
}

const advisedOf = remember((floor: Floor): Advised => {
  const sides = sidesOf(floor);
  const advised = { work: [] as Narrow[], pass: [] as Narrow[], back: [] as Narrow[] };
  const { parts, pinches } = aislesOf(floor);
  for (const pinch of pinches) {
    const ends = sides(pinch.gap);
    const place = placeAt(middleOf(pinch.gap), pinch.gap.width, ends, pinch.onWay ? "" : ", a wider way leads round");
    advised[adviceFor(pinch, ends)].push({ value: pinch.gap.width, place });
  }
  for (const { width, narrowest, spot } of parts) {
    if (narrowest || width === 0) continue;
    advised.work.push({ value: width, place: placeAt(spot, width, nearestThings(floor, spot, width)) });
  }
  return advised;
});

function adviceFor({ onlyWay }: Pinch, ends: Ends): keyof Advised {
  if (ends.every((end) => end !== undefined && end.kind !== "obstacle")) return "back";
  return onlyWay ? "pass" : "work";
}

/** What stands at both ends of a gap: nothing for the room's walls. */
type Ends = readonly [Barrier | undefined, Barrier | undefined];

const preparedBarrier = remember(({ area }: Barrier): PreparedArea => prepareArea(area));

/** Ends of gaps lie this near to what they end at: rounding of areas, and what touching takes. */
const AT: Millimetres = 5 * TOUCHING;

const sidesOf = remember(({ barriers }: Floor) => {
  const at = (p: Point): Barrier | undefined => barriers.find((b) => preparedBarrier(b).nearestEdge(p, AT));
  return ({ a, b }: Gap): Ends => [at(a.point), at(b.point)];
});

/** The barriers a disc in the middle of a part touches. */
function nearestThings({ barriers }: Floor, spot: Point, width: Millimetres): Ends {
  const [a, b] = barriers.filter((barrier) => preparedBarrier(barrier).nearestEdge(spot, width / 2 + 1));
  return [a, b];
}

const middleOf = ({ a, b }: Gap): Point => ({ x: (a.point.x + b.point.x) / 2, y: (a.point.y + b.point.y) / 2 });

function placeAt(point: Point, value: Millimetres, [a, b]: Ends, more = ""): Place {
  const named = a ?? b;
  const [first, second] = [a?.name ?? "the wall", b?.name ?? "the wall"].sort((p, q) => (p < q ? -1 : 1));
  const note = (first === second ? `within ${first}` : `between ${first} and ${second}`) + more;
  return { deck: named?.deck ?? "", point, thing: named?.thing ?? "room", value, note };
}

function entrancesOf(floor: Floor, most: Millimetres): Narrow[] {
  return floor.doorways.map((doorway) => {
    // Looked for half as far again, so that one that is wide enough has a value too.
    const { depth, point } = depthBefore(doorway, floor.open, 1.5 * most);
    const place = {
      deck: "",
      point,
      thing: `room.openings.${doorway.id}`,
      value: depth,
      note: `before the ${doorway.name}`,
    };
    return { value: depth, place };
  });
}

const firstDeck = ({ plan }: Layout): string => Object.keys(plan.decks)[0] ?? "";

/** Gates are there to be opened; ducking under is advised against, and told, but fails nothing. */
function behindReading(behind: readonly PlaceBehind[], deck: string): Reading | undefined {
  const [first] = behind;
  if (!first) return undefined;
  const ducked = behind.filter(({ how }) => how !== "gate");
  const heights = behind.map(({ barrier }) => barrier?.under ?? 0);
  const places = behind.map(({ how, point, barrier }): Place => {
    const under = barrier?.under ?? 0;
    const note =
      how === "none"
        ? "no way in"
        : how === "gate"
          ? `through ${barrier?.name ?? "a gate"}, ${wayUnder(under)} when it is closed`
          : `${wayUnder(under)} below ${barrier?.name ?? "a bench"}`;
    return { deck: barrier?.deck ?? deck, point, thing: barrier?.thing ?? "room", value: under, note };
  });
  const worstFirst = places
    .map((place, i) => ({ place, gate: behind[i]?.how === "gate" }))
    .sort((a, b) => Number(a.gate) - Number(b.gate) || (a.place.value ?? 0) - (b.place.value ?? 0));
  return {
    id: "aisle",
    scope: "duck",
    label: "Places behind gates and duckunders",
    value: Math.min(...(ducked.length > 0 ? ducked.map(({ barrier }) => barrier?.under ?? 0) : heights)),
    unit: "mm",
    limit: ducked.length > 0 ? WALK_UNDER : undefined,
    bound: ducked.length > 0 ? "least" : undefined,
    verdict: ducked.length > 0 ? "tight" : "none",
    places: worstFirst.slice(0, MOST_PLACES).map(({ place }) => place),
    source: `common practice, no source: under 40 in crawl, to 54 in duckunder, to 76 in nod-under; ${CAUTION}`,
  };
}
