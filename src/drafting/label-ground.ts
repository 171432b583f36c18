/** The ground labels keep clear of: track, walls, fascias, backdrops, as cells of the drawing. */
import type { Box } from "../geometry/bounds.js";
import type { Point } from "../geometry/pose.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import type { Id } from "../plan/schema.js";
import { lineBox } from "../layout/line-boxes.js";
import { boxesOverlap, pointsBox } from "./boxes.js";
import { fromPaper, type Ground, onPaper, type Paper } from "./label.js";
import { preparedArea } from "./pick-targets.js";
import { makeOccupancy, type Occupancy } from "./occupancy.js";

/** Cells of the ground, px. */
const CELL = 3;

/** Ground of a region of the sheet: track of all these decks, edges of those in hand. Yields after each ring and line. */
export function* groundOf(
  paper: Paper,
  layout: Layout,
  decks: { readonly inHand: readonly Id[]; readonly pale: readonly Id[] },
  region?: Box,
): Generator<undefined, Ground> {
  const { room } = layout.plan;
  const floor = preparedArea([room.outline]);
  const ground: Ground = {
    track: makeOccupancy(CELL),
    edges: makeOccupancy(CELL),
    paleEdges: makeOccupancy(CELL),
    labels: makeOccupancy(CELL),
    halfTrack: paper.halfTrack,
    isOnFloor: (p) => floor.contains(fromPaper(paper, p)),
  };
  const near = (box: Box): boolean => !region || boxesOverlap(box, region);
  const chain = (points: readonly Point[], closed: boolean, into: Occupancy): void => {
    points.forEach((p, i) => {
      const next = points[i + 1] ?? (closed ? points[0] : undefined);
      if (next && near(pointsBox([p, next]))) into.markLine(onPaper(paper, p), onPaper(paper, next));
    });
  };
  chain(room.outline, true, ground.edges);
  for (const obstacle of Object.values(room.obstacles)) chain(obstacle.outline, true, ground.edges);
  for (const [deck, into] of [
    ...decks.inHand.map((id) => [id, ground.edges] as const),
    ...decks.pale.map((id) => [id, ground.paleEdges] as const),
  ]) {
    const space = layout.space.decks.get(deck);
    for (const ring of space?.bench ?? []) {
      chain(ring, true, into);
      yield undefined;
    }
    for (const backdrop of space?.backdrops ?? []) chain(backdrop.line, false, into);
  }
  const drawn = new Set([...decks.inHand, ...decks.pale]);
  for (const line of layout.lines.values()) {
    if (!drawn.has(line.deck) || !near(lineBox(line))) continue;
    markLine(paper, line, ground.track, region);
    yield undefined;
  }
  return ground;
}

function markLine(paper: Paper, { samples }: Line, track: Occupancy, region: Box | undefined): void {
  const { count, x, y } = samples;
  let last: Point = { x: x[0] ?? 0, y: y[0] ?? 0 };
  const far = CELL / paper.scale;
  for (let i = 1; i < count; i++) {
    const p = { x: x[i] ?? 0, y: y[i] ?? 0 };
    if (i < count - 1 && Math.abs(p.x - last.x) + Math.abs(p.y - last.y) < far) continue;
    if (!region || boxesOverlap(pointsBox([last, p]), region)) {
      track.markLine(onPaper(paper, last), onPaper(paper, p));
    }
    last = p;
  }
}
