/** The shape of a thing on the sheet: what is drawn over to show it chosen, and the box to look at to see it. */
import type { Area } from "../geometry/areas.js";
import { type Box, pathBounds } from "../geometry/bounds.js";
import { type Path, poseAt, slicePath } from "../geometry/path.js";
import { offsetPoint, type Point } from "../geometry/pose.js";
import { legStationsOf } from "../layout/derive.js";
import type { Layout } from "../layout/layout.js";
import { pointsBox, unitedBox } from "./boxes.js";
import { openingPose } from "../layout/openings.js";
import type { Thing } from "./thing.js";
import { pitEdge } from "./trackwork-shapes.js";

export type Shape =
  | { readonly kind: "path"; readonly path: Path }
  | { readonly kind: "chain"; readonly points: readonly Point[]; readonly closed: boolean }
  | { readonly kind: "spot"; readonly at: Point };

/** Shapes of a thing; none for what is not in the layout (another option's, unresolved, or without a place). */
export function shapesOf(layout: Layout, thing: Thing): Shape[] {
  const { room } = layout.plan;
  if (thing.kind === "wall") {
    const from = room.outline[thing.wall];
    const to = room.outline[thing.wall + 1] ?? room.outline[0];
    return from && to ? [{ kind: "chain", points: [from, to], closed: false }] : [];
  }
  if (thing.kind === "opening") {
    const opening = room.openings[thing.id];
    const pose = opening && openingPose(room, opening);
    return pose ? [{ kind: "chain", points: [pose, offsetPoint(pose, opening.width, 0)], closed: false }] : [];
  }
  if (thing.kind !== "record") return rings(layout.space.obstacles.find(({ id }) => id === thing.id)?.area);
  const { collection, id } = thing;
  if (collection === "tracks") return trackShapes(layout, id, thing.leg);
  if (collection === "turnouts") return turnoutShapes(layout, id);
  if (collection === "slips") {
    const routes = layout.slips.get(id)?.routes ?? [];
    return routes.flatMap(({ line }) => layout.lines.get(line) ?? []).map(({ path }) => ({ kind: "path", path }));
  }
  if (collection === "turntables") {
    const turntable = layout.turntables.get(id);
    return rings(turntable && [pitEdge(turntable)]);
  }
  if (collection === "pins") {
    const pin = layout.plan.pins[id];
    const line = pin && layout.lines.get(`track:${pin.track}`);
    return line ? [{ kind: "spot", at: poseAt(line.path, pin.at) }] : [];
  }
  if (collection === "labels") {
    const label = layout.plan.labels[id];
    return label ? [{ kind: "spot", at: label.at }] : [];
  }
  if (collection === "decks") return rings(layout.space.decks.get(id)?.bench);
  if (collection === "gates") return rings(layout.plan.gates[id] && [layout.plan.gates[id].outline]);
  for (const space of layout.space.decks.values()) {
    if (collection === "benches" && space.byBench.has(id)) return rings(space.byBench.get(id));
    const backdrop = collection === "backdrops" ? space.backdrops.find((b) => b.id === id) : undefined;
    if (backdrop) return [{ kind: "chain", points: backdrop.line, closed: false }];
  }
  return [];
}

const rings = (area: Area | undefined): Shape[] =>
  (area ?? []).map((points) => ({ kind: "chain", points, closed: true }));

function trackShapes(layout: Layout, id: string, leg: number | undefined): Shape[] {
  const line = layout.lines.get(`track:${id}`);
  if (!line) return [];
  const stations = leg === undefined ? [] : legStationsOf(layout, id).slice(leg, leg + 2);
  const [from, to] = stations;
  const path = from === undefined || to === undefined ? line.path : slicePath(line.path, from, to);
  return [{ kind: "path", path }];
}

function turnoutShapes(layout: Layout, id: string): Shape[] {
  const turnout = layout.turnouts.get(id);
  const host = turnout && layout.lines.get(turnout.host);
  if (!turnout || !host) return [];
  const { joint, heel, at, routes } = turnout;
  const through = slicePath(host.path, Math.min(joint, heel, at), Math.max(joint, heel, at));
  const diverging = routes.flatMap(({ line }) => layout.lines.get(line)?.path ?? []);
  return [through, ...diverging].map((path) => ({ kind: "path", path }));
}

/** The box that holds a thing; undefined where it has no shape. */
export function thingBox(layout: Layout, thing: Thing): Box | undefined {
  return shapesOf(layout, thing)
    .map((shape) =>
      shape.kind === "path" ? pathBounds(shape.path) : pointsBox(shape.kind === "spot" ? [shape.at] : shape.points),
    )
    .reduce<Box | undefined>(unitedBox, undefined);
}
