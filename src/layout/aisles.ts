/**
 * Aisles: the floor divided at the places where it is narrowest, which parts of it people stand and work in, and how
 * wide the way there from the doors is.
 *
 * A part counts where a standing adult, turned any way, fits within it and a bench borders on it: a notch or a gap in
 * which nobody can stand is no aisle, and what can only be got at from there is told by the reading of reach. The way to
 * a part is the widest of all ways from any doorway; the doorway's own width is not asked. Gaps narrower than a hand are
 * benches that all but touch. Where a plan has no doorway, people start in the widest part.
 *
 * Always holds: of all ways from a doorway to a part, none has a narrowest place wider than its width; what is left out
 * of the gaps never makes a way between two parts wider or narrower.
 */
import { type PreparedArea, prepareArea } from "../geometry/area-distance.js";
import { type Area, areaSize, offsetArea, type Ring } from "../geometry/areas.js";
import { type Division, divideByGaps, onlyGaps, type Ways, widestWays } from "../geometry/divide.js";
import { findGaps, type Gap } from "../geometry/gaps.js";
import type { Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import { widestSpot } from "../geometry/widest-spot.js";
import { STANDING_ADULT } from "../standards/people.js";
import type { Barrier, Doorway } from "./floor.js";

/** Half of what a standing adult takes, turned any way. */
export const STANDING: Millimetres = STANDING_ADULT.value.width / 2;
/** What lies this near together touches; widths are given back what it takes of them. */
export const TOUCHING: Millimetres = 0.01;
/** A gap narrower than a hand's breadth was never meant as a way. */
const HAND: Millimetres = 100;
/** Room round a spot is found to this: so much that it is the same in a mirror. */
const SPOT: Millimetres = 1e-4;
/** A part no gap narrows, as wide as this or wider, counts as this wide: the trade asks for 48 in at most. */
const ROOMY: Millimetres = 48 * 25.4;
/** Floor this near to a bench borders on it: rounding of areas, and what touching takes. */
const BORDERS: Millimetres = 0.1;

export interface AislePart {
  readonly ring: Ring;
  /** Somewhere in it where an adult can stand. */
  readonly spot: Point;
  /** Width of the widest way to it; 0 where there is none on foot. */
  readonly width: Millimetres;
  /** The narrowest place on that way; the part itself where that is no gap. */
  readonly narrowest: Gap | undefined;
}

/** A narrow place between two parts of the floor that are reached on foot. */
export interface Pinch {
  readonly gap: Gap;
  /** Whether a widest way from a doorway leads through it. */
  readonly onWay: boolean;
  /** Whether there is no other way to what lies beyond, so that those who come and go meet in it. */
  readonly onlyWay: boolean;
}

export interface Aisles {
  /** The floor all this is about. */
  readonly floor: PreparedArea;
  readonly parts: readonly AislePart[];
  /** Narrowest first. */
  readonly pinches: readonly Pinch[];
  /** Rings of the floor reached on foot. */
  readonly reached: readonly Ring[];
  /** Gaps in which nobody can stand, with no room at any end of them. */
  readonly slits: readonly Ring[];
  /** Whether there is a doorway to start from. */
  readonly fromDoor: boolean;
}

/** Where only what is reached is asked, not how wide the way is, parts without a narrow way in are not searched for room. */
export function deriveAisles(
  area: Area,
  doorways: readonly Doorway[],
  barriers: readonly Barrier[],
  asked: "widths" | "reached" = "widths",
): Aisles {
  const floor = prepareArea(offsetArea(area, -TOUCHING));
  const undivided = findGaps(floor.area);
  const slits = slitsOf(divideByGaps(floor.area, undivided));
  const division = joinNotches(floor.area, undivided);
  const { cells, gaps, sides } = division;
  const prepared = cells.map((ring) => prepareArea([ring]));
  const inDoorway = gaps.map((gap) => doorways.some((doorway) => isDoorway(gap, doorway)));
  const widthOf = ({ width }: Gap, n: number): Millimetres =>
    inDoorway[n] === true ? Number.POSITIVE_INFINITY : width < HAND ? 0 : width + 2 * TOUCHING;
  const spots = cells.map((ring) => standingSpot(ring));
  const starts = new Set(doorways.flatMap(({ outside }) => cellAt(prepared, outside)));
  const fromDoor = starts.size > 0;
  if (!fromDoor) {
    const sizes = cells.map((ring, n) => (spots[n] ? areaSize([ring]) : 0));
    const largest = sizes.indexOf(Math.max(...sizes));
    if (largest >= 0) starts.add(largest);
  }
  const ways = widestWays(division, starts, widthOf);
  const benches = barriers.filter(({ kind }) => kind !== "obstacle").map((b) => prepareArea(b.area));
  const parts = cells.flatMap((ring, n): AislePart[] => {
    const spot = spots[n];
    const inLobby = doorways.some(({ lobby }) => isWithin(ring, prepareArea(lobby)));
    if (!spot || inLobby || !benches.some((bench) => bordersOn(ring, bench))) return [];
    if (asked === "reached") return [{ ring, spot, width: ways.width[n] as number, narrowest: undefined }];
    return [wayTo(n, { ring, spot }, division, ways, floor)];
  });
  const only = onlyGaps(division, starts, widthOf);
  const pinches = gaps.flatMap((gap, n): Pinch[] => {
    const [a, b] = sides[n] as readonly [number, number];
    const walked = Math.min(ways.width[a] as number, ways.width[b] as number) > 0;
    if (inDoorway[n] === true || gap.width < HAND || !walked) return [];
    const onlyWay = only.has(n);
    const onWay = ways.entered[a] === n || ways.entered[b] === n;
    return [{ gap: { ...gap, width: gap.width + 2 * TOUCHING }, onWay, onlyWay }];
  });
  const reached = cells.filter((_, n) => (ways.width[n] as number) > 0);
  return { floor, parts, pinches, reached, slits, fromDoor };
}

/** Whether a gap is the doorway itself. */
function isDoorway({ a, b }: Gap, { ends: [near, far] }: Doorway): boolean {
  const at = (p: Point, q: Point): boolean => Math.hypot(p.x - q.x, p.y - q.y) <= 1;
  return (at(a.point, near) && at(b.point, far)) || (at(a.point, far) && at(b.point, near));
}

const cellAt = (cells: readonly PreparedArea[], p: Point): number[] => {
  const n = cells.findIndex((cell) => cell.contains(p));
  return n < 0 ? [] : [n];
};

/** Whether a ring lies within an area, or on its edge to within a millimetre. */
const isWithin = (ring: Ring, area: PreparedArea): boolean =>
  ring.every((p) => area.contains(p) || area.nearestEdge(p, 1) !== undefined);

const spotsFound = new WeakMap<Ring, { readonly spot: Point | undefined }>();

/** Somewhere an adult fits within a cell; undefined where none does. Cells are asked about again as the floor is divided. */
function standingSpot(ring: Ring): Point | undefined {
  let found = spotsFound.get(ring);
  if (!found) spotsFound.set(ring, (found = { spot: findSpot(ring) }));
  return found.spot;
}

function findSpot(ring: Ring): Point | undefined {
  if (areaSize([ring]) < Math.PI * STANDING * STANDING) return undefined;
  const spread = (side: (p: Point) => number): Millimetres => {
    const all = ring.map(side);
    return Math.max(...all) - Math.min(...all);
  };
  if (
    Math.min(
      spread(({ x }) => x),
      spread(({ y }) => y),
    ) <
    2 * STANDING
  )
    return undefined;
  const spot = widestSpot(ring, prepareArea([ring]), SPOT, STANDING);
  return spot && spot.clear >= STANDING ? spot.point : undefined;
}

/** Whether some edge of a ring lies along a bench. */
const bordersOn = (ring: Ring, bench: PreparedArea): boolean =>
  ring.some((p, i) => {
    const q = ring[i + 1] ?? ring[0] ?? p;
    return bench.nearestEdge({ x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 }, BORDERS) !== undefined;
  });

function slitsOf({ cells, gaps, sides }: Division): Ring[] {
  const widest = new Float64Array(cells.length);
  sides.forEach(([a, b], n) => {
    const width = gaps[n]?.width ?? 0;
    for (const cell of [a, b]) widest[cell] = Math.max(widest[cell] ?? 0, width);
  });
  return cells.filter((ring, n) => (widest[n] ?? 0) < 2 * STANDING && !standingSpot(ring));
}

/**
 * The division by those gaps alone that lead to somewhere one can stand. A cell in which nobody fits between two gaps is
 * passed through: the narrower of them tells all. Behind a single gap it is a notch. Where three gaps meet it stays.
 */
function joinNotches(area: Area, all: readonly Gap[]): Division {
  const fits = new Map<string, boolean>();
  let gaps = all;
  for (;;) {
    const division = divideByGaps(area, gaps);
    const { cells, sides } = division;
    const round: number[][] = cells.map(() => []);
    const dropped = new Set<number>();
    sides.forEach(([a, b], n) => {
      if (a === b) dropped.add(n);
      else {
        round[a]?.push(n);
        round[b]?.push(n);
      }
    });
    const passed = cells.flatMap((ring, cell) => {
      const own = round[cell] ?? [];
      if (own.length === 0 || own.length > 2) return [];
      const key = `${own.map((n) => name(gaps[n])).join()} ${ring.length}`;
      const fit = fits.get(key) ?? standingSpot(ring) !== undefined;
      fits.set(key, fit);
      const widest = own.reduce((a, b) => ((gaps[a]?.width ?? 0) >= (gaps[b]?.width ?? 0) ? a : b));
      return fit ? [] : [{ gap: widest, end: own.length === 1 }];
    });
    // Dead ends first, and each cell once in a round, so that what grows together is asked again whether someone fits.
    const ends = passed.filter(({ end }) => end);
    const busy = new Set<number>();
    const inOrder = (ends.length > 0 ? ends : passed).map(({ gap }) => gap);
    inOrder.sort((a, b) => (gaps[b]?.width ?? 0) - (gaps[a]?.width ?? 0));
    for (const gap of inOrder) {
      if (sides[gap]?.some((cell) => busy.has(cell)) === true) continue;
      dropped.add(gap);
      for (const cell of sides[gap] ?? []) busy.add(cell);
    }
    if (dropped.size === 0) return division;
    gaps = gaps.filter((_, n) => !dropped.has(n));
  }
}

const name = (gap: Gap | undefined): string =>
  gap ? `${gap.a.ring} ${gap.a.edge} ${gap.a.along} ${gap.b.ring} ${gap.b.edge} ${gap.b.along}` : "";

/** The widest way to a cell; where no gap narrows it, what the cell itself has room for. */
function wayTo(
  cell: number,
  { ring, spot }: Pick<AislePart, "ring" | "spot">,
  { gaps, sides }: Division,
  ways: Ways,
  floor: PreparedArea,
): AislePart {
  const width = ways.width[cell] as number;
  const gap = gaps[ways.narrowest[cell] as number];
  // Past a gap there is at least as much room as in it: only a cell entered by a doorway alone can have less.
  if (Number.isFinite(width))
    return { ring, spot, width, narrowest: gap && { ...gap, width: gap.width + 2 * TOUCHING } };
  const opens = gaps.some((g, n) => g.width >= ROOMY && sides[n]?.includes(cell));
  if (opens) return { ring, spot, width: ROOMY, narrowest: undefined };
  const some = widestSpot(ring, floor, SPOT, ROOMY / 2);
  if (some && 2 * some.clear >= ROOMY) return { ring, spot: some.point, width: ROOMY, narrowest: undefined };
  const widest = widestSpot(ring, floor, SPOT);
  const clear = widest ? 2 * (widest.clear + TOUCHING) : 0;
  return { ring, spot: widest?.point ?? spot, width: clear, narrowest: undefined };
}
