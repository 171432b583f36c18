/**
 * Heights and profiles: the network's heights between the pins, and each line's profile with its vertical curves.
 *
 * Always holds: a pinned node has its pinned height; between pins no height is beyond them; a dead end is level; a
 * piece without a pin is level at its deck; a turnout's diverging end has the height of the heel on its host; two lines
 * that meet at a node have the same height there. Deriving with previous heights gives the same profiles as without,
 * within `SAME`, and a profile that comes out the same is the previous object.
 */
import { poseAt } from "../geometry/path.js";
import type { Millimetres } from "../geometry/units.js";
import type { Plan } from "../plan/schema.js";
import { type Link, solveHeights } from "./height-solve.js";
import { edgeRun, hasRun, networkPieces, type Piece, samePiece } from "./heights-pieces.js";
import type { Finding } from "./layout.js";
import type { Line, LineKey } from "./line.js";
import type { Network } from "./network.js";
import type { Profile, VerticalCurve } from "./profile.js";
import { verticalCurves } from "./vertical-curves.js";

/** Pins on one height that differ by less agree: a hundredth of a millimetre is finer than anyone can build. */
const PINS_AGREE: Millimetres = 0.01;

/** Figures of a profile nearer than this came from the same heights along another way of computing. */
const SAME = 1e-9;

export interface HeightsInput {
  readonly network: Network;
  readonly lines: ReadonlyMap<LineKey, Line>;
  readonly decks: Plan["decks"];
  /** Length of vertical curve per percent of change of grade, mm. */
  readonly verticalCurve: Millimetres;
}

interface SolvedPiece {
  readonly piece: Piece;
  readonly profiles: ReadonlyMap<LineKey, Profile>;
  readonly findings: readonly Finding[];
}

export interface Heights {
  readonly profiles: ReadonlyMap<LineKey, Profile>;
  readonly findings: readonly Finding[];
  /** Lines whose profile is not the object it was in the previous heights. */
  readonly solved: number;
  /** What the next derivation may take over: each line's piece, and the setting the curves were laid by. */
  readonly pieces: ReadonlyMap<LineKey, SolvedPiece>;
  readonly verticalCurve: Millimetres;
}

export function deriveProfiles(input: HeightsInput, previous?: Heights): Heights {
  const { network, lines, decks, verticalCurve } = input;
  const profiles = new Map<LineKey, Profile>();
  const pieces = new Map<LineKey, SolvedPiece>();
  const findings: Finding[] = [];
  let solved = 0;
  for (const piece of networkPieces(network, lines, decks)) {
    const before =
      previous?.verticalCurve === verticalCurve ? previous.pieces.get(piece.edges[0]?.line ?? "track:") : undefined;
    const same = before && samePiece(before.piece, piece) ? before : solvePiece(piece, verticalCurve, previous);
    findings.push(...same.findings);
    for (const [line, profile] of same.profiles) {
      profiles.set(line, profile);
      pieces.set(line, same);
      if (previous?.profiles.get(line) !== profile) solved++;
    }
  }
  const asBefore = previous && solved === 0 && previous.profiles.size === profiles.size;
  return { profiles: asBefore ? previous.profiles : profiles, findings, solved, pieces, verticalCurve };
}

function solvePiece(piece: Piece, verticalCurve: Millimetres, previous: Heights | undefined): SolvedPiece {
  const { pins, findings } = gatherPins(piece);
  const heights = nodeHeights(piece, pins);
  const curves = verticalCurves(piece, heights, verticalCurve);
  const profiles = new Map<LineKey, Profile>();
  for (const [line, straight] of straightGrades(piece, heights)) {
    const profile: Profile = { ...straight, curves: curves.get(line) ?? [] };
    const before = previous?.profiles.get(line);
    profiles.set(line, before && sameProfile(before, profile) ? before : profile);
  }
  return { piece, profiles, findings };
}

/** The pins by shared height. Where several on one height disagree the first holds, and the others are findings. */
function gatherPins(piece: Piece): { readonly pins: Float64Array; readonly findings: Finding[] } {
  const pins = new Float64Array(piece.heightCount).fill(Number.NaN);
  const findings: Finding[] = [];
  for (let node = 0; node < piece.pins.length; node++) {
    const pin = piece.pins[node] ?? Number.NaN;
    if (Number.isNaN(pin)) continue;
    const shared = piece.shared[node] ?? 0;
    const held = pins[shared] ?? Number.NaN;
    if (Number.isNaN(held)) pins[shared] = pin;
    else if (Math.abs(pin - held) > PINS_AGREE) findings.push(pinsConflict(piece, node, pin, held));
  }
  return { pins, findings };
}

function pinsConflict(piece: Piece, node: number, pin: Millimetres, held: Millimetres): Finding {
  const end = piece.ends.indexOf(node);
  const edge = piece.edges[end >> 1];
  const line = piece.lines[end >> 1];
  const at = line && edge ? poseAt(line.path, end % 2 === 0 ? edge.from : edge.to) : { x: 0, y: 0 };
  return {
    kind: "pins-conflict",
    thing: line ? `${line.kind}s.${line.id}` : "",
    deck: line?.deck ?? "",
    point: { x: at.x, y: at.y },
    note: `pinned at ${pin} mm where the same height is pinned at ${held} mm elsewhere`,
  };
}

/** Heights of the piece's nodes; what no pin reaches lies at the piece's deck. */
function nodeHeights(piece: Piece, pins: Float64Array): Float64Array {
  const links: Link[] = [];
  piece.edges.forEach((edge, i) => {
    if (edge.plane !== undefined || !hasRun(edge)) return;
    const a = piece.shared[piece.ends[2 * i] ?? 0] ?? 0;
    const b = piece.shared[piece.ends[2 * i + 1] ?? 0] ?? 0;
    links.push({ a, b, length: edgeRun(edge) });
  });
  const heights = solveHeights(piece.heightCount, links, pins);
  return Float64Array.from(piece.shared, (shared) => {
    const height = heights[shared] ?? Number.NaN;
    return Number.isNaN(height) ? piece.deckHeight : height;
  });
}

type StraightGrades = Pick<Profile, "stations" | "heights">;

function straightGrades(piece: Piece, heights: Float64Array): Map<LineKey, StraightGrades> {
  const ofLine = new Map<LineKey, number[]>();
  piece.edges.forEach((edge, i) => {
    const own = ofLine.get(edge.line);
    if (own) own.push(i);
    else ofLine.set(edge.line, [i]);
  });
  const from = (i: number): Millimetres => piece.edges[i]?.from ?? 0;
  const result = new Map<LineKey, StraightGrades>();
  for (const [line, own] of ofLine) {
    own.sort((a, b) => from(a) - from(b));
    const stations: Millimetres[] = [];
    const high: Millimetres[] = [];
    for (const i of own) {
      if (stations.at(-1) !== from(i)) {
        stations.push(from(i));
        high.push(heights[piece.ends[2 * i] ?? 0] ?? 0);
      }
      stations.push(piece.edges[i]?.to ?? 0);
      high.push(heights[piece.ends[2 * i + 1] ?? 0] ?? 0);
    }
    result.set(line, { stations, heights: high });
  }
  return result;
}

const near = (a: readonly number[], b: readonly number[]): boolean =>
  a.length === b.length && a.every((value, i) => Math.abs(value - (b[i] ?? Number.NaN)) <= SAME);

const curveFigures = (curves: readonly VerticalCurve[]): number[] =>
  curves.flatMap((c) => [c.at, c.length, c.wanted, c.change]);

const sameProfile = (a: Profile, b: Profile): boolean =>
  near(a.stations, b.stations) &&
  near(a.heights, b.heights) &&
  a.curves.length === b.curves.length &&
  near(curveFigures(a.curves), curveFigures(b.curves));
