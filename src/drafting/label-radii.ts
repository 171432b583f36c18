/** Radii of circular track, on the aisle side of the arc's middle where there is room. */
import { type Path, poseAt } from "../geometry/path.js";
import type { Curvature, Millimetres } from "../geometry/units.js";
import type { Line } from "../layout/line.js";
import type { Plan } from "../plan/schema.js";
import { lengthText } from "./figures.js";
import {
  besideBoxes,
  type Ground,
  type Label,
  type Labelling,
  type Paper,
  settle,
  settledText,
  SIZE,
  textWidth,
} from "./label.js";
import type { PaperBox } from "./occupancy.js";

export interface Arc {
  readonly from: Millimetres;
  readonly to: Millimetres;
  readonly curvature: Curvature;
}

/** Curvatures that differ by less, of themselves, are one radius. */
const SAME_RADIUS = 1e-6;
/** Stations nearer than this are one place. */
const SAME_PLACE: Millimetres = 1e-6;

/** Circular stretches of a path, neighbours of one radius as one. */
export function arcsOf(path: Path): Arc[] {
  const found: Arc[] = [];
  path.segments.forEach((segment, i) => {
    if (segment.k0 === 0 || Math.abs(segment.k1 - segment.k0) > Math.abs(segment.k0) * SAME_RADIUS) return;
    const from = path.stations[i] ?? 0;
    const before = found.at(-1);
    const follows = before && Math.abs(before.to - from) < SAME_PLACE;
    if (follows && Math.abs(before.curvature / segment.k0 - 1) < SAME_RADIUS) {
      found[found.length - 1] = { ...before, to: from + segment.length };
    } else found.push({ from, to: from + segment.length, curvature: segment.k0 });
  });
  return found;
}

/** Shorter arcs, in px, carry no radius. */
const LEAST_ARC = 45;
/** Parts of the arc that are tried. */
const ALONG = [0.5, 0.4, 0.6, 0.28, 0.72];

export function* radiusLabels(paper: Paper, ground: Ground, lines: Iterable<Line>, units: Plan["units"]): Labelling {
  for (const line of lines) {
    yield undefined;
    if (line.kind !== "track") continue;
    for (const arc of arcsOf(line.path)) {
      if ((arc.to - arc.from) * paper.scale < LEAST_ARC) continue;
      const text = `R ${lengthText(1 / Math.abs(arc.curvature), units)}`;
      const width = textWidth(text, SIZE);
      const box = settle(ground, candidates());
      if (!box) continue;
      const anchor = poseAt(line.path, (arc.from + arc.to) / 2);
      yield { kind: "radius", anchor, box, line: line.key, marks: [settledText(box, text, "ink2")] } satisfies Label;
      function* candidates(): Generator<PaperBox> {
        for (const part of ALONG) {
          const pose = poseAt(line.path, arc.from + (arc.to - arc.from) * part);
          yield* besideBoxes(paper, pose, arc.curvature > 0 ? -1 : 1, width);
        }
      }
    }
  }
}
