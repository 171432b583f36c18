/**
 * A measured turnout drawn as the part lies on the bench: the through route along x from its joint at the origin, the
 * diverging route to the left. Sheet millimetres, y up.
 *
 * Always holds: the routes end as long and as far turned as the template says; everything lies within the box.
 */
import type { Box } from "../geometry/bounds.js";
import { makePath, type Path, poseAt, stationsBySagitta } from "../geometry/path.js";
import { offsetPoint, type Point, type Pose } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import { divergingRoute, measuredTurnout } from "../layout/turnout-shape.js";
import type { Template } from "../plan/schema.js";
import { pointsBox } from "./boxes.js";

export interface TemplateDrawing {
  /** Rails of the through route, then of the diverging one. */
  readonly rails: readonly (readonly Point[])[];
  /** Across the joint ends and at the points. */
  readonly ticks: readonly (readonly Point[])[];
  readonly box: Box;
}

/** Chords of a curve stray so little from it: a third of a rail of the smallest scales. */
const SAGITTA: Millimetres = 0.1;
/** Half a tick across the track, in gauges. */
const TICK = 0.9;

/** Undefined where no such part can be: its curve is longer than its route, or its points lie beyond its end. */
export function templateDrawing(template: Template, gauge: Millimetres): TemplateDrawing | undefined {
  const shape = measuredTurnout(template);
  const departs = shape && template.points + shape.departs;
  if (!shape || departs === undefined || departs >= template.length || template.points >= template.length)
    return undefined;
  const host = makePath({ x: 0, y: 0, heading: 0 }, [{ length: template.length, k0: 0, k1: 0 }]);
  const route = divergingRoute(host, departs, template.length, 1, shape, "left");
  const rails = [...railsOf(host), ...railsOf(route)];
  const across = (pose: Pose): Point[] => [TICK, -TICK].map((side) => offsetPoint(pose, 0, side * gauge));
  const ticks = [host.start, host.end, route.end, poseAt(host, template.points)].map(across);
  return { rails, ticks, box: pointsBox([...rails, ...ticks].flat()) };

  function railsOf(path: Path): Point[][] {
    const poses = [...new Set([0, ...stationsBySagitta(path, SAGITTA), path.length])].map((s) => poseAt(path, s));
    return [gauge / 2, -gauge / 2].map((left) => poses.map((pose) => offsetPoint(pose, 0, left)));
  }
}
