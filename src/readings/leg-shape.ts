/**
 * The way a leg leads on from where ways part, straight on over every turnout after: as points with the throw of the
 * longest car there, so that the envelopes of two legs can be held against one another.
 */
import { limitsOf } from "../plan/class-limits.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import { edgesOf, type Run, sectionsOf, type Sections, sectionOf, straightOn } from "../layout/sections.js";
import type { Standards } from "../plan/schema.js";
import { edgeStamps } from "./edge-stamps.js";
import { type LineContext, lineContexts } from "./line-context.js";

/** One line's part of a way, from distance `begin` along the way on. */
export interface Piece {
  readonly context: LineContext;
  /** Index of the edge it is of. */
  readonly edge: number;
  /** Distances along the line; from < to. */
  readonly from: Millimetres;
  readonly to: Millimetres;
  /** Whether the way runs as the line does. */
  readonly forwards: boolean;
  readonly begin: Millimetres;
}

/** Points of a way by distance along it. */
export interface LegShape {
  readonly pieces: readonly Piece[];
  /** Whether the way goes on beyond its last point. */
  readonly cut: boolean;
  readonly count: number;
  /** Figures of the points, COLUMNS for each. */
  readonly figures: readonly number[];
}

const COLUMNS = 6;
/** Columns of a point: distance along the way, place on the sheet, throws to the left and right as one goes along it, least track centres of the class it lies on. */
export const ALONG = 0;
export const X = 1;
export const Y = 2;
export const LEFT = 3;
export const RIGHT = 4;
export const CENTRES = 5;

/** A figure of point i. */
export const figureAt = ({ figures }: LegShape, column: number, i: number): number =>
  figures[COLUMNS * i + column] ?? 0;

/** The same at a share of the way from point i to the next, in proportion. */
export function figureBetween({ figures, count }: LegShape, column: number, i: number, share: number): number {
  const from = figures[COLUMNS * i + column] ?? 0;
  return share === 0 || i + 1 >= count ? from : from + share * ((figures[COLUMNS * (i + 1) + column] ?? from) - from);
}

/** How far legs are followed, in track centres: routes part by these within about twice the frog number of them. */
export const NEAR_REACH = 14;
export const FAR_REACH = 40;

/** How far legs are followed: so many times the track centres, and two cars on. */
export function legReach({ classes, longestCar }: Standards, times: number): Millimetres {
  const centres = Object.values(classes).map((limits) => limits?.centres.value ?? 0);
  return times * Math.max(...centres) + 2 * longestCar.value.length;
}

interface Known {
  readonly standards: Standards;
  readonly shape: LegShape;
  /** Number of the asking it was made at. */
  readonly made: number;
}
type Shapes = Map<Run, Known>;
/** By sections, whose runs keep their numbers while the network hangs together as it did: near and far shapes. */
const known = new WeakMap<Sections, { readonly near: Shapes; readonly far: Shapes }>();

/**
 * The shape of the leg a run begins, as far as ways of usual turnouts need to part, or as far as any do; the same object
 * as long as its lines, their throws and the limits stay.
 */
export function legShape(layout: Layout, run: Run, extent: "near" | "far"): LegShape {
  const sections = sectionsOf(layout.network);
  let both = known.get(sections);
  if (!both) known.set(sections, (both = { near: new Map(), far: new Map() }));
  const shapes = both[extent];
  const { standards } = layout.plan;
  const { stamps, now } = edgeStamps(layout);
  const last = shapes.get(run);
  if (last?.standards === standards && last.shape.pieces.every(({ edge }) => (stamps[edge] ?? 0) <= last.made))
    return last.shape;
  const reach = legReach(standards, extent === "near" ? NEAR_REACH : FAR_REACH);
  const shape = shapeOf(piecesOf(layout, sections, run, reach), standards, reach);
  shapes.set(run, { standards, shape, made: now });
  return shape;
}

function piecesOf(layout: Layout, sections: Sections, first: Run, reach: Millimetres): Piece[] {
  const contexts = lineContexts(layout);
  const pieces: Piece[] = [];
  const met = new Set<number>();
  let begin = 0;
  for (let run: Run | undefined = first; run !== undefined && begin < reach; run = straightOn(sections, run)) {
    if (met.has(sectionOf(run))) break;
    met.add(sectionOf(run));
    for (const { edge: index, line, forwards } of edgesOf(sections, run)) {
      const edge = layout.network.edges[index];
      const context = contexts.get(line);
      if (!edge || !context || begin >= reach) break;
      pieces.push({ context, edge: index, from: edge.from, to: edge.to, forwards, begin });
      begin += edge.length;
    }
  }
  return pieces;
}

/** The shape of a way of pieces, as far as `reach`. */
export function shapeOf(pieces: readonly Piece[], standards: Standards, reach: Millimetres): LegShape {
  const figures: number[] = [];
  const last = pieces.at(-1);
  for (const piece of pieces) addPoints(figures, piece, standards, reach, piece === last);
  const cut = last !== undefined && last.begin + (last.to - last.from) >= reach;
  return { pieces, cut, count: figures.length / COLUMNS, figures };
}

/** The points of a piece from its beginning on; where it ends the next one begins, so only the last has its end. */
function addPoints(figures: number[], piece: Piece, standards: Standards, reach: Millimetres, last: boolean): void {
  const { context, from, to, forwards, begin } = piece;
  const { line, throws } = context;
  const { count, s, x, y } = line.samples;
  const { centres } = limitsOf({ standards }, line.class);
  const add = (at: Millimetres, i: number, t: number): void => {
    if ((figures.at(-COLUMNS) ?? 0) > reach) return;
    const between = (values: Float64Array): number =>
      (values[i] ?? 0) + (t === 0 ? 0 : t * ((values[Math.min(i + 1, count - 1)] ?? 0) - (values[i] ?? 0)));
    const [left, right] = [between(throws.left), between(throws.right)];
    const d = begin + (forwards ? at - from : to - at);
    figures.push(d, between(x), between(y), forwards ? left : right, forwards ? right : left, centres.value);
  };
  const border = (at: Millimetres): void => {
    const i = Math.max(0, firstBeyond(s, count, at) - 1);
    const step = (s[i + 1] ?? at) - (s[i] ?? 0);
    add(at, i, step > 0 ? Math.min(1, Math.max(0, (at - (s[i] ?? 0)) / step)) : 0);
  };
  const first = firstBeyond(s, count, from);
  const end = firstBeyond(s, count, to - 2 * SAME);
  border(forwards ? from : to);
  for (let n = 0; n < end - first; n++) {
    const i = forwards ? first + n : end - 1 - n;
    add(s[i] ?? 0, i, 0);
  }
  if (last) border(forwards ? to : from);
}

/** Stations nearer than this are one. */
const SAME: Millimetres = 1e-6;

/** Index of the first sample beyond a place. */
function firstBeyond(s: Float64Array, count: number, place: Millimetres): number {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((s[middle] ?? 0) > place + SAME) high = middle;
    else low = middle + 1;
  }
  return low;
}

export interface PlaceAlong {
  readonly line: Line;
  readonly s: Millimetres;
  /** Whether the way runs as the line does. */
  readonly forwards: boolean;
}

/** The place of a line at a distance along a way; undefined for a way of no pieces. */
export function placeAlong({ pieces }: LegShape, d: Millimetres): PlaceAlong | undefined {
  const piece = pieces.findLast(({ begin }) => begin <= d) ?? pieces[0];
  if (!piece) return undefined;
  const { from, to, forwards, begin, context } = piece;
  const into = Math.min(Math.max(0, d - begin), to - from);
  return { line: context.line, s: forwards ? from + into : to - into, forwards };
}
