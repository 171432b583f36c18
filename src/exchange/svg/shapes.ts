/** Lines and areas of the room as SVG path data on the paper; track as true cubic curves. */
import type { Area } from "../../geometry/areas.js";
import { curvatureAt, type Path, poseAt, slicePath } from "../../geometry/path.js";
import { pathToBeziers } from "../../geometry/bezier.js";
import { offsetPoint, type Point } from "../../geometry/pose.js";
import type { Millimetres } from "../../geometry/units.js";
import { figure } from "./markup.js";
import { onPaper, type Sheet } from "./sheet.js";

const at = (p: Point): string => `${figure(p.x)} ${figure(p.y)}`;

/** A line through points of the room. */
export const lineData = (sheet: Sheet, points: readonly Point[], closed = false): string =>
  points.length === 0 ? "" : `M${points.map((p) => at(onPaper(sheet, p))).join("L")}${closed ? "Z" : ""}`;

/** A line through points of the paper. */
export const paperLine = (...points: readonly Point[]): string => `M${points.map(at).join("L")}`;

export const areaData = (sheet: Sheet, area: Area): string => area.map((ring) => lineData(sheet, ring, true)).join("");

/** Curves may stray from the track by this much of the room, mm: a tenth of the width of a rail's head. */
const STRAY: Millimetres = 0.05;

/** The part of a path from a to b as cubic curves. */
export function trackData(sheet: Sheet, path: Path, a: Millimetres = 0, b: Millimetres = path.length): string {
  const part = a <= 0 && b >= path.length ? path : slicePath(path, a, b);
  let data = `M${at(onPaper(sheet, part.start))}`;
  for (const [, c1, c2, end] of pathToBeziers(part, STRAY).curves) {
    data += `C${at(onPaper(sheet, c1))} ${at(onPaper(sheet, c2))} ${at(onPaper(sheet, end))}`;
  }
  return data;
}

/** Most that one cubic curve of a rail turns, radians: the Hermite cubic of a circle then errs by under 1e-6 of its radius. */
const RAIL_TURN = 0.3;
/** Longest single curve of a rail, mm of room. */
const RAIL_PIECE: Millimetres = 500;

/** One rail, `left` of the centre line: cubic curves with the rail's own places, directions and lengths at their ends. */
export function railData(sheet: Sheet, path: Path, left: Millimetres): string {
  let data = `M${at(onPaper(sheet, offsetPoint(path.start, 0, left)))}`;
  path.segments.forEach((segment, i) => {
    const begin = path.stations[i] ?? 0;
    const k = Math.max(Math.abs(segment.k0), Math.abs(segment.k1));
    const pieces = Math.max(1, Math.ceil(segment.length / RAIL_PIECE), Math.ceil((segment.length * k) / RAIL_TURN));
    const step = segment.length / pieces;
    for (let j = 0; j < pieces; j++) {
      const from = poseAt(path, begin + j * step);
      const to = poseAt(path, begin + (j + 1) * step);
      const third = (step * (1 - left * curvatureAt(path, begin + (j + 0.5) * step))) / 3;
      const c1 = offsetPoint(from, third, left);
      const c2 = offsetPoint(to, -third, left);
      data += `C${at(onPaper(sheet, c1))} ${at(onPaper(sheet, c2))} ${at(onPaper(sheet, offsetPoint(to, 0, left)))}`;
    }
  });
  return data;
}
