/** What a choice of things stands for when it is moved, copied or taken away. */
import type { Point } from "../../geometry/pose.js";
import { type Box, pathBounds } from "../../geometry/bounds.js";
import type { Ref } from "../../plan/collections.js";
import type { Anchor, Id, Plan, Track } from "../../plan/schema.js";
import type { Layout } from "../layout.js";

/** Records and obstacles by id, as they were chosen; a leg stands for its track. */
export interface Chosen {
  readonly refs: readonly Ref[];
  readonly obstacles: readonly Id[];
}

export const idsOf = (chosen: Chosen, collection: Ref["collection"]): ReadonlySet<Id> =>
  new Set(chosen.refs.filter((ref) => ref.collection === collection).map((ref) => ref.id));

/** The track an anchor hangs on; undefined for a place on the sheet, and for a turnout that is not there. */
export function hostOf(plan: Plan, anchor: Anchor): Id | undefined {
  if ("track" in anchor) return anchor.track;
  if ("beside" in anchor) return anchor.beside.track;
  if ("turntable" in anchor) return plan.turntables[anchor.turntable]?.on;
  return "turnout" in anchor ? plan.turnouts[anchor.turnout]?.on : undefined;
}

/** Tracks a track runs beside. */
export const hostsBeside = (track: Track): Id[] =>
  track.legs.flatMap((leg) => ("beside" in leg ? [leg.beside.track] : []));

/** Middle of all that is chosen; undefined where none of it has a place on the sheet. */
export function middleOf(layout: Layout, chosen: Chosen): Point | undefined {
  const boxes: Box[] = [];
  const points = (list: readonly Point[]): void => {
    for (const { x, y } of list) boxes.push({ minX: x, minY: y, maxX: x, maxY: y });
  };
  const { plan } = layout;
  for (const { collection, id } of chosen.refs) {
    if (collection === "tracks") {
      const line = layout.lines.get(`track:${id}`);
      if (line) boxes.push(pathBounds(line.path));
    } else if (collection === "turntables") {
      const pit = layout.turntables.get(id);
      if (pit) points([pit.centre]);
    } else if (collection === "benches") {
      const shape = plan.benches[id]?.shape;
      if (shape && "outline" in shape) points(shape.outline);
      if (shape && "disc" in shape) points([shape.disc.centre]);
    } else if (collection === "backdrops") points(plan.backdrops[id]?.line ?? []);
    else if (collection === "gates") points(plan.gates[id]?.outline ?? []);
    else if (collection === "labels") points(plan.labels[id] ? [plan.labels[id].at] : []);
  }
  for (const id of chosen.obstacles) points(plan.room.obstacles[id]?.outline ?? []);
  if (boxes.length === 0) return undefined;
  const least = (side: (box: Box) => number): number =>
    boxes.reduce((a, box) => Math.min(a, side(box)), Number.POSITIVE_INFINITY);
  const most = (side: (box: Box) => number): number =>
    boxes.reduce((a, box) => Math.max(a, side(box)), Number.NEGATIVE_INFINITY);
  return {
    x: (least((b) => b.minX) + most((b) => b.maxX)) / 2,
    y: (least((b) => b.minY) + most((b) => b.maxY)) / 2,
  };
}
