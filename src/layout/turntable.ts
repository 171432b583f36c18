/**
 * Where the parts of a turntable lie: its pit begins at the end of the approach, the stalls at the pit's edge.
 *
 * Always holds: the centre lies half a bridge beyond the end of the approach; every stall begins half a bridge from the
 * centre and leads away from it; a turntable laid from the same figures as before is the same object as before.
 */
import { offsetPoint, type Point, type Pose, reversePose } from "../geometry/pose.js";
import { type Millimetres, positiveAngle, type Radians, toRadians } from "../geometry/units.js";
import type { Id, Plan, Turntable } from "../plan/schema.js";
import type { LineEnd } from "./joints.js";
import type { Finding } from "./layout.js";
import type { Line, LineKey } from "./line.js";
import { samePose } from "./make-line.js";
import { recordsInHand } from "./options.js";
import { fail, findingOf } from "./outcome.js";

/** The centre of the pit, half a bridge beyond the end of the approach. */
export const pitCentre = (approach: Pose, bridge: Millimetres): Point => offsetPoint(approach, bridge / 2, 0);

/** Where a stall begins, leading away from the pit; `angle` is turned to the left of the way the approach leads on. */
export function stallPose(approach: Pose, bridge: Millimetres, angle: Radians): Pose {
  const heading = approach.heading + angle;
  return { ...offsetPoint({ ...pitCentre(approach, bridge), heading }, bridge / 2, 0), heading };
}

export interface PlacedTurntable {
  readonly id: Id;
  readonly deck: Id;
  /** The end of the track that leads to it, and the way it leads on across the pit. */
  readonly approach: LineEnd;
  readonly pose: Pose;
  readonly centre: Point;
  /** Of the pit: half the bridge. */
  readonly radius: Millimetres;
  /** Where the stalls begin, by their numbers. */
  readonly stalls: readonly Pose[];
  /** What it was laid from. */
  readonly turntable: Turntable;
}

export interface Turntables {
  readonly turntables: ReadonlyMap<Id, PlacedTurntable>;
  readonly findings: readonly Finding[];
}

export function deriveTurntables(
  plan: Plan,
  lines: ReadonlyMap<LineKey, Line>,
  previous: ReadonlyMap<Id, PlacedTurntable> | undefined,
): Turntables {
  const turntables = new Map<Id, PlacedTurntable>();
  const findings: Finding[] = [];
  for (const [id, turntable] of recordsInHand(plan, plan.turntables)) {
    const thing = `turntables.${id}`;
    const line = lines.get(`track:${turntable.on}`);
    if (!line) {
      const failure = fail("anchor-missing", `there is no track ${turntable.on} to lead to it`);
      findings.push(findingOf(failure, thing, plan.tracks[turntable.on]?.deck, undefined));
      continue;
    }
    const before = previous?.get(id);
    const placed = placeTurntable(id, turntable, line);
    turntables.set(id, before && same(before, placed) ? before : placed);
    for (const note of crowded(turntable, plan.scale.gauge))
      findings.push(findingOf(fail("turntable-unfit", note), thing, line.deck, placed.centre));
  }
  return { turntables, findings };
}

function placeTurntable(id: Id, turntable: Turntable, line: Line): PlacedTurntable {
  const { bridge, end } = turntable;
  const pose = end === "end" ? line.path.end : reversePose(line.path.start);
  return {
    id,
    deck: line.deck,
    approach: { line: line.key, end },
    pose,
    centre: pitCentre(pose, bridge),
    radius: bridge / 2,
    stalls: turntable.stalls.map((angle) => stallPose(pose, bridge, toRadians(angle))),
    turntable,
  };
}

const same = (a: PlacedTurntable, b: PlacedTurntable): boolean =>
  a.turntable === b.turntable && a.deck === b.deck && samePose(a.pose, b.pose);

/** Chords of the pit's edge between neighbours, the approach among them, too short for the rails of both. */
function crowded({ bridge, stalls }: Turntable, gauge: Millimetres): string[] {
  const places = [
    { name: "the approach", angle: Math.PI },
    ...stalls.map((angle, i) => ({ name: `stall ${i + 1}`, angle: positiveAngle(toRadians(angle)) })),
  ].sort((a, b) => a.angle - b.angle);
  const [first] = places;
  if (!first || places.length < 2) return [];
  return places.flatMap((place, i) => {
    const next = places[i + 1] ?? { ...first, angle: first.angle + 2 * Math.PI };
    const apart = bridge * Math.sin((next.angle - place.angle) / 2);
    if (apart >= gauge) return [];
    return [
      `${place.name} and ${next.name} are ${apart.toFixed(1)} mm apart at the edge of the pit, less than the gauge`,
    ];
  });
}
