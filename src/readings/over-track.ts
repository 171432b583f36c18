/**
 * Over track: the clear height over every railhead up to whatever passes above it: another track with the structure
 * that carries it, or the deck above. The limit is the clearance asked for, or the longest car's height if that is more.
 */
import { type PreparedArea, prepareArea } from "../geometry/area-distance.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import type { Meeting, NearPlace } from "../layout/meetings.js";
import { heightOn } from "../layout/place-names.js";
import type { DeckSpace } from "../layout/space.js";
import type { Plan } from "../plan/schema.js";
import { throwToward } from "./envelope.js";
import type { Reading } from "./reading.js";
import { limitedReading, type Measured, type Rule, remember } from "./rule.js";

/** A railhead this near a deck's lies on the deck and is carried by it, mm. */
const ON_DECK = 1;

export const overTrack: Rule = {
  id: "over-track",
  take({ plan, layout }) {
    const tracks = layout.meetings.flatMap((meeting) => trackOverTrack(plan, layout, meeting));
    const decks = [...layout.lines.values()].flatMap((line) => decksOver(plan, layout, line));
    return [
      reading(plan, "track", "Clear under track", tracks),
      reading(plan, "deck", "Clear under deck", decks),
    ].filter((r) => r.value !== undefined);
  },
};

function reading(plan: Plan, scope: string, label: string, measured: readonly Measured[]): Reading {
  const { overTrack: asked, longestCar } = plan.standards;
  const limit =
    asked.value >= longestCar.value.height
      ? asked
      : { value: longestCar.value.height, source: `height of the longest car: ${longestCar.source}` };
  return limitedReading(plan, { id: "over-track", scope, label, unit: "mm", bound: "least", limit }, measured);
}

function trackOverTrack(plan: Plan, layout: Layout, meeting: Meeting): Measured[] {
  const a = layout.lines.get(meeting.a);
  const b = layout.lines.get(meeting.b);
  if (!a || !b) return [];
  const car = plan.standards.longestCar.value;
  const reach = (plan.standards.roadbedWidth.value + car.width) / 2;
  let worst: Measured | undefined;
  for (const place of meeting.places) {
    if (Math.abs(place.rise) <= car.height / 2) continue;
    const { lower, s, upper, su } = ordered(a, b, place);
    if (place.apart > reach + throwToward(lower, car, s, upper, su)) continue;
    const value = Math.abs(place.rise) - structureUnder(plan, layout, upper, su);
    if (!worst || value < worst.value) worst = { value, line: lower, s, note: `under ${upper.id}` };
  }
  return worst ? [worst] : [];
}

function ordered(a: Line, b: Line, { sa, sb, rise }: NearPlace): { lower: Line; s: number; upper: Line; su: number } {
  return rise > 0 ? { lower: a, s: sa, upper: b, su: sb } : { lower: b, s: sb, upper: a, su: sa };
}

/** What carries a railhead: its deck where it lies on it, else the roadbed of a climb. */
function structureUnder(plan: Plan, layout: Layout, line: Line, s: number): number {
  const deck = plan.decks[line.deck];
  const onDeck = deck && Math.abs(heightOn(layout, line.key, s) - deck.height) <= ON_DECK;
  return onDeck ? deck.thickness : plan.standards.trackStructure.value;
}

const preparedBench = remember((space: DeckSpace): PreparedArea => prepareArea(space.bench));

/** The worst place of a line under each deck above it. */
function decksOver(plan: Plan, layout: Layout, line: Line): Measured[] {
  const found: Measured[] = [];
  const { samples } = line;
  for (const [id, deck] of Object.entries(plan.decks)) {
    const space = layout.space.decks.get(id);
    if (!space || space.bench.length === 0) continue;
    const own = id === line.deck;
    const under = preparedBench(space);
    let worst: Measured | undefined;
    for (let i = 0; i < samples.count; i++) {
      const s = samples.s[i] ?? 0;
      const depth = deck.height - heightOn(layout, line.key, s);
      // Track within the structure's own depth is a ramp let into the deck, not something under it.
      if (depth <= Math.max(deck.thickness, ON_DECK) || (worst && depth - deck.thickness >= worst.value)) continue;
      if (own && depth <= deck.thickness + ON_DECK) continue;
      if (under.contains({ x: samples.x[i] ?? 0, y: samples.y[i] ?? 0 })) {
        worst = { value: depth - deck.thickness, line, s, note: `under ${deck.name}` };
      }
    }
    if (worst) found.push(worst);
  }
  return found;
}
