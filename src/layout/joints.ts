/**
 * Which ends of lines are one place: a track that starts from another's end or from a turnout's route, and a track
 * whose last leg joins one. Lying close is not enough; the plan must say so.
 */
import type { Anchor, Plan } from "../plan/schema.js";
import type { LineKey } from "./line.js";
import { recordsInHand } from "./options.js";
import type { Trackwork } from "./trackwork.js";

export interface LineEnd {
  readonly line: LineKey;
  readonly end: "start" | "end";
}

export interface Joint {
  readonly a: LineEnd;
  readonly b: LineEnd;
}

export function deriveJoints(plan: Plan, trackwork: Trackwork): Joint[] {
  const joints: Joint[] = [];
  const { lines, traces } = trackwork;
  const there = (anchor: Anchor): LineEnd | undefined => {
    const end = anchoredEnd(anchor, trackwork);
    return end && lines.has(end.line) ? end : undefined;
  };
  for (const [id, track] of recordsInHand(plan, plan.tracks)) {
    const line: LineKey = `track:${id}`;
    const trace = traces.get(id);
    const last = track.legs.at(-1);
    const arrives = last !== undefined && "join" in last && trace?.legs.length === track.legs.length;
    const before = there(track.start);
    const after = arrives ? there(last.join.to) : undefined;
    if (lines.has(line)) {
      if (before) joints.push({ a: before, b: { line, end: "start" } });
      if (after) joints.push({ a: { line, end: "end" }, b: after });
    } else if (before && after) {
      // Both ends touch already, and the track between them came to no length.
      joints.push({ a: before, b: after });
    }
  }
  return joints;
}

/**
 * The end of a line an anchor stands for; undefined for a bare place on the sheet. A stall stands for the end of the
 * turntable's approach, which lies across the pit: from every stall the way leads there and nowhere else.
 */
export function anchoredEnd(
  anchor: Anchor,
  { turnouts, turntables }: Pick<Trackwork, "turnouts" | "turntables">,
): LineEnd | undefined {
  if ("track" in anchor) return { line: `track:${anchor.track}`, end: anchor.end };
  if ("turntable" in anchor) {
    const turntable = turntables.get(anchor.turntable);
    return turntable?.stalls[anchor.stall] && turntable.approach;
  }
  if (!("turnout" in anchor)) return undefined;
  const routes = turnouts.get(anchor.turnout)?.routes ?? [];
  const route = anchor.route === undefined ? routes[0] : routes.find((r) => r.side === anchor.route);
  return route && { line: route.line, end: "end" };
}
