/**
 * Which track a template shows, and the marks on it: joints, risers with the height of the railhead, points, frog points.
 * A turnout goes with the track it lies on.
 */
import { frogText } from "../../drafting/label-turnouts.js";
import { heightText } from "../../drafting/label-heights.js";
import { lengthText } from "../../drafting/figures.js";
import { bracketedRoot } from "../../geometry/bracketed-root.js";
import { nearestOnPath } from "../../geometry/nearest.js";
import { type Path, poseAt, slicePath } from "../../geometry/path.js";
import { offsetPoint, type Point, type Pose } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import type { Layout } from "../../layout/layout.js";
import type { Line, LineKey, PlacedTurnout } from "../../layout/line.js";
import { heightAt } from "../../layout/profile.js";
import type { Id, TrackClass } from "../../plan/schema.js";

export interface TrackChoice {
  /** Ids of tracks; every track where left out. */
  readonly tracks?: readonly Id[];
  readonly classes?: readonly TrackClass[];
  readonly deck?: Id;
}

/** Tracks that are all of what is wished, with the routes of the turnouts and slips on them. */
export function chosenLines(layout: Layout, { tracks, classes, deck }: TrackChoice): Line[] {
  const chosen = new Set<LineKey>();
  for (const line of layout.lines.values()) {
    if (line.kind !== "track") continue;
    if (tracks && !tracks.includes(line.id)) continue;
    if (classes && !classes.includes(line.class)) continue;
    if (deck === undefined || line.deck === deck) chosen.add(line.key);
  }
  const routes = [
    ...[...layout.turnouts.values()].flatMap(({ host, routes: own }) => own.map(({ line }) => ({ line, host }))),
    ...[...layout.slips.values()].flatMap(({ on, routes: own }) => own.map(({ line }) => ({ line, host: on.line }))),
  ].filter(({ host }) => chosen.has(host));
  for (const { line } of routes) chosen.add(line);
  return [...layout.lines.values()].filter(({ key }) => chosen.has(key));
}

export interface TemplateMark {
  readonly kind: "joint" | "riser" | "points" | "frog";
  readonly pose: Pose;
  readonly text: string;
}

/** Places nearer than this are one joint, mm. */
const SAME_PLACE: Millimetres = 0.5;

export function marksOn(layout: Layout, lines: readonly Line[], every: Millimetres): TemplateMark[] {
  const marks: TemplateMark[] = [];
  const joint = (pose: Pose, text: string): void => {
    const there = marks.some(
      (m) => m.kind === "joint" && Math.hypot(m.pose.x - pose.x, m.pose.y - pose.y) < SAME_PLACE,
    );
    if (!there) marks.push({ kind: "joint", pose, text });
  };
  const { units } = layout.plan;
  const drawn = new Set(lines.map(({ key }) => key));
  for (const { host, joint: before, heel, at, routes, ...turnout } of layout.turnouts.values()) {
    const on = drawn.has(host) ? layout.lines.get(host) : undefined;
    if (!on) continue;
    marks.push({
      kind: "points",
      pose: poseAt(on.path, at),
      text: `points, ${frogText({ ...turnout, host, joint: before, heel, at, routes })}`,
    });
    joint(poseAt(on.path, before), "turnout joint");
    if (routes.length === 1) joint(poseAt(on.path, heel), "turnout joint");
    for (const { line } of routes) {
      const route = layout.lines.get(line);
      if (route) joint(route.path.end, "turnout joint");
    }
    for (const pose of frogsOf(layout, { ...turnout, host, joint: before, heel, at, routes }))
      marks.push({ kind: "frog", pose, text: "frog point" });
  }
  for (const { kind, key, path } of lines) {
    const profile = layout.profiles.get(key);
    if (kind !== "track") continue;
    joint(path.start, "joint");
    joint(path.end, "joint");
    if (!profile) continue;
    for (let i = 0; i * every < path.length; i++) {
      const s = i * every;
      const text = `${heightText(heightAt(profile, s), units)} at ${lengthText(s, units)}`;
      marks.push({ kind: "riser", pose: poseAt(path, s), text });
    }
  }
  return marks;
}

/** Where the near rails of two routes cross, which is the theoretical point of the frog. */
function frogsOf(layout: Layout, turnout: PlacedTurnout): Pose[] {
  const half = layout.plan.scale.gauge / 2;
  const host = layout.lines.get(turnout.host);
  const [first, second] = turnout.routes;
  const route = first && layout.lines.get(first.line);
  if (!host || !first || !route) return [];
  const other = second && layout.lines.get(second.line);
  if (other) return frogAt(route.path, other.path, half);
  const [from, to] = [Math.min(turnout.joint, turnout.heel), Math.max(turnout.joint, turnout.heel)];
  return frogAt(route.path, slicePath(host.path, from, to), half);
}

/** Along a route, where the rail of it that lies nearer another line is half a gauge from that line's middle. */
function frogAt(route: Path, other: Path, half: Millimetres): Pose[] {
  const far = nearestOnPath(other, route.end);
  const side = Math.sign(far.left);
  // Run against the line, what lies to its left lies to the route's right.
  const along = Math.cos(poseAt(other, far.s).heading - route.end.heading) >= 0 ? 1 : -1;
  const rail = (s: Millimetres): Point => offsetPoint(poseAt(route, s), 0, -side * along * half);
  const beyond = { cross: (s: number): number => nearestOnPath(other, rail(s)).left * side - half };
  const [a, b] = [beyond.cross(0), beyond.cross(route.length)];
  if (side === 0 || a >= 0 || b <= 0) return [];
  const s = bracketedRoot(beyond, 0, route.length, a, b, 1e-6);
  return [{ ...rail(s), heading: poseAt(route, s).heading }];
}
