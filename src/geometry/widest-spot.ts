/**
 * The spot in part of an area that lies farthest from the area's edge: the middle of the largest disc, by squares that
 * are quartered as long as they may hold a better spot.
 *
 * Always holds: the spot lies in the part; no spot of it has more than `precision` more room round it, unless this one
 * has enough (or lies in a strip whose sides all but run beside one another: then by what these come together on the way).
 */
import { type PreparedArea, prepareArea } from "./area-distance.js";
import type { Ring } from "./areas.js";
import type { Point } from "./pose.js";
import type { Millimetres } from "./units.js";

export interface Spot {
  readonly point: Point;
  /** Distance to the edge of the area. */
  readonly clear: Millimetres;
}

/** Where so many squares are as good, the widest spots lie along a strip between two edges: any of them will do. */
const MOST_SQUARES = 6000;
/** Halvings of a step aside that bring it below any precision. */
const STEPS = 30;
/** A spot is moved away from the edges round it by turns, this often. */
const SIDES = 6;
/** So many of the best spots of a strip are tried to the end. */
const RIVALS = 30;
/** Squares on one side of the part to begin with. */
const FIRST_SQUARES = 4;

/**
 * `part` lies within the area. Any spot with `enough` room will do, and where none has that much, none is looked for.
 * Undefined where no spot was met with: the part is thinner than the precision.
 */
export function widestSpot(
  part: Ring,
  area: PreparedArea,
  precision: Millimetres,
  enough: Millimetres = Number.POSITIVE_INFINITY,
): Spot | undefined {
  const own = prepareArea([part]);
  const [xs, ys] = [part.map(({ x }) => x), part.map(({ y }) => y)];
  const [minX, minY] = [Math.min(...xs), Math.min(...ys)];
  const side = Math.max(Math.max(...xs) - minX, Math.max(...ys) - minY);
  if (!(side > 0)) return undefined;
  let best: Spot | undefined;
  let half = side / (2 * FIRST_SQUARES);
  let squares: Square[] = [];
  for (let i = 0; i < FIRST_SQUARES; i++) {
    for (let j = 0; j < FIRST_SQUARES; j++) {
      const [x, y] = [minX + (2 * i + 1) * half, minY + (2 * j + 1) * half];
      squares.push({ x, y, clear: area.distanceToEdge({ x, y }) });
    }
  }
  while (half > precision / 4 && squares.length > 0 && squares.length <= MOST_SQUARES) {
    for (const p of squares) if (p.clear > (best?.clear ?? 0) && own.contains(p)) best = { point: p, clear: p.clear };
    if (best && best.clear >= enough) return best;
    const reach = half * Math.SQRT2;
    const better = Number.isFinite(enough) ? enough : (best?.clear ?? 0) + precision;
    half /= 2;
    squares = squares
      .filter((p) => p.clear + reach > better && own.distanceToEdge(p) > -reach)
      .flatMap((square) => quartered(square, half, area));
  }
  const strip = squares.filter((p) => own.contains(p)).sort((a, b) => b.clear - a.clear);
  const rivals: Spot[] = strip.slice(0, RIVALS).map(({ x, y, clear }) => ({ point: { x, y }, clear }));
  for (const rival of best ? [best, ...rivals] : rivals) {
    let moved = rival;
    for (let i = 0; i < SIDES; i++) moved = across(moved, area, 4 * half);
    if (!best || moved.clear > best.clear) best = moved;
  }
  return best;
}

/** The best spot on the line across, straight away from the nearest edge, no farther aside than that. */
function across({ point, clear }: Spot, area: PreparedArea, aside: Millimetres): Spot {
  const edge = area.nearestEdge(point)?.point;
  if (!edge || clear === 0) return { point, clear };
  const [ux, uy] = [(point.x - edge.x) / clear, (point.y - edge.y) / clear];
  const at = (t: Millimetres): Point => ({ x: point.x + t * ux, y: point.y + t * uy });
  const room = (t: Millimetres): Millimetres => area.nearestEdge(at(t))?.distance ?? 0;
  let [low, high] = [-Math.min(aside, clear / 2), Math.min(aside, clear / 2)];
  for (let i = 0; i < STEPS; i++) {
    const [a, b] = [low + (high - low) / 3, high - (high - low) / 3];
    if (room(a) < room(b)) low = a;
    else high = b;
  }
  const best = (low + high) / 2;
  return room(best) > clear ? { point: at(best), clear: room(best) } : { point, clear };
}

/** A square's middle, and the room round it: negative outside the area. */
interface Square extends Point {
  readonly clear: Millimetres;
}

function quartered({ x, y, clear }: Square, half: Millimetres, area: PreparedArea): Square[] {
  const moved = half * Math.SQRT2;
  return [-half, half].flatMap((dx) =>
    [-half, half].map((dy) => {
      const p = { x: x + dx, y: y + dy };
      // The room changes by no more than one moves.
      const distance = area.nearestEdge(p, Math.abs(clear) + 2 * moved)?.distance ?? 0;
      const inside = Math.abs(clear) > moved ? clear > 0 : area.contains(p);
      return { ...p, clear: inside ? distance : -distance };
    }),
  );
}
