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
import {
  changedPins,
  edgeRun,
  edgesByLine,
  hasRun,
  movedPiece,
  type MovedPiece,
  networkPieces,
  type Piece,
  samePiece,
} from "./heights-pieces.js";
import type { Finding } from "./layout.js";
import type { Line, LineKey } from "./line.js";
import type { Network } from "./network.js";
import type { Profile, VerticalCurve } from "./profile.js";
import { type Break, type Curves, curvesAt, findBreaks, Ways } from "./vertical-curves.js";

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
  readonly edgesByLine: ReadonlyMap<LineKey, readonly number[]>;
  /** Heights of the piece's nodes. */
  readonly heights: Float64Array;
  readonly ways: Ways;
  readonly breaks: readonly Break[];
  /** Edges the vertical curves depend on. */
  readonly reached: Curves["reached"];
  readonly profiles: ReadonlyMap<LineKey, Profile>;
  readonly findings: readonly Finding[];
}

export interface Heights {
  readonly profiles: ReadonlyMap<LineKey, Profile>;
  readonly findings: readonly Finding[];
  /** Lines whose profile is not the object it was in the previous heights. */
  readonly solved: number;
  /** What the next derivation may take over, and what it was derived from. */
  readonly pieces: readonly SolvedPiece[];
  readonly network: Network;
  readonly decks: Plan["decks"];
  readonly verticalCurve: Millimetres;
}

export function deriveProfiles(input: HeightsInput, previous?: Heights): Heights {
  const { network, decks, verticalCurve } = input;
  const before = previous?.verticalCurve === verticalCurve ? previous : undefined;
  const moved =
    before?.network.nodes === network.nodes && before.decks === decks ? movedPieces(input, before) : undefined;
  const pieces = moved ?? piecesAfresh(input, previous, before);
  const profiles = new Map<LineKey, Profile>();
  for (const piece of pieces) for (const [line, profile] of piece.profiles) profiles.set(line, profile);
  let solved = 0;
  for (const [line, profile] of profiles) if (previous?.profiles.get(line) !== profile) solved++;
  return {
    profiles: previous && solved === 0 && previous.profiles.size === profiles.size ? previous.profiles : profiles,
    findings: pieces.flatMap(({ findings }) => findings),
    solved,
    pieces,
    network,
    decks,
    verticalCurve,
  };
}

function piecesAfresh(input: HeightsInput, previous: Heights | undefined, before: Heights | undefined): SolvedPiece[] {
  const { network, lines, decks, verticalCurve } = input;
  const byLine = new Map(before?.pieces.map((solved) => [solved.piece.edges[0]?.line, solved]));
  return networkPieces(network, lines, decks).map((piece) => {
    const same = byLine.get(piece.edges[0]?.line);
    // The edges say the same, but where they stand in the network is new.
    return same && samePiece(same.piece, piece) ? { ...same, piece } : solvePiece(piece, verticalCurve, previous);
  });
}

/** The pieces of a network that hangs together as it did; undefined where one of them does not. */
function movedPieces(input: HeightsInput, before: Heights): SolvedPiece[] | undefined {
  const { verticalCurve } = input;
  const pieces: SolvedPiece[] = [];
  const repinned = changedPins(before.network, input.network);
  for (const solved of before.pieces) {
    const moved = movedPiece(solved.piece, input, repinned);
    if (!moved) return undefined;
    pieces.push(
      moved.piece === solved.piece
        ? solved
        : (stillLevel(solved, moved) ?? solvePiece(moved.piece, verticalCurve, before, solved)),
    );
  }
  return pieces;
}

function solvePiece(
  piece: Piece,
  verticalCurve: Millimetres,
  previous: Heights | undefined,
  like?: SolvedPiece,
): SolvedPiece {
  const { pins, findings } = gatherPins(piece);
  const heights = nodeHeights(piece, pins);
  const ways = new Ways(piece, like?.ways);
  const breaks = findBreaks(ways, heights, verticalCurve);
  const ofLine = like?.edgesByLine ?? edgesByLine(piece);
  const { byLine, reached } = curvesAt(ways, breaks);
  const profiles = new Map<LineKey, Profile>();
  for (const [line, edges] of ofLine)
    profiles.set(line, profileOf(piece, edges, heights, byLine.get(line) ?? [], previous?.profiles.get(line)));
  return { piece, edgesByLine: ofLine, heights, ways, breaks, reached, profiles, findings };
}

/**
 * A piece of which only level edges changed: nothing flows through them, so whatever their length no height changes,
 * and no break of grade. Undefined where one of them climbs, or there is a finding to be told anew.
 */
function stillLevel(solved: SolvedPiece, { piece, changed }: MovedPiece): SolvedPiece | undefined {
  const { heights, findings, breaks, edgesByLine: ofLine } = solved;
  if (findings.length > 0 || piece.deckHeight !== solved.piece.deckHeight || piece.pins !== solved.piece.pins)
    return undefined;
  for (const i of changed) {
    const climbs = heights[piece.ends[2 * i] ?? 0] !== heights[piece.ends[2 * i + 1] ?? 0];
    if (climbs && piece.edges[i]?.plane === undefined) return undefined;
  }
  const ways = new Ways(piece, solved.ways);
  const profiles = new Map(solved.profiles);
  const write = (line: LineKey, curves: readonly VerticalCurve[]): void =>
    void profiles.set(line, profileOf(piece, ofLine.get(line) ?? [], heights, curves, profiles.get(line)));
  if (changed.every((i) => solved.reached[i] === 0)) {
    for (const i of changed) {
      const line = piece.edges[i]?.line ?? "track:";
      write(line, solved.profiles.get(line)?.curves ?? []);
    }
    return { ...solved, piece, ways, profiles };
  }
  const { byLine, reached } = curvesAt(ways, breaks);
  const lines = new Set<LineKey>(byLine.keys());
  for (const i of changed) lines.add(piece.edges[i]?.line ?? "track:");
  for (const [line, { curves: own }] of solved.profiles) if (own.length > 0) lines.add(line);
  for (const line of lines) write(line, byLine.get(line) ?? []);
  return { piece, edgesByLine: ofLine, heights, ways, breaks, reached, profiles, findings };
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

/** The profile of a line from its edges in order along it; `before` where it comes out the same. */
function profileOf(
  piece: Piece,
  edges: readonly number[],
  heights: Float64Array,
  curves: readonly VerticalCurve[],
  before: Profile | undefined,
): Profile {
  const stations: Millimetres[] = [];
  const high: Millimetres[] = [];
  for (const i of edges) {
    const from = piece.edges[i]?.from ?? 0;
    if (stations.at(-1) !== from) {
      stations.push(from);
      high.push(heights[piece.ends[2 * i] ?? 0] ?? 0);
    }
    stations.push(piece.edges[i]?.to ?? 0);
    high.push(heights[piece.ends[2 * i + 1] ?? 0] ?? 0);
  }
  const same =
    before && near(stations, before.stations) && near(high, before.heights) && sameCurves(curves, before.curves);
  return same ? before : { stations, heights: high, curves };
}

function near(a: readonly number[], b: readonly number[]): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (!(Math.abs((a[i] ?? 0) - (b[i] ?? Number.NaN)) <= SAME)) return false;
  return true;
}

const CURVE_FIGURES = ["at", "length", "wanted", "change"] as const;

const sameCurves = (a: readonly VerticalCurve[], b: readonly VerticalCurve[]): boolean =>
  a.length === b.length &&
  a.every((curve, i) => {
    const other = b[i];
    return other && CURVE_FIGURES.every((figure) => Math.abs(curve[figure] - other[figure]) <= SAME);
  });
