/**
 * The floor people walk on: the room and its doorways, less what stands or hangs in the way of someone upright. A bench
 * is in the way where its underside (railhead less thickness) is too low to walk under; a gate only while it is closed.
 * Track carried on roadbed of its own, with no bench under it, is not seen here.
 *
 * Always holds: the floor with gates closed lies within the floor with gates open; both lie within the room and its
 * doorways; the same plan gives the same floor, whatever tracks are in it.
 */
import { type Area, subtractArea, uniteAreas } from "../geometry/areas.js";
import { offsetPoint, type Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { Id, Plan } from "../plan/schema.js";
import { WALK_UNDER } from "../standards/people.js";
import { outlineArea } from "./bench-shape-outline.js";
import { openingPose, outsideOf } from "./openings.js";
import { recordsInHand } from "./options.js";
import type { Space } from "./space.js";

/** Something one cannot walk through upright. */
export interface Barrier {
  readonly kind: "bench" | "gate" | "obstacle";
  /** Collection and id in the plan. */
  readonly thing: string;
  readonly name: string;
  /** Of an obstacle any deck. */
  readonly deck: Id;
  readonly area: Area;
  /** Clear height below it. */
  readonly under: Millimetres;
}

/** A door or passage people come in by. */
export interface Doorway {
  readonly id: Id;
  readonly name: string;
  /** Both ends of its width on the wall, near side first. */
  readonly ends: readonly [Point, Point];
  /** Where someone stands who is about to come in. */
  readonly outside: Point;
  /** The floor beyond the wall, as deep as the doorway is wide, so that nothing but the doorway itself narrows it. */
  readonly lobby: Area;
}

export interface Floor {
  /** What it was derived from; tracks may have changed since. */
  readonly plan: Plan;
  readonly space: Space;
  readonly barriers: readonly Barrier[];
  readonly doorways: readonly Doorway[];
  /** Floor with every gate open. */
  readonly open: Area;
  /** Floor with every gate closed; undefined where there are none to walk round. */
  readonly closed: Area | undefined;
}

/** The lobby reaches so far into the room that it and the room are one, mm. */
const OVERLAP: Millimetres = 1;

export function deriveFloor(plan: Plan, space: Space): Floor {
  const barriers = barriersOf(plan, space);
  const doorways = doorwaysOf(plan);
  const whole = uniteAreas(space.room, ...doorways.map(({ lobby }) => lobby));
  const standing = barriers.filter(({ kind }) => kind !== "gate").map(({ area }) => area);
  const gates = barriers.filter(({ kind }) => kind === "gate").map(({ area }) => area);
  const open = standing.length > 0 ? subtractArea(whole, uniteAreas(...standing)) : whole;
  const closed = gates.length > 0 ? subtractArea(open, uniteAreas(...gates)) : undefined;
  return { plan, space, barriers, doorways, open, closed };
}

function barriersOf(plan: Plan, space: Space): Barrier[] {
  const [anyDeck = ""] = Object.keys(plan.decks);
  const barriers: Barrier[] = [];
  for (const [deck, { height, thickness }] of Object.entries(plan.decks)) {
    const under = Math.max(0, height - thickness);
    if (under >= WALK_UNDER) continue;
    for (const [id, area] of space.decks.get(deck)?.byBench ?? []) {
      const name = plan.benches[id]?.name ?? id;
      barriers.push({ kind: "bench", thing: `benches.${id}`, name, deck, area, under });
    }
    for (const [id, gate] of recordsInHand(plan, plan.gates)) {
      if (gate.deck !== deck) continue;
      const { area } = outlineArea(gate.outline);
      barriers.push({ kind: "gate", thing: `gates.${id}`, name: gate.name ?? id, deck, area, under });
    }
  }
  for (const { id, area, from, to } of space.obstacles) {
    if (from >= WALK_UNDER || to <= 0) continue;
    const name = plan.room.obstacles[id]?.name ?? id;
    barriers.push({ kind: "obstacle", thing: `room.obstacles.${id}`, name, deck: anyDeck, area, under: from });
  }
  return barriers.sort((a, b) => (a.thing < b.thing ? -1 : 1));
}

function doorwaysOf({ room }: Plan): Doorway[] {
  const out = outsideOf(room);
  return Object.entries(room.openings).flatMap(([id, opening]) => {
    const pose = openingPose(room, opening);
    if (!pose || opening.kind === "window") return [];
    const { width } = opening;
    const at = (along: Millimetres, outward: Millimetres): Point => offsetPoint(pose, along, out * outward);
    const lobby = uniteAreas([[at(0, -OVERLAP), at(width, -OVERLAP), at(width, width), at(0, width)]]);
    const ends = [at(0, 0), at(width, 0)] as const;
    return [{ id, name: opening.name ?? opening.kind, ends, outside: at(width / 2, width / 2), lobby }];
  });
}

/** Free depth in front of a doorway, over its whole width: how far in the nearest thing in the way stands, up to `most`. */
export function depthBefore(doorway: Doorway, floor: Area, most: Millimetres): { depth: Millimetres; point: Point } {
  const [near, far] = doorway.ends;
  const width = Math.hypot(far.x - near.x, far.y - near.y);
  const outward = {
    x: (doorway.outside.x - (near.x + far.x) / 2) / (width / 2),
    y: (doorway.outside.y - (near.y + far.y) / 2) / (width / 2),
  };
  const along = { x: (far.x - near.x) / width, y: (far.y - near.y) / width };
  const at = (a: Millimetres, inward: Millimetres): Point => ({
    x: near.x + along.x * a - outward.x * inward,
    y: near.y + along.y * a - outward.y * inward,
  });
  // What lies beside the jambs, to within rounding, is not before the doorway.
  const before = [[at(OVERLAP, 0), at(width - OVERLAP, 0), at(width - OVERLAP, most), at(OVERLAP, most)]];
  const inward = (p: Point): Millimetres => (near.x - p.x) * outward.x + (near.y - p.y) * outward.y;
  let depth = most;
  let point = at(width / 2, most / 2);
  for (const ring of subtractArea(uniteAreas(before), floor)) {
    for (const p of ring) {
      if (inward(p) >= depth) continue;
      depth = Math.max(0, inward(p));
      point = p;
    }
  }
  return { depth, point };
}
