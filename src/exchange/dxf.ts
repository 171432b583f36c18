/**
 * The layout as a DXF drawing to cut and drill from: centre lines by deck and class of track, benches, gates, backdrops,
 * walls and obstacles, each on its layer, in millimetres of the room.
 *
 * Always holds: equal input gives equal text; every line of the layout is on the layer of its deck and class, within
 * 0.01 mm; a name is lettering and never a group of the file.
 */
import { decksInOrder } from "../drafting/decks.js";
import { bridgeAndStubs, bumpersOn, bumperShape, pitEdge } from "../drafting/trackwork-shapes.js";
import { offsetPoint, type Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import { openingPose } from "../layout/openings.js";
import { recordsInHand } from "../layout/options.js";
import type { Id, TrackClass } from "../plan/schema.js";
import { drawPath } from "./dxf/draw-path.js";
import { layerNames, ROOM } from "./dxf/layer-names.js";
import { type ColourNumber, DxfFile } from "./dxf/tags.js";

export interface DxfOptions {
  /** One deck and the room round it; every deck where left out. */
  readonly deck?: Id;
  /** Both rails besides the centre lines, on layers of their own. */
  readonly rails?: boolean;
}

/** What lies on a deck besides track; layers are called `LOWER-BENCH`. */
type OnDeck = "BENCH" | "GATE" | "BACKDROP" | "RAIL" | "TURNTABLE" | "BUMPER" | "TEXT";

const COLOURS: Readonly<Record<OnDeck | Uppercase<TrackClass>, ColourNumber>> = {
  MAIN: 1,
  BRANCH: 30,
  SIDING: 5,
  LEAD: 5,
  YARD: 4,
  SPUR: 4,
  STAGING: 6,
  BENCH: 3,
  GATE: 2,
  BACKDROP: 8,
  RAIL: 8,
  TURNTABLE: 6,
  BUMPER: 8,
  TEXT: 7,
};

/** Height of lettering, mm of room: read at arm's length (common practice, no source). */
const LETTERING: Millimetres = 20;

export function drawDxf(layout: Layout, options: DxfOptions = {}): string {
  const dxf = new DxfFile();
  drawRoom(dxf, layout);
  const names = layerNames(layout.plan);
  for (const deck of decksInOrder(layout.plan)) {
    if (options.deck !== undefined && options.deck !== deck) continue;
    drawDeck(dxf, layout, deck, names.get(deck) ?? ROOM, options.rails === true);
  }
  return dxf.toString();
}

function drawRoom(dxf: DxfFile, { plan, space }: Layout): void {
  dxf.polyline(dxf.layer(`${ROOM}-WALL`, 7), plan.room.outline, true);
  for (const opening of Object.values(plan.room.openings)) {
    const pose = openingPose(plan.room, opening);
    if (pose) dxf.line(dxf.layer(`${ROOM}-OPENING`, 8), pose, offsetPoint(pose, opening.width, 0));
  }
  for (const { area } of space.obstacles) drawArea(dxf, dxf.layer(`${ROOM}-OBSTACLE`, 8), area);
}

function drawDeck(dxf: DxfFile, layout: Layout, deck: Id, name: string, rails: boolean): void {
  const { plan } = layout;
  const on = (what: keyof typeof COLOURS): string => dxf.layer(`${name}-${what}`, COLOURS[what]);
  const space = layout.space.decks.get(deck);
  if (space && space.bench.length > 0) drawArea(dxf, on("BENCH"), space.bench);
  for (const [, gate] of recordsInHand(plan, plan.gates)) {
    if (gate.deck === deck) dxf.polyline(on("GATE"), gate.outline, true);
  }
  for (const { line } of space?.backdrops ?? []) dxf.polyline(on("BACKDROP"), line);
  for (const line of layout.lines.values()) {
    if (line.deck !== deck) continue;
    drawPath(dxf, on(line.class.toUpperCase() as Uppercase<TrackClass>), line.path);
    if (rails) for (const side of [1, -1]) drawPath(dxf, on("RAIL"), line.path, (side * plan.scale.gauge) / 2);
    const called = line.kind === "track" ? plan.tracks[line.id]?.name : undefined;
    if (called) dxf.text(on("TEXT"), line.path.start, LETTERING, called);
  }
  for (const turntable of layout.turntables.values()) {
    if (turntable.deck !== deck) continue;
    dxf.polyline(on("TURNTABLE"), pitEdge(turntable), true);
    for (const chain of bridgeAndStubs(layout, turntable)) dxf.polyline(on("TURNTABLE"), chain);
  }
  for (const end of bumpersOn(plan, layout.lines, deck)) {
    for (const chain of bumperShape(end, plan.scale.gauge)) dxf.polyline(on("BUMPER"), chain);
  }
  for (const [, label] of recordsInHand(plan, plan.labels)) {
    if (label.deck === deck) dxf.text(on("TEXT"), label.at, LETTERING, label.text);
  }
}

function drawArea(dxf: DxfFile, layer: string, area: readonly (readonly Point[])[]): void {
  for (const ring of area) dxf.polyline(layer, ring, true);
}
