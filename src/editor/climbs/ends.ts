/** Where a climb may leave and arrive: ends nothing follows, branches of turnouts, places on a track. */
import { type ClimbEnd, isTurnoutPlace } from "../../climb/request.js";
import { levelWith } from "../../drafting/decks.js";
import { type FreeEnd, freeEnds } from "../../drafting/snap-targets.js";
import { poseAt } from "../../geometry/path.js";
import type { Pose } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import type { Layout } from "../../layout/layout.js";
import type { LineKey } from "../../layout/line.js";
import { heightOn } from "../../layout/place-names.js";
import type { Id } from "../../plan/schema.js";

export interface EndSpot {
  readonly end: ClimbEnd;
  readonly pose: Pose;
  readonly deck: Id;
  /** Railhead, mm above the floor. */
  readonly height: Millimetres;
  readonly word: string;
}

export const sameEnd = (a: ClimbEnd | undefined, b: ClimbEnd | undefined): boolean =>
  a !== undefined && b !== undefined && endKey(a) === endKey(b);

/** One text for one end; two that differ are different ends. */
export function endKey(end: ClimbEnd): string {
  if ("turnout" in end) return `turnout ${end.turnout} ${end.route ?? ""}`;
  if (isTurnoutPlace(end)) return `place ${end.track} ${end.at} ${end.facing ?? ""} ${end.hand ?? ""}`;
  return `track ${end.track} ${end.end}`;
}

const known = new WeakMap<Layout, readonly EndSpot[]>();

/** The free ends, in the plan's order; one with a bumper is meant to stay an end. */
export function climbEnds(layout: Layout): readonly EndSpot[] {
  let ends = known.get(layout);
  if (!ends) known.set(layout, (ends = freeEnds(layout).flatMap((free) => spotOf(layout, free) ?? [])));
  return ends;
}

export function endsOnDeck(layout: Layout, deck: Id): readonly EndSpot[] {
  const level = levelWith(layout.plan, deck);
  return climbEnds(layout).filter((spot) => level.includes(spot.deck));
}

function spotOf(layout: Layout, { anchor, pose, deck, word }: FreeEnd): EndSpot | undefined {
  if (!("track" in anchor || "turnout" in anchor)) return undefined;
  if ("track" in anchor && layout.plan.tracks[anchor.track]?.bumpers?.includes(anchor.end)) return undefined;
  const line = lineOf(layout, anchor);
  if (!line) return undefined;
  const atStart = "track" in anchor && anchor.end === "start";
  const height = heightOn(layout, line, atStart ? 0 : (layout.lines.get(line)?.path.length ?? 0));
  return { end: anchor, pose, deck, height, word };
}

function lineOf(layout: Layout, end: ClimbEnd): LineKey | undefined {
  if ("track" in end) return layout.lines.has(`track:${end.track}`) ? `track:${end.track}` : undefined;
  const routes = layout.turnouts.get(end.turnout)?.routes ?? [];
  return (routes.find(({ side }) => side === end.route) ?? routes[0])?.line;
}

/** Where an end lies; undefined where it is no longer there, or something goes on from it now. */
export function endSpot(layout: Layout, end: ClimbEnd | undefined): EndSpot | undefined {
  if (!end) return undefined;
  if (!isTurnoutPlace(end)) return climbEnds(layout).find((spot) => sameEnd(spot.end, end));
  const line = layout.lines.get(`track:${end.track}`);
  if (!line || end.at > line.path.length) return undefined;
  const word = `on ${layout.plan.tracks[end.track]?.name ?? end.track}`;
  const height = heightOn(layout, line.key, end.at);
  return { end, pose: poseAt(line.path, end.at), deck: line.deck, height, word };
}
