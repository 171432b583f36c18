/**
 * Reach: how far in from the nearest place where someone can stand each track lies, in plan, held to the reach at its
 * deck's height. Where another deck hangs over it too low to stand under, or the track is hidden, it counts so much
 * farther as one reaches less there. Walls and backdrops between are not looked at.
 *
 * The trade asks for turnouts within reach always, and that is a reading of its own. Of plain track, hidden track out of
 * reach fails, since a derailment there cannot be got at; in the open it is tight: it wants a stool or a long arm.
 */
import type { PreparedArea } from "../geometry/area-distance.js";
import type { Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import { hiddenByLine } from "../layout/hidden.js";
import type { HiddenStretch, Layout } from "../layout/layout.js";
import type { Line, LineKey } from "../layout/line.js";
import type { Deck, Id, Plan } from "../plan/schema.js";
import { reachAt, settingOf } from "../plan/settings.js";
import { WALK_UNDER } from "../standards/people.js";
import { ON_DECK } from "../layout/on-deck.js";
import { type DeckBenches, deckBenches } from "./deck-benches.js";
import { whileSame } from "./carry.js";
import { isHidden, sameHidden } from "./hidden-places.js";
import { foundByLine, type LineContext } from "./line-context.js";
import type { Reading, ReadingId, Verdict } from "./reading.js";
import { remember, rememberBeside } from "./remember.js";
import { type Measured, MOST_PLACES, placeOn, type Rule } from "./rule.js";
import { judge } from "./verdict.js";
import { firstFew } from "./worst-few.js";
import { CAUTION, floorOf, hasBenches, reachAreaOf } from "./walkable.js";

/** What reach is measured by: the floor reached from, the decks overhead of each deck, and how much less one reaches there. */
export interface Reaching {
  readonly from: PreparedArea;
  readonly overhead: (deck: Id) => Overhead;
  readonly less: Millimetres;
  readonly hidden: ReadonlyMap<LineKey, readonly HiddenStretch[]>;
}

type Overhead = readonly { readonly deck: Deck; readonly bench: PreparedArea }[];

/** Undefined where there are no benches to reach over, or nowhere to stand. */
export function reaching(plan: Plan, layout: Layout): Reaching | undefined {
  if (!hasBenches(layout)) return undefined;
  const from = reachAreaOf(floorOf(layout));
  if (from.area.length === 0) return undefined;
  const overhead = overheadOf(deckBenches(layout));
  const hidden = hiddenByLine(sameHidden(layout));
  return { from, overhead: (id) => overhead(id, plan.decks[id]), less: settingOf(plan, "reachUnder").value, hidden };
}

const overheadOf = remember((benches: DeckBenches) => {
  const known = new Map<Id, Overhead>();
  return (id: Id, own: Deck | undefined): Overhead => {
    let found = known.get(id);
    if (!found) {
      found = benches.filter(
        ({ deck }) => own && deck.height > own.height + ON_DECK && deck.height - deck.thickness < WALK_UNDER,
      );
      known.set(id, found);
    }
    return found;
  };
});

const NOT_HIDDEN: readonly HiddenStretch[] = [];
export const hiddenOf = ({ hidden }: Reaching, { key }: Line): readonly HiddenStretch[] =>
  hidden.get(key) ?? NOT_HIDDEN;

/** Distance in from where one stands; 0 over the floor. */
export function distanceIn(from: PreparedArea, p: Point): Millimetres {
  if (from.contains(p)) return 0;
  return from.nearestEdge(p)?.distance ?? 0;
}

/** What makes reach less over a point: nothing where nothing does. */
export function whyLess(overhead: Overhead, hidden: boolean, p: Point): string | undefined {
  if (hidden) return "hidden";
  const above = overhead.find(({ bench }) => bench.contains(p));
  return above && `under ${above.deck.name}`;
}

/** How far in the farthest place of a line lies, hidden or not; undefined where there is nowhere to reach from. */
export function reachOfLine(layout: Layout, line: Line): Millimetres | undefined {
  const by = reaching(layout.plan, layout);
  if (!by) return undefined;
  const { open, hidden } = farthest(line, by.from, by.overhead(line.deck), by.less, stable(line, hiddenOf(by, line)));
  const values = [open, hidden].flatMap((m) => (m ? [m.value] : []));
  return values.length > 0 ? Math.max(...values) : undefined;
}

export const reach: Rule = {
  id: "reach",
  take: whileSame(
    ({ plan, layout }) => {
      const by = reaching(plan, layout);
      return [
        by && farthestByLine(layout, by.from, deckBenches(layout), plan.decks, by.less, by.hidden),
        plan.standards,
        plan.decks,
      ] as const;
    },
    ({ plan }, [byLine]) => {
      const found = new Map<Id, { open: Measured[]; hidden: Measured[] }>();
      for (const { deck, open, hidden } of byLine ?? []) {
        let own = found.get(deck);
        if (!own) found.set(deck, (own = { open: [], hidden: [] }));
        if (open) own.open.push(open);
        if (hidden) own.hidden.push(hidden);
      }
      return decksByHeight(plan).flatMap(([id, deck]) => {
        const own = found.get(id);
        if (!own) return [];
        const lenient = own.open.map((m) => ({ m, most: "tight" as const }));
        const strict = own.hidden.map((m) => ({ m, most: "fails" as const }));
        return reachReading(plan, "reach", `Reach, ${deck.name}`, id, deck, [...lenient, ...strict]);
      });
    },
  ),
};

/** Decks from low to high. */
export const decksByHeight = (plan: Plan): [Id, Deck][] =>
  Object.entries(plan.decks).sort(([idA, a], [idB, b]) => a.height - b.height || (idA < idB ? -1 : 1));

interface Judged {
  readonly m: Measured;
  /** The worst it can be called. */
  readonly most: "tight" | "fails";
  /** What it is about, where that is not the line it lies on. */
  readonly thing?: string;
}

const RANK = { fails: 0, tight: 1, clear: 2, none: 3 } as const;

/** The reading of one deck; none where nothing was measured. */
export function reachReading(
  plan: Plan,
  id: ReadingId,
  label: string,
  scope: Id,
  deck: Deck,
  measured: readonly Judged[],
): Reading[] {
  const rows = settingOf(plan, "reach");
  const limit = reachAt(rows.value, deck.height);
  const judged = measured.map(({ m, most, thing }) => {
    const verdict: Verdict = judge(m.value, limit, "most", plan.standards.tight.value);
    return { m, thing, verdict: verdict === "fails" ? most : verdict };
  });
  const first = firstFew(
    judged,
    MOST_PLACES,
    (a, b) =>
      RANK[a.verdict] - RANK[b.verdict] ||
      Math.round((b.m.value - a.m.value) * 1000) ||
      (a.m.line.key < b.m.line.key ? -1 : 1),
  );
  const [worst] = first;
  if (!worst) return [];
  const shown = first.filter(({ verdict }, i) => i === 0 || verdict !== "clear");
  return [
    {
      id,
      scope,
      label,
      value: worst.m.value,
      unit: "mm",
      limit,
      bound: "most",
      verdict: worst.verdict,
      places: shown.map(({ m, thing }) => {
        const { s, ...place } = placeOn(m.line, m.s, m.value, m.note);
        return thing === undefined ? { ...place, s: s ?? m.s } : { ...place, thing };
      }),
      source: `${rows.source}; ${CAUTION}`,
      ...(rows.reason !== undefined && { reason: rows.reason }),
    },
  ];
}

const lastHidden = new WeakMap<Line, readonly HiddenStretch[]>();

/** The same list for a line as long as the same stretches of it are hidden. */
function stable(line: Line, hidden: readonly HiddenStretch[]): readonly HiddenStretch[] {
  const last = lastHidden.get(line);
  const same =
    last?.length === hidden.length && last.every((h, i) => h.from === hidden[i]?.from && h.to === hidden[i].to);
  if (last && same) return last;
  lastHidden.set(line, hidden);
  return hidden;
}

interface Farthest {
  readonly open: Measured | undefined;
  readonly hidden: Measured | undefined;
}

/**
 * The farthest places of a line, in the open and hidden. From one place to another the distance changes by no more than
 * the way between them: places that cannot be farther are passed over.
 */
const farthest = rememberBeside(
  (
    line: Line,
    from: PreparedArea,
    overhead: Overhead,
    less: Millimetres,
    hidden: readonly HiddenStretch[],
  ): Farthest => {
    const { count, s: stations, x, y } = line.samples;
    const worst: { open: Measured | undefined; hidden: Measured | undefined } = { open: undefined, hidden: undefined };
    let [sure, last, lastS] = [Number.NEGATIVE_INFINITY, 0, 0];
    for (let i = 0; i < count; i++) {
      const s = stations[i] ?? 0;
      const under = isHidden(hidden, s);
      const before = under ? worst.hidden : worst.open;
      // Where the line goes into hiding or comes out the other farthest place is asked for.
      if (s < sure && before) continue;
      const p = { x: x[i] ?? 0, y: y[i] ?? 0 };
      const moved = s - lastS;
      // A line as far out as it was, and more than it has come since, is out.
      const distance = last > moved ? (from.nearestEdge(p, last + moved + 1)?.distance ?? 0) : distanceIn(from, p);
      [last, lastS] = [distance, s];
      const note = whyLess(overhead, under, p);
      const value = distance + (note === undefined ? 0 : less);
      if (!before || value > before.value) {
        const measured = { value, line, s, ...(note !== undefined && { note: `${note}, counted farther in` }) };
        if (under) worst.hidden = measured;
        else worst.open = measured;
      }
      const least = Math.min(
        worst.open?.value ?? Number.POSITIVE_INFINITY,
        worst.hidden?.value ?? Number.POSITIVE_INFINITY,
      );
      sure = s + Math.max(0, least - distance - less);
    }
    return worst;
  },
);

const farthestByLine = foundByLine(
  (
    { line }: LineContext,
    from: PreparedArea,
    benches: DeckBenches,
    decks: Plan["decks"],
    less: Millimetres,
    hidden: Reaching["hidden"],
  ) => {
    const overhead = overheadOf(benches)(line.deck, decks[line.deck]);
    return {
      deck: line.deck,
      ...farthest(line, from, overhead, less, stable(line, hidden.get(line.key) ?? NOT_HIDDEN)),
    };
  },
);
