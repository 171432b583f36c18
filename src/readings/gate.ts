/**
 * Gates: the tracks and decks each carries; whether they cross its joints square and straight; what passing below the
 * closed gate asks of people; whether a swing gate swings free; and the track before each joint that can be made dead
 * when it is open, up to the first turnout. Where that is less than stops an engine, or less than a train pushed back is
 * long, the dead rails must take in a turnout and what leads to it, which is tight; so is track on a curve or askew at a
 * joint. A turnout on the gate or across its joint fails, and so does a gate that cannot swing open.
 *
 * A gate carries what runs over its outline at its deck's height or above, up to the next bench over it.
 */
import { poseAt } from "../geometry/path.js";
import type { Degrees, Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import { ON_DECK } from "../layout/on-deck.js";
import { recordsInHand } from "../layout/options.js";
import { heightAt } from "../layout/profile.js";
import type { Deck, Gate, Id, Plan } from "../plan/schema.js";
import { settingOf } from "../plan/settings.js";
import { wayUnder } from "../standards/people.js";
import { deckBenches } from "./deck-benches.js";
import { type GatePass, passesOver } from "./gate-passes.js";
import { swingOf } from "./gate-swing.js";
import type { Place, Reading, Verdict } from "./reading.js";
import { MOST_PLACES, placeOn, type Rule } from "./rule.js";
import { turnoutAhead, turnoutStretches } from "./turnout-stretches.js";
import { judge } from "./verdict.js";
import { CAUTION, floorOf } from "./walkable.js";

/** Within so many degrees of square a joint is cut square. */
const SQUARE: Degrees = 5;
/** A stretch of a turnout this short on the gate only touches it. */
const TOUCHES: Millimetres = 0.5;

export const gate: Rule = {
  id: "gate",
  take({ plan, layout }) {
    return recordsInHand(plan, plan.gates).flatMap(([id, record]) => {
      const deck = plan.decks[record.deck];
      return deck ? [gateReading(plan, layout, id, record, deck)] : [];
    });
  },
};

interface Found {
  readonly verdict: Verdict;
  readonly place: Place;
}

/** Places with the least track before the joint first; those of another kind after them. */
const byValue = (a: Place, b: Place): number => (a.value ?? Number.MAX_VALUE) - (b.value ?? Number.MAX_VALUE);

const RANK = { fails: 0, tight: 1, clear: 2, none: 3 } as const;

function gateReading(plan: Plan, layout: Layout, id: Id, record: Gate, deck: Deck): Reading {
  const name = record.name ?? id;
  const passes = carried(layout, record, deck);
  const dead = passes.flatMap((pass) => deadTrack(plan, layout, pass));
  const value = dead.length > 0 ? Math.min(...dead.map((d) => d.place.value ?? 0)) : undefined;
  const swing = record.kind === "swing" ? swingOf(record, floorOf(layout)) : undefined;
  const under = Math.max(0, deck.height - deck.thickness);
  const found: Found[] = [
    ...turnoutsOn(layout, passes),
    ...dead.filter(({ verdict }) => verdict !== "clear"),
    ...passes.flatMap(joints),
    ...(swing && value !== undefined ? swinging(record, id, swing) : []),
  ];
  found.sort((a, b) => RANK[a.verdict] - RANK[b.verdict] || byValue(a.place, b.place));
  const closed = `when it is closed, ${wayUnder(under)}`;
  const { reason } = settingOf(plan, "gateDead");
  return {
    id: "gate",
    scope: id,
    label: `Dead track before ${name}`,
    value,
    unit: "mm",
    limit: settingOf(plan, "gateDead").value,
    bound: "least",
    verdict: value === undefined ? "none" : (found[0]?.verdict ?? "clear"),
    places: [...found.map(({ place }) => place), placeOf(record, id, closed)].slice(0, MOST_PLACES),
    source: `${settingOf(plan, "gateDead").source}; ${CAUTION}`,
    ...(reason !== undefined && { reason }),
    figures: {
      tracks: { value: new Set(passes.map(({ line }) => line.key)).size, unit: "count" },
      decks: { value: new Set(passes.map(({ line }) => line.deck)).size, unit: "count" },
      railhead: { value: deck.height, unit: "mm" },
      "clear below": { value: under, unit: "mm" },
      ...(value !== undefined && {
        "out of square": {
          value: Math.max(0, ...passes.flatMap(({ edges }) => edges.map(({ skew }) => skew))),
          unit: "degrees",
        },
      }),
      ...(swing && { "swings open": { value: swing.opens, unit: "degrees" } }),
    },
  };
}

/** The middle of a gate's corners. */
function placeOf(record: Gate, id: Id, note: string): Place {
  const n = record.outline.length;
  const sum = record.outline.reduce((a, b) => ({ x: a.x + b.x, y: a.y + b.y }));
  return { deck: record.deck, point: { x: sum.x / n, y: sum.y / n }, thing: `gates.${id}`, note };
}

function carried(layout: Layout, record: Gate, deck: Deck): GatePass[] {
  const passes = passesOver(record);
  const above = deckBenches(layout).filter((other) => other.deck.height > deck.height + ON_DECK);
  return [...layout.lines.values()].flatMap(passes).filter(({ line, from, to }) => {
    const middle = (from + to) / 2;
    const profile = layout.profiles.get(line.key);
    const height = profile ? heightAt(profile, middle) : (layout.plan.decks[line.deck]?.height ?? 0);
    if (height < deck.height - ON_DECK) return false;
    const point = poseAt(line.path, middle);
    return !above.some((other) => other.deck.height <= height + ON_DECK && other.bench.contains(point));
  });
}

/** How much track without a turnout there is before each joint, up to a train's length. */
function deadTrack(plan: Plan, layout: Layout, { line, edges }: GatePass): Found[] {
  const engine = settingOf(plan, "gateDead").value;
  const train = plan.standards.train.value;
  const most = Math.max(engine, train);
  return edges.map(({ s, way }) => {
    const ahead = turnoutAhead(layout, line, s, way, most);
    const value = ahead?.distance ?? most;
    const what = ahead?.stretch ? nameOf(plan, ahead.stretch.thing) : "a turntable";
    const length = value < engine ? "stops an engine" : "a train pushed back is long";
    const place = placeOn(line, s, value, `${what} is nearer than ${length}`);
    return { verdict: judge(value, most, "least", 0) === "clear" ? "clear" : "tight", place };
  });
}

function nameOf(plan: Plan, thing: string): string {
  const [kind, id = ""] = thing.split(".");
  return (kind === "slips" ? plan.slips[id]?.name : plan.turnouts[id]?.name) ?? id;
}

function turnoutsOn(layout: Layout, passes: readonly GatePass[]): Found[] {
  const met = new Map<string, Found>();
  for (const { line, from, to } of passes) {
    for (const stretch of turnoutStretches(layout).get(line.key) ?? []) {
      const [low, high] = [Math.max(from, stretch.from), Math.min(to, stretch.to)];
      if (high - low <= TOUCHES || met.has(stretch.thing)) continue;
      const place = placeOn(line, (low + high) / 2, undefined, "on the gate or across its joint");
      met.set(stretch.thing, { verdict: "fails", place: { ...place, thing: stretch.thing } });
    }
  }
  return [...met.values()];
}

function joints({ line, edges }: GatePass): Found[] {
  return edges.flatMap(({ s, skew, curved }): Found[] => {
    const faults = [...(skew > SQUARE ? ["out of square"] : []), ...(curved ? ["curved"] : [])];
    if (faults.length === 0) return [];
    return [{ verdict: "tight", place: placeOn(line, s, undefined, `${faults.join(" and ")} at the joint`) }];
  });
}

function swinging(record: Gate, id: Id, { opens, bevel }: NonNullable<ReturnType<typeof swingOf>>): Found[] {
  if (opens < 90)
    return [{ verdict: "fails", place: { ...placeOf(record, id, "meets something before it is open"), value: opens } }];
  if (bevel === 0) return [];
  const note = "its free end wants a bevel or a gap to swing past";
  return [{ verdict: "tight", place: { ...placeOf(record, id, note), value: bevel } }];
}
