/**
 * Hidden track: how much there is on every deck, the turnouts in it, and how far in from where people stand it lies. The
 * trade keeps turnouts where they are seen; of those that are hidden it asks for the least number it advises there and
 * for reach, so that a hidden turnout short of either is tight. Nothing limits hidden track as such.
 */
import { poseAt } from "../geometry/path.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Deck, Id, Plan } from "../plan/schema.js";
import { reachAt, settingOf } from "../plan/settings.js";
import { cite } from "../standards/cited.js";
import { LEAST_HIDDEN_TURNOUT } from "../standards/operation.js";
import { hiddenAt } from "./hidden-places.js";
import { decksByHeight, distanceIn, reaching } from "./reach.js";
import type { Place, Reading, Verdict } from "./reading.js";
import { type Measured, MOST_PLACES, placeOf, type Rule } from "./rule.js";
import { turnoutNumbers } from "./turnout-size.js";
import { judge } from "./verdict.js";

export const hidden: Rule = {
  id: "hidden",
  take({ plan, layout }) {
    if (layout.hidden.length === 0) return [];
    const lengths = lengthsByDeck(layout);
    const turnouts = hiddenTurnouts(plan, layout);
    const verdict: Verdict =
      turnouts.length === 0 ? "none" : turnouts.some(({ faults }) => faults.length > 0) ? "tight" : "clear";
    const places = turnouts.slice(0, MOST_PLACES).map(({ m, faults }): Place => {
      const note = faults.length > 0 ? `hidden, ${faults.join(" and ")}` : "hidden";
      return placeOf({ ...m, note });
    });
    const reading: Reading = {
      id: "hidden",
      label: "Hidden track",
      value: [...lengths.values()].reduce((sum, length) => sum + length, 0),
      unit: "mm",
      limit: undefined,
      bound: undefined,
      verdict,
      places,
      source: `${cite(LEAST_HIDDEN_TURNOUT)}, within reach, or better seen`,
      figures: figuresOf(plan, lengths, turnouts),
    };
    return [reading];
  },
};

function lengthsByDeck({ hidden: stretches, lines }: Layout): Map<Id, Millimetres> {
  const lengths = new Map<Id, Millimetres>();
  for (const { line, from, to } of stretches) {
    const deck = lines.get(line)?.deck ?? "";
    lengths.set(deck, (lengths.get(deck) ?? 0) + to - from);
  }
  return lengths;
}

interface HiddenTurnout {
  readonly m: Measured;
  /** How far in from where one stands, counted as reach counts it. */
  readonly inward: Millimetres | undefined;
  /** What the trade advises against. */
  readonly faults: readonly string[];
}

/** Turnouts and slips whose points are hidden, the worst first; `value` of each is its frog number. */
function hiddenTurnouts(plan: Plan, layout: Layout): HiddenTurnout[] {
  const by = reaching(plan, layout);
  const rows = settingOf(plan, "reach").value;
  const found = turnoutNumbers(layout).flatMap((m): HiddenTurnout[] => {
    if (!hiddenAt(layout, m.line, m.s)) return [];
    const inward = by && distanceIn(by.from, poseAt(m.line.path, m.s)) + by.less;
    const deck = plan.decks[m.line.deck];
    const far = by && deck && judge(inward, reachAt(rows, deck.height), "most", 0) === "fails";
    const small = judge(m.value, LEAST_HIDDEN_TURNOUT.value, "least", 0) === "fails";
    return [{ m, inward, faults: [...(small ? ["small"] : []), ...(far === true ? ["out of reach"] : [])] }];
  });
  return found.sort(
    (a, b) =>
      b.faults.length - a.faults.length || a.m.value - b.m.value || ((a.m.thing ?? "") < (b.m.thing ?? "") ? -1 : 1),
  );
}

function figuresOf(
  plan: Plan,
  lengths: ReadonlyMap<Id, Millimetres>,
  turnouts: readonly HiddenTurnout[],
): NonNullable<Reading["figures"]> {
  const figures: Record<string, { value: number; unit: "mm" | "count" }> = {};
  const decks: [Id, Pick<Deck, "name">][] = [...decksByHeight(plan)];
  for (const [id, { name }] of decks) {
    const length = lengths.get(id);
    const key = `on ${name}`;
    if (length !== undefined) figures[key in figures ? `on ${id}` : key] = { value: length, unit: "mm" };
  }
  figures["turnouts"] = { value: turnouts.length, unit: "count" };
  const inward = turnouts.flatMap((turnout) => turnout.inward ?? []);
  if (inward.length > 0) figures["farthest turnout in"] = { value: Math.max(...inward), unit: "mm" };
  return figures;
}
