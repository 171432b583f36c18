/**
 * What lies under a point of the sheet.
 *
 * Always holds: every hit is within reach, or holds the point; marks come before track, track before edges, edges before
 * the areas around the point; within each the nearest comes first; another deck is told only where the deck in hand and
 * the room have nothing to offer.
 */
import type { Box } from "../geometry/bounds.js";
import type { Point } from "../geometry/pose.js";
import { type BoxIndex, indexBoxes } from "../geometry/search.js";
import type { Millimetres } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Id } from "../plan/schema.js";
import { levelWith } from "./decks.js";
import { PICK_KINDS, type PickKind, type Target, targetsOf, type Tier } from "./pick-targets.js";
import type { Thing } from "./thing.js";

export interface PickWishes {
  readonly point: Point;
  /** How near something must be, mm. */
  readonly reach: Millimetres;
  /** The deck in hand. */
  readonly deck: Id;
  /** Kinds that come before all others, in this order. */
  readonly prefer?: readonly PickKind[];
  /** Kinds that are looked for; all where left out. */
  readonly only?: readonly PickKind[];
  /** Length of one px on the sheet, mm, for what is drawn at a constant size; a letter of a name otherwise counts as nothing. */
  readonly px?: Millimetres;
}

export interface Hit {
  /** A track is told with the leg under the point. */
  readonly thing: Thing;
  readonly kind: PickKind;
  readonly tier: Tier;
  readonly deck: Id | undefined;
  readonly distance: Millimetres;
  /** Nearest place of the thing. */
  readonly point: Point;
  /** Distance along the track (for a turnout, along its host). */
  readonly s?: Millimetres;
}

interface Targets {
  readonly all: readonly Target[];
  readonly index: BoxIndex;
}

const known = new WeakMap<Layout, Targets>();

function targetsIn(layout: Layout): Targets {
  let targets = known.get(layout);
  if (!targets) {
    const all = [...targetsOf(layout)];
    const boxes = new Float64Array(4 * all.length);
    all.forEach(({ box }, i) => boxes.set([box.minX, box.minY, box.maxX, box.maxY], 4 * i));
    targets = { all, index: indexBoxes(boxes) };
    known.set(layout, targets);
  }
  return targets;
}

const TIERS: readonly Tier[] = ["mark", "line", "edge", "inside"];
/** Distances closer than this are equal: a turnout and its host measured by the same sum. */
const EQUAL: Millimetres = 1e-6;

/** Everything under the point, what is meant most likely first. A point that is not finite meets nothing. */
export function pick(layout: Layout, wishes: PickWishes): Hit[] {
  const { point, reach, deck, prefer = [], only, px = 0 } = wishes;
  if (!Number.isFinite(point.x) || !Number.isFinite(point.y)) return [];
  const { all, index } = targetsIn(layout);
  const level = new Set(levelWith(layout.plan, deck));
  const here: Hit[] = [];
  const elsewhere: Hit[] = [];
  index.visit(point.x - reach, point.y - reach, point.x + reach, point.y + reach, (i) => {
    const target = all[i];
    if (!target || (only && !only.includes(target.kind))) return;
    const measured = target.measure(point, px);
    if (!measured || (measured.distance > reach && measured.tier !== "inside")) return;
    // Near its edge an area is pointed at by the edge, from either side.
    const tier = measured.tier === "inside" && measured.distance <= reach ? "edge" : measured.tier;
    const { leg, ...rest } = measured;
    const thing = leg === undefined ? target.thing : withLeg(target.thing, leg);
    const hit: Hit = { ...rest, thing, tier, kind: target.kind, deck: target.deck };
    (target.deck === undefined || level.has(target.deck) ? here : elsewhere).push(hit);
  });
  const rank = (hit: Hit): number => {
    const wanted = prefer.indexOf(hit.kind);
    return wanted === -1 ? prefer.length : wanted;
  };
  return (here.length > 0 ? here : elsewhere).sort(
    (a, b) =>
      rank(a) - rank(b) ||
      TIERS.indexOf(a.tier) - TIERS.indexOf(b.tier) ||
      (Math.abs(a.distance - b.distance) > EQUAL && a.tier !== "inside" ? a.distance - b.distance : 0) ||
      PICK_KINDS.indexOf(a.kind) - PICK_KINDS.indexOf(b.kind) ||
      a.distance - b.distance,
  );
}

const withLeg = (thing: Thing, leg: number): Thing => (thing.kind === "record" ? { ...thing, leg } : thing);

/** Everything that lies wholly within a box of the sheet: of the room, and of the deck in hand or level with it. Labels count by their place. */
export function within(layout: Layout, box: Box, deck: Id, only?: readonly PickKind[]): Thing[] {
  const { all, index } = targetsIn(layout);
  const level = new Set(levelWith(layout.plan, deck));
  const found: number[] = [];
  index.visit(box.minX, box.minY, box.maxX, box.maxY, (i) => {
    const target = all[i];
    if (!target || (only && !only.includes(target.kind))) return;
    if (target.deck !== undefined && !level.has(target.deck)) return;
    if (target.kind === "labels") {
      const at = target.thing.kind === "record" ? layout.plan.labels[target.thing.id]?.at : undefined;
      if (at && at.x >= box.minX && at.x <= box.maxX && at.y >= box.minY && at.y <= box.maxY) found.push(i);
      return;
    }
    const { minX, minY, maxX, maxY } = target.box;
    if (minX >= box.minX && minY >= box.minY && maxX <= box.maxX && maxY <= box.maxY) found.push(i);
  });
  return found.sort((a, b) => a - b).flatMap((i) => all[i]?.thing ?? []);
}
