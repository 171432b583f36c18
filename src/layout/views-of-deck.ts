/**
 * All views of a deck, found from those of before: where a bench changes, only places from which something of it is looked at
 * are looked from again.
 *
 * Always holds: views found from others are those found afresh, in the same order; a view that stays is the object it was.
 */
import type { Box } from "../geometry/bounds.js";
import type { Area, Ring } from "../geometry/areas.js";
import {
  type DeckPlace,
  type FasciaView,
  placesAlong,
  type Surroundings,
  type ViewAt,
  viewAt,
} from "./fascia-views.js";

export interface DeckViews {
  readonly views: readonly FasciaView[];
  /** What they were found by, and what was found along every ring of the deck's benches, by what the ring is. */
  readonly surroundings: Surroundings;
  readonly byRing: ReadonlyMap<string, readonly ViewAt[]>;
}

export function viewsOfDeck(surroundings: Surroundings, before?: DeckViews): DeckViews {
  const changed = before && changedBoxes(before.surroundings, surroundings);
  const byRing = new Map<string, readonly ViewAt[]>();
  const views: FasciaView[] = [];
  for (const ring of surroundings.own.space.bench) {
    const name = nameOf(ring);
    const known = changed && before?.byRing.get(name);
    const found =
      changed && known
        ? known.map((at) => (changed.some((box) => overlap(box, at)) ? viewAt(surroundings, at.place) : at))
        : placesAlong(ring).map((place) => viewAt(surroundings, place));
    byRing.set(name, found);
    for (const { view } of found) if (view) views.push(view);
  }
  return { views, surroundings, byRing };
}

/** A ring by its corners: areas are made anew whenever something in them changes. */
const nameOf = (ring: Ring): string => ring.map(({ x, y }) => `${x} ${y}`).join();

const overlap = (a: Box, b: Box): boolean =>
  a.minX <= b.maxX && a.maxX >= b.minX && a.minY <= b.maxY && a.maxY >= b.minY;

/** Boxes round what is not as it was; undefined where more than benches changed. */
function changedBoxes(before: Surroundings, after: Surroundings): Box[] | undefined {
  const same =
    before.room === after.room &&
    sameItems(before.blocked, after.blocked) &&
    sameItems(
      before.own.space.backdrops.map(({ line }) => line),
      after.own.space.backdrops.map(({ line }) => line),
    ) &&
    sameItems(before.decks.map(deckOf), after.decks.map(deckOf)) &&
    deckOf(before.own) === deckOf(after.own);
  if (!same) return undefined;
  return after.decks.flatMap(({ space }, i) => changedRings(before.decks[i]?.space.bench ?? [], space.bench));
}

const deckOf = ({ deck }: DeckPlace): unknown => deck;

const sameItems = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((item, i) => item === b[i]);

/** Boxes of rings that are in one area alone. */
function changedRings(before: Area, after: Area): Box[] {
  if (before === after) return [];
  const [was, is] = [before, after].map((area) => new Map(area.map((ring) => [nameOf(ring), ring])));
  const alone = (own: ReadonlyMap<string, Ring> = new Map(), other: ReadonlyMap<string, Ring> = new Map()): Box[] =>
    [...own].flatMap(([name, ring]) => (other.has(name) ? [] : [boxOf(ring)]));
  return [...alone(was, is), ...alone(is, was)];
}

function boxOf(ring: Ring): Box {
  const [xs, ys] = [ring.map(({ x }) => x), ring.map(({ y }) => y)];
  return { minX: Math.min(...xs), minY: Math.min(...ys), maxX: Math.max(...xs), maxY: Math.max(...ys) };
}
