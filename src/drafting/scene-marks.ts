/**
 * Marks of constant size: ticks at points and ends of track, brackets where track goes into hiding, rings at pinned
 * heights.
 *
 * Always holds: a portal stands at every place where a visible stretch goes on as a hidden one, and looks into the hidden.
 */
import { poseAt } from "../geometry/path.js";
import { type Pose, reversePose } from "../geometry/pose.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import type { NetworkNode } from "../layout/network.js";
import { recordsInHand } from "../layout/options.js";
import type { Id } from "../plan/schema.js";
import { grownBox } from "./boxes.js";
import { deckTone } from "./decks.js";
import { freeEndsOf } from "./snap-targets.js";
import { piecesOf } from "./hidden-pieces.js";
import type { Ink, Look } from "./batch.js";

export interface Mark {
  readonly kind: "points" | "end" | "portal" | "pin";
  /** Along the track; a portal looks into the hidden stretch, an end out of its track. */
  readonly pose: Pose;
  readonly ink: Ink;
  readonly deck: Id;
}

/** px. */
const REACH = 12;

const known = new WeakMap<Layout | Layout["lines"], readonly Mark[]>();

/** Marks of some decks within the visible box. */
export function marksOf(layout: Layout, look: Look, decks: readonly Id[]): Mark[] {
  const of = look.lines ?? layout;
  let all = known.get(of);
  if (!all) {
    all = [...every(layout, look.lines ?? layout.lines)];
    known.set(of, all);
  }
  // A mark reaches a little beyond its place.
  const { minX, minY, maxX, maxY } = grownBox(look.visible, REACH / look.scale);
  return all.filter(
    ({ deck, pose: { x, y } }) => decks.includes(deck) && x >= minX && x <= maxX && y >= minY && y <= maxY,
  );
}

/** Marks that stand on some of the layout's lines. */
function* every(layout: Layout, lines: Layout["lines"]): Generator<Mark> {
  const { plan } = layout;
  const inks = new Map<Id, Ink>();
  for (const deck of Object.keys(plan.decks)) {
    inks.set(deck, deckTone(plan, deck) === "staging" ? "staging-ink" : "ink");
  }
  const mark = (kind: Mark["kind"], line: Line, pose: Pose): Mark => ({
    kind,
    pose,
    ink: inks.get(line.deck) ?? "ink",
    deck: line.deck,
  });
  for (const { host, at } of layout.turnouts.values()) {
    const line = lines.get(host);
    if (line) yield mark("points", line, poseAt(line.path, at));
  }
  for (const { routes } of layout.slips.values()) {
    for (const place of routes.flatMap(({ start, end }) => [start, end])) {
      const line = lines.get(place.line);
      if (line) yield mark("points", line, poseAt(line.path, place.s));
    }
  }
  for (const line of lines.values()) {
    const pieces = piecesOf(layout, line);
    for (const [i, piece] of pieces.entries()) {
      const next = pieces[i + 1];
      if (!next || next.hidden === piece.hidden) continue;
      const pose = poseAt(line.path, piece.to);
      yield mark("portal", line, next.hidden ? pose : reversePose(pose));
    }
  }
  for (const { pose, deck } of freeEndsOf(layout, lines.values()))
    yield { kind: "end", pose, ink: inks.get(deck) ?? "ink", deck };
  yield* portalsAtJoints(layout, lines, mark);
  for (const [, pin] of recordsInHand(plan, plan.pins)) {
    const line = lines.get(`track:${pin.track}`);
    if (line) yield mark("pin", line, poseAt(line.path, pin.at));
  }
}

/** Where a visible line ends and the one it is joined to goes on hidden. */
function* portalsAtJoints(
  layout: Layout,
  lines: Layout["lines"],
  mark: (kind: Mark["kind"], line: Line, pose: Pose) => Mark,
): Generator<Mark> {
  const { edges } = layout.network;
  for (const node of nodesAtEnds(layout, lines)) {
    // Also a joint whose height is pinned, and points at an end.
    const [one, other] = node.sides.map((side) => side.map((i) => edges[i]));
    const first = one?.[0];
    const second = other?.[0];
    if (!first || !second || first.line === second.line) continue;
    for (const [seen, gone] of [
      [first, second],
      [second, first],
    ] as const) {
      const line = lines.get(seen.line);
      const into = layout.lines.get(gone.line);
      if (!line || !into) continue;
      const atEnd = seen.b.node === node.key;
      const visible = !hiddenAt(layout, line, atEnd);
      if (!visible || !hiddenAt(layout, into, gone.b.node === node.key)) continue;
      yield mark("portal", line, atEnd ? line.path.end : reversePose(line.path.start));
    }
  }
}

/** The nodes at the ends of some lines, each once. */
function nodesAtEnds({ network }: Layout, lines: Layout["lines"]): Set<NetworkNode> {
  const found = new Set<NetworkNode>();
  for (const key of lines.keys()) {
    const chain = network.byLine.get(key);
    for (const place of [chain?.[0]?.a, chain?.at(-1)?.b]) {
      const node = place && network.nodes.get(place.node);
      if (node) found.add(node);
    }
  }
  return found;
}

function hiddenAt(layout: Layout, line: Line, atEnd: boolean): boolean {
  const pieces = piecesOf(layout, line);
  return (atEnd ? pieces.at(-1) : pieces[0])?.hidden === true;
}
