/**
 * The way a leg leads on from where ways part, straight on over every turnout after: as points with the throw of the
 * longest car there, so that the envelopes of two legs can be held against one another.
 */
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

/** Points of a way by distance along it; `left` and `right` as one goes along it. */
export interface LegShape {
  readonly pieces: readonly Piece[];
  readonly count: number;
  readonly d: Float64Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly left: Float64Array;
  readonly right: Float64Array;
  /** Least track centres of the class the point lies on. */
  readonly centres: Float64Array;
}

/** Times the track centres: the routes of a turnout number 20 part by its centres within half of it. */
const REACH_IN_CENTRES = 40;

/** How far legs are followed: as far as the flattest turnout needs to part by its centres, and two cars on. */
export function legReach({ classes, longestCar }: Standards): Millimetres {
  const centres = Object.values(classes).map((limits) => limits?.centres.value ?? 0);
  return REACH_IN_CENTRES * Math.max(...centres) + 2 * longestCar.value.length;
}

interface Known {
  readonly standards: Standards;
  readonly shape: LegShape;
  /** Number of the asking it was made at. */
  readonly made: number;
}
/** By sections, whose runs keep their numbers while the network hangs together as it did. */
const known = new WeakMap<Sections, Map<Run, Known>>();

/** The shape of the leg a run begins; the same object as long as its lines, their throws and the limits stay. */
export function legShape(layout: Layout, run: Run): LegShape {
  const sections = sectionsOf(layout.network);
  let shapes = known.get(sections);
  if (!shapes) known.set(sections, (shapes = new Map()));
  const { standards } = layout.plan;
  const { stamps, now } = edgeStamps(layout);
  const last = shapes.get(run);
  if (last?.standards === standards && last.shape.pieces.every(({ edge }) => (stamps[edge] ?? 0) <= last.made))
    return last.shape;
  const reach = legReach(standards);
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

/** Figures of a point, in the order of the columns of a shape. */
const COLUMNS = 6;

/** The shape of a way of pieces, as far as `reach`. */
export function shapeOf(pieces: readonly Piece[], standards: Standards, reach: Millimetres): LegShape {
  const points: number[] = [];
  for (const piece of pieces) addPoints(points, piece, standards, reach, piece === pieces.at(-1));
  const count = points.length / COLUMNS;
  const column = (c: number): Float64Array => {
    const values = new Float64Array(count);
    for (let i = 0; i < count; i++) values[i] = points[COLUMNS * i + c] ?? 0;
    return values;
  };
  const [d, x, y] = [column(0), column(1), column(2)];
  return { pieces, count, d, x, y, left: column(3), right: column(4), centres: column(5) };
}

/** The points of a piece from its beginning on; where it ends the next one begins, so only the last has its end. */
function addPoints(points: number[], piece: Piece, standards: Standards, reach: Millimetres, last: boolean): void {
  const { context, from, to, forwards, begin } = piece;
  const { line, throws } = context;
  const { count, s, x, y } = line.samples;
  const { centres } = standards.classes[line.class] ?? standards.classes.main;
  const add = (at: Millimetres, i: number, t: number): void => {
    if ((points.at(-COLUMNS) ?? 0) > reach) return;
    const between = (values: Float64Array): number =>
      (values[i] ?? 0) + (t === 0 ? 0 : t * ((values[Math.min(i + 1, count - 1)] ?? 0) - (values[i] ?? 0)));
    const [left, right] = [between(throws.left), between(throws.right)];
    const d = begin + (forwards ? at - from : to - at);
    points.push(d, between(x), between(y), forwards ? left : right, forwards ? right : left, centres.value);
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
