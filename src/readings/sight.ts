/**
 * Sight: what each of the plan's operators sees of a scenic deck. A deck whose railhead is above the eye cannot be
 * looked into. Under another deck, the height over the railhead that is seen at the back of the deck is held to the
 * height of the cars; it is advice as long as the track nearest to the fascia is seen, and fails where that is hidden.
 */
import type { Millimetres } from "../geometry/units.js";
import type { FasciaView, LineOfView } from "../layout/fascia-views.js";
import type { Layout } from "../layout/layout.js";
import { type Eye, hiddenFrom, highestSeen } from "../layout/sight.js";
import { type DeckViews, viewsOfDeck } from "../layout/views-of-deck.js";
import type { Id, Operator, Plan } from "../plan/schema.js";
import { settingOf } from "../plan/settings.js";
import { VIEWING_DISTANCE } from "../standards/people.js";
import { cite } from "../standards/cited.js";
import { barriersOf } from "./barriers.js";
import { type DeckBench, type DeckBenches, deckBenches } from "./deck-benches.js";
import { type NearestTrack, nearestTracks } from "./nearest-track.js";
import type { Place, Reading } from "./reading.js";
import { remember, rememberBeside, sameItems } from "./remember.js";
import { MOST_PLACES, type Rule } from "./rule.js";
import { judge } from "./verdict.js";
import { firstFew } from "./worst-few.js";

export const sight: Rule = {
  id: "sight",
  take({ plan, layout }) {
    const { value: operators } = settingOf(plan, "operators");
    const benches = deckBenches(layout);
    const tracks = nearestTracks(layout);
    return benches
      .filter(({ deck }) => deck.kind === "scenic")
      .flatMap((own) => {
        const views = viewsOf(layout, own, benches);
        if (views.length === 0) return [];
        return operators.map((operator, i) => {
          const again = operators.slice(0, i).filter(({ name }) => name === operator.name).length;
          const scope = `${own.id}/${operator.name}${again > 0 ? ` ${again + 1}` : ""}`;
          return seenBy(plan, tracks, own, operator, views, scope);
        });
      });
  },
};

interface KnownViews {
  readonly on: readonly unknown[];
  readonly found: DeckViews;
}
/** By the plans' family, and in it by deck. */
const knownViews = new WeakMap<object, Map<Id, KnownViews>>();

/** Views of a deck; the same object as long as room, obstacles, backdrops and decks are the same. */
export function viewsOf(layout: Layout, own: DeckBench, benches: DeckBenches): readonly FasciaView[] {
  const family = layout.plan.scale;
  let known = knownViews.get(family);
  if (!known) knownViews.set(family, (known = new Map()));
  const barriers = barriersOf(layout);
  const on = [own.space, barriers, benches, own.deck];
  const last = known.get(own.id);
  if (last && sameItems(last.on, on)) return last.found.views;
  const blocked = barriers.standing.filter(({ from }) => from < OVERHEAD).map(({ edges }) => edges.area);
  const found = viewsOfDeck({ own, decks: benches, room: barriers.room.area, blocked }, last?.found);
  known.set(own.id, { on, found });
  return found.views;
}

/** What begins higher than this above the floor is stood under: a tall person and a hand's breadth, mm. */
const OVERHEAD: Millimetres = 2000;

/** One place where less is seen than the cars are high, or nothing. */
interface Seen {
  readonly view: FasciaView;
  /** Along which most is seen. */
  readonly line: LineOfView;
  /** Height over the railhead seen at the back; it may be less than nothing. */
  readonly value: Millimetres;
  readonly trackHidden: boolean;
}

function seenBy(
  plan: Plan,
  tracks: NearestTrack,
  own: DeckBench,
  operator: Operator,
  views: readonly FasciaView[],
  scope: string,
): Reading {
  const { deck, id } = own;
  const { source } = settingOf(plan, "operators");
  const covered = coveredOf(views);
  const over = operator.eye - deck.height;
  const head = {
    id: "sight",
    scope,
    label: `${deck.name} seen by ${operator.name}`,
    unit: "mm",
    bound: "least",
  } as const;
  const place = ({ point }: FasciaView, value: number, note?: string): Place => ({
    deck: id,
    point,
    thing: `decks.${id}`,
    value,
    ...(note !== undefined && { note }),
  });
  if (over < 0 || covered.length === 0) {
    const note = over < 0 ? `the railhead is above eye level of ${operator.name}` : undefined;
    const [first] = views;
    return {
      ...head,
      value: over,
      limit: 0,
      // To work a deck by its sound is uncomfortable, not impossible.
      verdict: over < 0 ? "tight" : "clear",
      places: first ? [place(first, over, note)] : [],
      source: `the eye over the railhead; ${source}`,
      figures: { eye: { value: operator.eye, unit: "mm" } },
    };
  }
  const { height } = plan.standards.longestCar.value;
  const margin = plan.standards.tight.value;
  const limits = limitsSeen(covered)(operator, deck.height, plan.room.ceiling);
  const { worst, value = over, short, noted } = summed(seenFrom(limits, covered, own, tracks), height, margin);
  return {
    ...head,
    value,
    limit: height,
    verdict: worst?.trackHidden === true ? "fails" : short ? "tight" : "clear",
    places: noted.map((s) => place(s.view, s.value, noteOf(plan, s, short))),
    source: `the cars' height over the railhead, seen at the back; ${source}; eye ${cite(VIEWING_DISTANCE)}`,
    figures: {
      eye: { value: operator.eye, unit: "mm" },
      ...(worst && {
        "eye before the fascia": { value: worst.line.before, unit: "mm" },
        "depth looked at": { value: worst.line.depth, unit: "mm" },
      }),
    },
  };
}

function noteOf(plan: Plan, { view, trackHidden }: Seen, short: boolean): string {
  const names = [...new Set(view.lines[0].over.map(({ deck }) => plan.decks[deck]?.name ?? deck))].join(", ");
  if (trackHidden) return `${names} hides the track nearest to the fascia`;
  return short ? `${names} hides the back` : `under ${names}`;
}

const worstFirst = (a: Seen, b: Seen): number =>
  Number(b.trackHidden) - Number(a.trackHidden) ||
  a.value - b.value ||
  a.view.point.x - b.view.point.x ||
  a.view.point.y - b.view.point.y;

/** What an operator sees along each line of a view, whatever track there is: height over the railhead, and hidden from there on. */
interface LimitSeen {
  readonly line: LineOfView;
  readonly value: Millimetres;
  readonly hidden: Millimetres;
}

/** Views of which another deck takes something. */
const coveredOf = remember((views: readonly FasciaView[]): readonly FasciaView[] =>
  views.filter(({ lines: [square] }) => square.over.length > 0),
);

type Limits = readonly (readonly LimitSeen[])[];

/** By view for an operator, as long as nothing else of it changes; views that stay keep theirs. */
const limitsAt = remember((operator: Operator) =>
  rememberBeside((view: FasciaView, railhead: Millimetres, ceiling: Millimetres): readonly LimitSeen[] =>
    view.lines.map((line) => limitSeen(operator, railhead, ceiling, line)),
  ),
);

const limitsSeen = remember((views: readonly FasciaView[]) =>
  rememberBeside((operator: Operator, railhead: Millimetres, ceiling: Millimetres): Limits => {
    const at = limitsAt(operator);
    return views.map((view) => at(view, railhead, ceiling));
  }),
);

function limitSeen(
  { eye: height }: Operator,
  railhead: Millimetres,
  ceiling: Millimetres,
  line: LineOfView,
): LimitSeen {
  const eye: Eye = { before: line.before, height };
  const highest = Math.min(highestSeen(eye, line.over, line.depth), Math.max(height, ceiling));
  return { line, value: highest - railhead, hidden: hiddenFrom(eye, line.over, railhead) };
}

const lastSeen = new WeakMap<Limits, { readonly answers: object; readonly seen: readonly Seen[] }>();

/** What is seen at every view; the same list while the track behind them is where it was. */
function seenFrom(limits: Limits, views: readonly FasciaView[], own: DeckBench, tracks: NearestTrack): readonly Seen[] {
  const last = lastSeen.get(limits);
  if (last?.answers === tracks.answers) return last.seen;
  let same = last !== undefined;
  const seen = views.map((view, i): Seen => {
    const ways = limits[i] ?? [];
    const before = last?.seen[i];
    // Where all of the deck is seen it does not matter where track lies.
    if (before && ways.every(({ line, hidden }) => hidden >= line.depth)) return before;
    const now = seenAt(tracks, own, view, ways);
    if (before?.line === now.line && before.value === now.value && before.trackHidden === now.trackHidden)
      return before;
    same = false;
    return now;
  });
  const next = last && same ? last.seen : seen;
  lastSeen.set(limits, { answers: tracks.answers, seen: next });
  return next;
}

/** What is seen along the line that shows most: where the way square to the fascia is barred, one looks askance. */
function seenAt(tracks: NearestTrack, own: DeckBench, view: FasciaView, limits: readonly LimitSeen[]): Seen {
  const ways = limits.map(({ line, value, hidden }): Seen => {
    const nearest = hidden < line.depth ? tracks.behind(own, line) : undefined;
    return { view, line, value, trackHidden: nearest !== undefined && nearest > hidden };
  });
  return ways.reduce((best, way) => {
    const better = way.trackHidden === best.trackHidden ? way.value > best.value : best.trackHidden;
    return better ? way : best;
  });
}

interface Summed {
  readonly worst: Seen | undefined;
  /** The least seen anywhere. */
  readonly value: Millimetres | undefined;
  /** Whether less than the cars is seen somewhere. */
  readonly short: boolean;
  /** Where that is, or else the worst. */
  readonly noted: readonly Seen[];
}

const summed = rememberBeside((seen: readonly Seen[], height: Millimetres, margin: number): Summed => {
  const [worst] = firstFew(seen, 1, worstFirst);
  const short = seen.filter((s) => s.trackHidden || judge(s.value, height, "least", margin) !== "clear");
  const value = worst && seen.reduce((least, s) => Math.min(least, s.value), Number.POSITIVE_INFINITY);
  const noted = short.length > 0 ? firstFew(short, MOST_PLACES, worstFirst) : worst ? [worst] : [];
  return { worst, value, short: short.length > 0, noted };
});
