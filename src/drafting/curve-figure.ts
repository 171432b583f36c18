/**
 * The figure of a chosen curve, as it is set out: centre, radius to its middle, lines to where the arc is tangent, and
 * ticks where an easement meets the arc.
 *
 * Always holds: centre to each end of the arc is the radius; a path of other than one arc has no figure.
 */
import { type Path, poseAt } from "../geometry/path.js";
import { offsetPoint, type Point, type Pose } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { Plan } from "../plan/schema.js";
import { lengthText } from "./figures.js";
import { arcsOf } from "./label-radii.js";

export interface CurveFigure {
  readonly centre: Point;
  readonly radius: Millimetres;
  /** Middle of the arc, where the radius line ends. */
  readonly middle: Point;
  /** Where the curve with its easements begins and ends. */
  readonly tangents: readonly [Pose, Pose];
  /** Where an easement meets the arc. */
  readonly meets: readonly Pose[];
  readonly text: string;
}

/** Farther away a centre is off any sheet, and says nothing, mm. */
const FARTHEST_CENTRE: Millimetres = 20_000;

export function curveFigure(path: Path, units: Plan["units"]): CurveFigure | undefined {
  const arcs = arcsOf(path);
  const arc = arcs[0];
  if (!arc || arcs.length !== 1) return undefined;
  const radius = 1 / Math.abs(arc.curvature);
  if (radius > FARTHEST_CENTRE) return undefined;
  const from = poseAt(path, arc.from);
  const centre = offsetPoint(from, 0, 1 / arc.curvature);
  const bent = path.segments.findIndex((g) => g.k0 !== 0 || g.k1 !== 0);
  const unbent = path.segments.findLastIndex((g) => g.k0 !== 0 || g.k1 !== 0);
  const begin = path.stations[bent] ?? 0;
  const end = path.stations[unbent + 1] ?? path.length;
  const turn = path.segments.reduce((sum, g) => sum + ((g.k0 + g.k1) / 2) * g.length, 0);
  const [eased, uneased] = [arc.from - begin, end - arc.to];
  const meets = [...(eased > 1 ? [arc.from] : []), ...(uneased > 1 ? [arc.to] : [])].map((s) => poseAt(path, s));
  const easement =
    meets.length === 0
      ? ""
      : ` · easement${meets.length > 1 ? "s" : ""} ${lengthText(Math.max(eased, uneased), units)}`;
  return {
    centre,
    radius,
    middle: poseAt(path, (arc.from + arc.to) / 2),
    tangents: [poseAt(path, begin), poseAt(path, end)],
    meets,
    text: `R ${lengthText(radius, units)} · ${Math.abs((turn * 180) / Math.PI).toFixed(0)}°${easement}`,
  };
}
