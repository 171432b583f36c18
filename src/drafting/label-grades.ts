/**
 * Grades: an arrow along the track, 11 px off it, its figure over the shaft.
 *
 * Always holds: the arrow points uphill; the figure reads from the foot or the right of the sheet.
 */
import { poseAt } from "../geometry/path.js";
import { offsetPoint, type Point } from "../geometry/pose.js";
import type { Millimetres, Percent, Radians } from "../geometry/units.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";
import { drawnGrade } from "./figures.js";
import {
  type Ground,
  type Label,
  type Labelling,
  LINE_HEIGHT,
  onPaper,
  type Paper,
  readable,
  settle,
  SIZE,
} from "./label.js";
import type { PaperBox } from "./occupancy.js";

const ARROW = 42;
const ARROW_OFF = 11;
const BARB = 6;
/** Half the angle of an arrow's point. */
const POINT: Radians = 0.42;
/** Grades below this are level for a drawing. */
const LEVEL: Percent = 0.05;
/** A long stretch is told again every so many px. */
const AGAIN = 420;
/** Parts of the stretch that are tried. */
const ALONG = [0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9];

export function* gradeLabels(paper: Paper, ground: Ground, layout: Layout, lines: Iterable<Line>): Labelling {
  for (const line of lines) {
    yield undefined;
    if (line.kind !== "track") continue;
    for (const { from, to, grade } of gradesOf(layout, line)) {
      if (Math.abs(grade) < LEVEL || (to - from) * paper.scale < ARROW) continue;
      const times = Math.max(1, Math.floor(((to - from) * paper.scale) / AGAIN));
      const step = (to - from) / times;
      for (let i = 0; i < times; i++) {
        const arrows = ALONG.flatMap((part) => arrowsAt(paper, line, from + (i + part) * step, grade > 0));
        const box = settle(
          ground,
          arrows.map((arrow) => arrow.box),
          ARROW_OFF - 7,
        );
        const found = arrows.find((arrow) => arrow.box === box);
        if (found) yield labelOf(line, found, drawnGrade(Math.abs(grade)));
      }
    }
  }
}

export interface EvenGrade {
  readonly from: Millimetres;
  readonly to: Millimetres;
  /** Positive where it rises the way the line runs. */
  readonly grade: Percent;
}

/** Stretches of even grade along a line. */
export function gradesOf(layout: Layout, line: Line): EvenGrade[] {
  const profile = layout.profiles.get(line.key);
  if (!profile) return [];
  const found: EvenGrade[] = [];
  for (let i = 1; i < profile.stations.length; i++) {
    const from = profile.stations[i - 1] ?? 0;
    const to = profile.stations[i] ?? from;
    if (to <= from) continue;
    const grade = (((profile.heights[i] ?? 0) - (profile.heights[i - 1] ?? 0)) / (to - from)) * 100;
    const before = found.at(-1);
    // Stations of the network part one even grade in several; the eye wants it once.
    if (before && Math.abs(before.grade - grade) < LEVEL) {
      const mean = (before.grade * (from - before.from) + grade * (to - from)) / (to - before.from);
      found[found.length - 1] = { from: before.from, to, grade: mean };
    } else found.push({ from, to, grade });
  }
  return found;
}

interface Arrow {
  readonly anchor: Point;
  readonly box: PaperBox;
  readonly tail: Point;
  readonly head: Point;
  /** Direction uphill on the drawing, clockwise. */
  readonly way: Radians;
  readonly text: Point;
  readonly turn: number;
}

function arrowsAt(paper: Paper, line: Line, s: Millimetres, rises: boolean): Arrow[] {
  const pose = poseAt(line.path, s);
  return [1, -1].map((side) => {
    const away = (n: number) => onPaper(paper, offsetPoint(pose, 0, (side * (n + paper.halfTrack)) / paper.scale));
    const shaft = away(ARROW_OFF);
    const way = -pose.heading + (rises ? 0 : Math.PI);
    const reach = { x: (Math.cos(way) * ARROW) / 2, y: (Math.sin(way) * ARROW) / 2 };
    const turn = readable((-pose.heading * 180) / Math.PI);
    // The figure stands over the shaft as it is read, which may be the side toward the track.
    const up = { x: Math.sin((turn * Math.PI) / 180), y: -Math.cos((turn * Math.PI) / 180) };
    const outward = { x: shaft.x - onPaper(paper, pose).x, y: shaft.y - onPaper(paper, pose).y };
    const base = up.x * outward.x + up.y * outward.y >= 0 ? shaft : away(ARROW_OFF + LINE_HEIGHT);
    const over = (n: number): Point => ({ x: base.x + up.x * n, y: base.y + up.y * n });
    return {
      anchor: pose,
      box: { ...over(6), width: ARROW, height: LINE_HEIGHT + 6, turn },
      tail: { x: base.x - reach.x, y: base.y - reach.y },
      head: { x: base.x + reach.x, y: base.y + reach.y },
      way,
      text: over(8),
      turn,
    };
  });
}

function labelOf(line: Line, arrow: Arrow, text: string): Label {
  const { anchor, box, head, tail, turn, way } = arrow;
  const wing = (angle: Radians): Point => ({
    x: head.x - BARB * Math.cos(way + angle),
    y: head.y - BARB * Math.sin(way + angle),
  });
  const stroke = { kind: "stroke", ink: "ink", weight: 0.9 } as const;
  return {
    kind: "grade",
    anchor,
    box,
    line: line.key,
    marks: [
      { ...stroke, points: [tail, head] },
      { ...stroke, points: [wing(POINT), head, wing(-POINT)] },
      { kind: "text", at: arrow.text, text, size: SIZE, ink: "ink", turn },
    ],
  };
}
