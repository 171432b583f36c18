/**
 * Labels of one deck: radii, grades, frog numbers, names of places. Each is tried where it reads best, then further
 * off; one that finds no room is left out, never shrunk. The order of asking is the order of importance.
 */
import { type Path, poseAt } from "../../geometry/path.js";
import { offsetPoint, type Point, type Pose } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import type { Layout } from "../../layout/layout.js";
import type { Line } from "../../layout/line.js";
import { drawnGrade, lengthText } from "../figures.js";
import { element, group, type Markup } from "./markup.js";
import { type Box, cornersOf, type Occupancy } from "./occupancy.js";
import { paperLine } from "./shapes.js";
import { deckInk, lettered, onPaper, px, type Sheet, textWidth } from "./sheet.js";

/** What labels keep clear of: track by 6 px, edges and one another by less. */
export interface Ground {
  readonly track: Occupancy;
  readonly edges: Occupancy;
  readonly labels: Occupancy;
  /** Whether a place of the paper is within the walls. */
  readonly isOnFloor: (p: Point) => boolean;
}

const CLEAR_OF_TRACK = 5;
const CLEAR_OF_EDGES = 1;
const CLEAR_OF_LABELS = 3;

export function settle(sheet: Sheet, ground: Ground, boxes: Iterable<Box>, offTrack = CLEAR_OF_TRACK): Box | undefined {
  for (const box of boxes) {
    if (
      cornersOf(box).every(ground.isOnFloor) &&
      ground.labels.isFree(box, px(sheet, CLEAR_OF_LABELS)) &&
      ground.track.isFree(box, px(sheet, offTrack)) &&
      ground.edges.isFree(box, px(sheet, CLEAR_OF_EDGES))
    ) {
      ground.labels.markBox(box);
      return box;
    }
  }
  return undefined;
}

const SIZE = 12;
const LINE_HEIGHT = 12;

/**
 * Names of places stand where their owner put them, or a little aside where they would lie on track or on one another.
 * Those of the deck in hand are always there; those of the others only where there is room.
 */
export function drawPlaceLabels(sheet: Sheet, ground: Ground, deck: string, ghost: boolean): Markup {
  const size = 15;
  const staging = sheet.plan.decks[deck]?.kind === "staging";
  const marks = Object.values(sheet.plan.labels).flatMap((label) => {
    if (label.deck === undefined ? ghost : label.deck !== deck) return [];
    const at = onPaper(sheet, label.at);
    const turn = readable(-(label.heading ?? 0));
    const box = { ...at, width: textWidth(sheet, label.text, size, "name"), height: px(sheet, size), turn };
    const places = [...aside(box)];
    const settled =
      settle(sheet, ground, places, NAMES_OFF_TRACK) ??
      places.find((place) => ground.labels.isFree(place, 0) && ground.track.isFree(place, 0)) ??
      (ghost ? undefined : box);
    if (!settled) return [];
    ground.labels.markBox(settled);
    const colour = ghost || staging ? deckInk(sheet, deck).ink : sheet.palette.ink;
    return lettered(sheet, settled, label.text, { size, colour, face: "name", italic: true, turn });
  });
  return group({ "data-layer": "places" }, marks);
}

const NAMES_OFF_TRACK = 2;

/** A box where it is, then moved along and across its own direction, nearest first. */
function* aside(box: Box): Generator<Box> {
  const angle = (box.turn * Math.PI) / 180;
  const along = { x: Math.cos(angle) * box.width, y: Math.sin(angle) * box.width };
  const across = { x: -Math.sin(angle) * box.height, y: Math.cos(angle) * box.height };
  for (const [u, v] of NUDGES) {
    yield { ...box, x: box.x + u * along.x + v * across.x, y: box.y + u * along.y + v * across.y };
  }
}

/** In widths and heights of the lettering. */
const NUDGES: readonly (readonly [number, number])[] = [0, 0.7, -0.7, 1.3, -1.3]
  .flatMap((v) => [0, 0.25, -0.25, 0.5, -0.5].map((u) => [u, v] as const))
  .sort(([u1, v1], [u2, v2]) => Math.abs(u1) * 2 + Math.abs(v1) - Math.abs(u2) * 2 - Math.abs(v2));

/** Degrees clockwise within (-90, 90]: readable from the foot or the right of the sheet. */
function readable(turn: number): number {
  const half = ((turn % 180) + 180) % 180;
  return half > 90 - 1e-9 && half < 90 + 1e-9 ? -90 : half > 90 ? half - 180 : half;
}

interface Arc {
  readonly from: Millimetres;
  readonly to: Millimetres;
  readonly curvature: number;
}

/** Circular stretches of a path, neighbours of one radius as one. */
function arcs(path: Path): Arc[] {
  const found: Arc[] = [];
  path.segments.forEach((segment, i) => {
    if (segment.k0 === 0 || Math.abs(segment.k1 - segment.k0) > Math.abs(segment.k0) * 1e-6) return;
    const from = path.stations[i] ?? 0;
    const before = found.at(-1);
    if (before && Math.abs(before.to - from) < 1e-6 && Math.abs(before.curvature / segment.k0 - 1) < 1e-6) {
      found[found.length - 1] = { ...before, to: from + segment.length };
    } else found.push({ from, to: from + segment.length, curvature: segment.k0 });
  });
  return found;
}

/** Shorter arcs, in px of paper, carry no radius. */
const LEAST_ARC = 45;
const ALONG = [0.5, 0.4, 0.6, 0.28, 0.72];
const OFF = [9, 16, 26];

/** Boxes for level lettering beside a line: outside the curve first (or `first`), nearest first. */
export function* beside(sheet: Sheet, pose: Pose, side: 1 | -1, width: number, offs = OFF): Generator<Box> {
  const height = px(sheet, LINE_HEIGHT);
  for (const off of offs) {
    for (const way of [side, -side]) {
      const normal = { x: -Math.sin(pose.heading) * way, y: -Math.cos(pose.heading) * way };
      const reach = px(sheet, off) + (Math.abs(normal.x) * width + Math.abs(normal.y) * height) / 2;
      const at = onPaper(sheet, pose);
      yield { x: at.x + normal.x * reach, y: at.y + normal.y * reach, width, height, turn: 0 };
    }
  }
}

export function drawRadii(sheet: Sheet, ground: Ground, layout: Layout, deck: string): Markup {
  const marks: Markup[] = [];
  for (const line of linesOf(layout, deck)) {
    if (line.kind === "turnout") continue;
    for (const arc of arcs(line.path)) {
      if ((arc.to - arc.from) / sheet.scale < px(sheet, LEAST_ARC)) continue;
      const text = `R ${lengthText(1 / Math.abs(arc.curvature), sheet.plan.units)}`;
      const width = textWidth(sheet, text, SIZE);
      const box = settle(sheet, ground, candidates());
      if (box) marks.push(lettered(sheet, box, text, { size: SIZE, colour: sheet.palette.ink2 }));
      function* candidates(): Generator<Box> {
        for (const part of ALONG) {
          const pose = poseAt(line.path, arc.from + (arc.to - arc.from) * part);
          yield* beside(sheet, pose, arc.curvature > 0 ? -1 : 1, width);
        }
      }
    }
  }
  return group({ "data-layer": "radii" }, marks);
}

export function drawFrogNumbers(sheet: Sheet, ground: Ground, layout: Layout, deck: string): Markup {
  const marks: Markup[] = [];
  for (const turnout of layout.turnouts.values()) {
    const host = layout.lines.get(turnout.host);
    if (host?.deck !== deck) continue;
    const text = `No. ${Math.round(turnout.number * 10) / 10}${turnout.hand === "wye" ? " wye" : ` ${turnout.hand}`}`;
    const width = textWidth(sheet, text, SIZE);
    const diverges = (turnout.hand === "left" ? 1 : -1) * turnout.direction;
    const box = settle(sheet, ground, candidates());
    if (box) marks.push(lettered(sheet, box, text, { size: SIZE, colour: sheet.palette.ink2 }));
    function* candidates(): Generator<Box> {
      for (const s of [turnout.at, turnout.joint, (turnout.at + turnout.departs) / 2]) {
        if (host) yield* beside(sheet, poseAt(host.path, s), diverges === 1 ? -1 : 1, width, [8, 14]);
      }
    }
  }
  return group({ "data-layer": "turnouts" }, marks);
}

const ARROW = 42;
const ARROW_OFF = 11;
/** Grades below this are level for a drawing, percent. */
const LEVEL = 0.05;

export function drawGrades(sheet: Sheet, ground: Ground, layout: Layout, deck: string): Markup {
  const marks: Markup[] = [];
  for (const line of linesOf(layout, deck)) {
    if (line.kind === "turnout") continue;
    for (const { from, to, grade } of grades(layout, line)) {
      if (Math.abs(grade) < LEVEL || (to - from) / sheet.scale < px(sheet, ARROW)) continue;
      const text = drawnGrade(Math.abs(grade));
      const found = [0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9]
        .flatMap((part) => arrowsAt(sheet, line, from + (to - from) * part, grade > 0))
        .find((arrow) => settle(sheet, ground, [arrow.box], ARROW_OFF - 7));
      if (found) marks.push(drawArrow(sheet, found, text));
    }
  }
  return group({ "data-layer": "grades" }, marks);
}

function grades(layout: Layout, line: Line): { from: number; to: number; grade: number }[] {
  const profile = layout.profiles.get(line.key);
  if (!profile) return [];
  const found: { from: number; to: number; grade: number }[] = [];
  for (let i = 1; i < profile.stations.length; i++) {
    const from = profile.stations[i - 1] ?? 0;
    const to = profile.stations[i] ?? from;
    if (to <= from) continue;
    const grade = (((profile.heights[i] ?? 0) - (profile.heights[i - 1] ?? 0)) / (to - from)) * 100;
    const before = found.at(-1);
    // Stations of the network part one even grade in several; the eye wants it once.
    if (before && Math.abs(before.grade - grade) < LEVEL) {
      const whole = to - before.from;
      found[found.length - 1] = {
        from: before.from,
        to,
        grade: (before.grade * (from - before.from) + grade * (to - from)) / whole,
      };
    } else found.push({ from, to, grade });
  }
  return found;
}

interface Arrow {
  readonly box: Box;
  readonly tail: Point;
  readonly head: Point;
  /** Direction uphill on the paper, radians clockwise. */
  readonly way: number;
  readonly text: Point;
  readonly turn: number;
}

function arrowsAt(sheet: Sheet, line: Line, s: Millimetres, rises: boolean): Arrow[] {
  const pose = poseAt(line.path, s);
  return [1, -1].map((side) => {
    const away = (n: number) => onPaper(sheet, offsetPoint(pose, 0, side * px(sheet, n) * sheet.scale));
    const shaft = away(ARROW_OFF);
    const way = -pose.heading + (rises ? 0 : Math.PI);
    const half = px(sheet, ARROW) / 2;
    const reach = { x: Math.cos(way) * half, y: Math.sin(way) * half };
    const turn = readable((-pose.heading * 180) / Math.PI);
    // The figure stands over the shaft as it is read, which may be the side toward the track.
    const up = { x: Math.sin((turn * Math.PI) / 180), y: -Math.cos((turn * Math.PI) / 180) };
    const outward = { x: shaft.x - away(0).x, y: shaft.y - away(0).y };
    const over = up.x * outward.x + up.y * outward.y >= 0 ? 1 : -1;
    const base = over === 1 ? shaft : away(ARROW_OFF + LINE_HEIGHT);
    const text = { x: base.x + up.x * px(sheet, 8), y: base.y + up.y * px(sheet, 8) };
    const middle = { x: base.x + up.x * px(sheet, 6), y: base.y + up.y * px(sheet, 6) };
    return {
      box: { ...middle, width: px(sheet, ARROW), height: px(sheet, LINE_HEIGHT + 6), turn },
      tail: { x: base.x - reach.x, y: base.y - reach.y },
      head: { x: base.x + reach.x, y: base.y + reach.y },
      way,
      text,
      turn,
    };
  });
}

function drawArrow(sheet: Sheet, arrow: Arrow, text: string): Markup {
  const barb = px(sheet, 6);
  const wing = (angle: number): Point => ({
    x: arrow.head.x - barb * Math.cos(arrow.way + angle),
    y: arrow.head.y - barb * Math.sin(arrow.way + angle),
  });
  const d = paperLine(arrow.tail, arrow.head) + paperLine(wing(0.42), arrow.head, wing(-0.42));
  return (
    element("path", { d, fill: "none", stroke: sheet.palette.ink, "stroke-width": px(sheet, 0.9) }) +
    lettered(sheet, arrow.text, text, { size: SIZE, colour: sheet.palette.ink, turn: arrow.turn })
  );
}

function* linesOf(layout: Layout, deck: string): Generator<Line> {
  for (const line of layout.lines.values()) if (line.deck === deck) yield line;
}
