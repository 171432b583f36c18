/**
 * What is drawn of turntables and bumpers beside the lines of track, as chains of points on the sheet: the pit's edge, the
 * bridge, the stalls nothing leads from yet, a bar across the end of a spur.
 */
import { offsetPoint, type Point, type Pose, reversePose } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import { stallsTaken } from "../layout/stalls.js";
import type { Layout } from "../layout/layout.js";
import type { PlacedTurntable } from "../layout/turntable.js";
import type { Line, LineKey } from "../layout/line.js";
import type { Id, Plan } from "../plan/schema.js";

/** Corners of the pit's edge: a chord of the largest prototype's bridge strays a thousandth of its length. */
const PIT_CORNERS = 96;
/** Part of the bridge a free stall's stub is long. */
const STUB = 0.12;
/** Half a bumper's width and the length of its braces, in gauges. */
const BUMPER = { half: 0.8, brace: 0.5 } as const;

/** The pit's edge, to be closed. */
export const pitEdge = ({ centre, radius }: PlacedTurntable): Point[] =>
  Array.from({ length: PIT_CORNERS }, (_, i) => {
    const angle = (2 * Math.PI * i) / PIT_CORNERS;
    return { x: centre.x + radius * Math.cos(angle), y: centre.y + radius * Math.sin(angle) };
  });

/** The bridge in line with the approach, and stubs at stalls without track: rails, or one line where no gauge is given. */
export function bridgeAndStubs(layout: Layout, turntable: PlacedTurntable, gauge?: Millimetres): Point[][] {
  const { pose, radius, stalls, id } = turntable;
  const taken = stallsTaken(layout.plan);
  const free = stalls.filter((_, i) => !taken.has(`${id}:${i}`));
  return [
    straightFrom(pose, 2 * radius, gauge),
    ...free.map((stall) => straightFrom(stall, STUB * 2 * radius, gauge)),
  ].flat();
}

function straightFrom(pose: Pose, length: Millimetres, gauge: Millimetres | undefined): Point[][] {
  const sides = gauge === undefined ? [0] : [gauge / 2, -gauge / 2];
  return sides.map((left) => [offsetPoint(pose, 0, left), offsetPoint(pose, length, left)]);
}

/** A bar across the track and its braces, at the end looked out of. */
export function bumperShape(out: Pose, gauge: Millimetres): Point[][] {
  const [half, brace] = [BUMPER.half * gauge, BUMPER.brace * gauge];
  return [
    [offsetPoint(out, 0, half), offsetPoint(out, 0, -half)],
    ...[gauge / 2, -gauge / 2].map((left) => [offsetPoint(out, 0, left), offsetPoint(out, -brace, left)]),
  ];
}

/** Ends of these lines of a deck with a bumper on them, looking out. */
export function bumpersOn(plan: Plan, lines: ReadonlyMap<LineKey, Line>, deck: Id): Pose[] {
  const ends: Pose[] = [];
  for (const line of lines.values()) {
    if (line.kind !== "track" || line.deck !== deck) continue;
    for (const end of plan.tracks[line.id]?.bumpers ?? [])
      ends.push(end === "end" ? line.path.end : reversePose(line.path.start));
  }
  return ends;
}
