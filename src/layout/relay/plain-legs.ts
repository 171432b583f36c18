/**
 * Straights and curves that lay a line as it lies, whatever it was laid from before.
 *
 * Always holds: laid from the same pose, the legs lead where the segments lead, length and total turn alike.
 */
import { slicePath } from "../../geometry/path.js";
import { type Segment, segmentTurn } from "../../geometry/segment.js";
import { type Curvature, type Millimetres, toDegrees } from "../../geometry/units.js";
import type { Id, Leg } from "../../plan/schema.js";
import { legStationsOf } from "../derive.js";
import type { Layout } from "../layout.js";

/** Shorter pieces are rounding left over from a cut, not track. */
const NO_PIECE: Millimetres = 1e-6;
/** Curvatures whose ratio is nearer to one than this are one radius. */
const ONE_RADIUS = 1e-9;

/** Curvature too small to bend anything: what rounding leaves where an easement runs out. */
const NO_CURVATURE: Curvature = 1e-12;

const none = (k: Curvature): boolean => Math.abs(k) <= NO_CURVATURE;
export const isStraight = (g: Segment): boolean => none(g.k0) && none(g.k1);
const same = (a: number, b: number): boolean => Math.abs(a - b) <= ONE_RADIUS * Math.max(Math.abs(a), Math.abs(b));

/** Undefined where a curve eases from one radius to another, which no curve of one radius does. */
export function plainLegs(segments: readonly Segment[]): Leg[] | undefined {
  const pieces = segments.filter((g) => g.length > NO_PIECE);
  const legs: Leg[] = [];
  for (let i = 0; i < pieces.length; ) {
    const first = pieces[i];
    if (!first) break;
    if (isStraight(first)) {
      const before = legs.at(-1);
      if (before && "straight" in before) legs[legs.length - 1] = { straight: before.straight + first.length };
      else legs.push({ straight: first.length });
      i += 1;
      continue;
    }
    const curve = takeCurve(pieces, i);
    if (!curve) return undefined;
    legs.push(curve.leg);
    i = curve.next;
  }
  return legs;
}

/** The curve that begins at piece `i`: an easement in, arcs of one radius, an easement out, each of them there or not. */
function takeCurve(pieces: readonly Segment[], from: number): { leg: Leg; next: number } | undefined {
  let i = from;
  let easeIn = 0;
  let easeOut = 0;
  let turn = 0;
  const first = pieces[i];
  if (!first) return undefined;
  const k = none(first.k0) ? first.k1 : first.k0;
  if (none(first.k0)) {
    easeIn = first.length;
    turn += segmentTurn(first);
    i += 1;
  }
  for (let g = pieces[i]; g && same(g.k0, k) && same(g.k1, k); g = pieces[i]) {
    turn += segmentTurn(g);
    i += 1;
  }
  const last = pieces[i];
  if (last && none(last.k1) && same(last.k0, k)) {
    easeOut = last.length;
    turn += segmentTurn(last);
    i += 1;
  }
  if (i === from) return undefined;
  const easement = Math.abs(easeIn - easeOut) <= NO_PIECE ? easeIn : { in: easeIn, out: easeOut };
  const curve = { radius: 1 / Math.abs(k), angle: toDegrees(Math.abs(turn)), hand: handOf(k), easement };
  return { leg: { curve }, next: i };
}

const handOf = (k: number) => (k > 0 ? ("left" as const) : ("right" as const));

/** The segments leg `index` of a track was laid as; undefined where it was not laid. */
export function segmentsOfLeg(layout: Layout, track: Id, index: number): readonly Segment[] | undefined {
  const line = layout.lines.get(`track:${track}`);
  const stations = legStationsOf(layout, track);
  const [from, to] = [stations[index], stations[index + 1]];
  return line && from !== undefined && to !== undefined ? slicePath(line.path, from, to).segments : undefined;
}
