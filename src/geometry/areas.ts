/**
 * Plane areas with straight edges, and what is made of them: union, difference, intersection, offset, opening.
 * The clipping is clipper2-ts, which counts in whole numbers: coordinates are rounded to AREA_UNIT, so a result lies
 * within AREA_UNIT of the exact one on plain input, and up to a few AREA_UNIT where edges all but coincide. Known limit
 * of the library: where two areas full of small holes coincide almost everywhere, a hole may be lost in their union.
 *
 * Always holds: every result is an area in the sense of `Area`, whatever the rings given (self-crossing, doubled,
 * clockwise, without points); |A + B| = |A| + |B| - |A and B|; A - B and B have nothing in common;
 * an opening lies within its area; rings in disorder or without size give a result or none, never a throw.
 */
import {
  ClipType,
  Clipper64,
  ClipperOffset,
  EndType,
  FillRule,
  JoinType,
  type Path64,
  type Paths64,
} from "clipper2-ts";
import type { Point } from "./pose.js";
import type { Millimetres } from "./units.js";

/** A closed line of corners; the last is joined to the first. */
export type Ring = readonly Point[];
/** Rings of points, outer rings anticlockwise, holes clockwise, none crossing another. */
export type Area = readonly Ring[];

export const NO_AREA: Area = [];

/** One thousandth of a millimetre: a hundredth of what a saw or a printed template can hold. */
export const AREA_UNIT: Millimetres = 0.001;
const PER_MM = 1 / AREA_UNIT;

/** Coordinates beyond this are taken to it; it keeps whole numbers exact, and is ten times what a plan may hold. */
const FARTHEST: Millimetres = 1e7;

/** How far the chords of a round corner may lie inside its arc: the same that lines are sampled with. */
export const ARC_TOLERANCE: Millimetres = 0.05;

/** Corners sharper than this many times the offset are never reached: every join is round, so the library's limit is idle. */
const MITRE_LIMIT = 2;

const toUnits = (mm: Millimetres): number => Math.round(Math.min(Math.max(mm, -FARTHEST), FARTHEST) * PER_MM);

/** Corners that are no number are left out; a ring of fewer than three corners encloses nothing and is left out. */
function toPaths(area: Area): Paths64 {
  const paths: Paths64 = [];
  for (const ring of area) {
    const path: Path64 = [];
    for (const { x, y } of ring) {
      if (!Number.isNaN(x) && !Number.isNaN(y)) path.push({ x: toUnits(x), y: toUnits(y) });
    }
    if (path.length >= 3) paths.push(path);
  }
  return paths;
}

const fromPaths = (paths: Paths64): Area =>
  paths.map((path) => path.map(({ x, y }) => ({ x: x / PER_MM, y: y / PER_MM })));

function clip(type: ClipType, subject: Paths64, other: Paths64): Paths64 {
  if (subject.length === 0 && other.length === 0) return [];
  const clipper = new Clipper64();
  // Kept, corners on a line that doubles back along itself are looked at for ever.
  clipper.preserveCollinear = false;
  const result: Paths64 = [];
  if (subject.length > 0) clipper.addSubject(subject);
  if (other.length > 0) clipper.addClip(other);
  clipper.execute(type, FillRule.NonZero, result);
  return result;
}

/** The area a ring encloses, whichever way round it is drawn; of one that crosses itself every part that it goes round. */
export const fillRing = (ring: Ring): Area => uniteAreas([ring]);

/** Everything in any of the areas. None gives none; one alone is put in order. */
export function uniteAreas(...areas: readonly Area[]): Area {
  // Rings of one area are wound to fit together, but a clockwise outline by itself must not cancel another's.
  const orderly = areas.length > 1 ? areas.map((area) => clip(ClipType.Union, toPaths(area), [])) : areas.map(toPaths);
  return fromPaths(clip(ClipType.Union, orderly.flat(), []));
}

/** What is in the first and not in the second. */
export const subtractArea = (from: Area, what: Area): Area =>
  fromPaths(clip(ClipType.Difference, toPaths(from), toPaths(what)));

/** What is in both. */
export const intersectAreas = (a: Area, b: Area): Area =>
  fromPaths(clip(ClipType.Intersection, toPaths(a), toPaths(b)));

/**
 * The area grown by a distance, or shrunk where it is negative; corners that open are round. Chords of those arcs lie
 * up to `arcTolerance` inside the arc, seen from its centre. Shrunk by more than it is wide, nothing is left.
 * A distance that is no number changes nothing.
 */
export function offsetArea(area: Area, by: Millimetres, arcTolerance: Millimetres = ARC_TOLERANCE): Area {
  const orderly = clip(ClipType.Union, toPaths(area), []);
  const delta = Number.isNaN(by) ? 0 : toUnits(by);
  if (delta === 0 || orderly.length === 0) return fromPaths(orderly);
  const offset = new ClipperOffset(MITRE_LIMIT, Math.max(arcTolerance, AREA_UNIT) * PER_MM);
  const result: Paths64 = [];
  offset.addPaths(orderly, JoinType.Round, EndType.Polygon);
  offset.execute(delta, result);
  return fromPaths(result);
}

/**
 * What a disc of this radius covers when it is moved about within the area (shrunk, then grown again): necks narrower
 * than twice the radius are gone, corners are rounded. Never reaches outside the area. Within `arcTolerance`.
 */
export function openArea(area: Area, radius: Millimetres, arcTolerance: Millimetres = ARC_TOLERANCE): Area {
  const opened = offsetArea(offsetArea(area, -radius, arcTolerance), radius, arcTolerance);
  // Chords in place of arcs leave the shrunk area a little large, so what grows from it may stick out by the tolerance.
  return intersectAreas(opened, area);
}

/** Size of a ring by the surveyor's formula: positive anticlockwise, negative clockwise; parts gone round twice count twice. */
export function signedSize(ring: Ring): number {
  let sum = 0;
  let before = ring[ring.length - 1];
  if (!before) return 0;
  // Seen from one of its own corners, so that a small ring far from the origin keeps its digits.
  const { x, y } = before;
  for (const p of ring) {
    sum += (before.x - x) * (p.y - y) - (p.x - x) * (before.y - y);
    before = p;
  }
  return sum / 2;
}

/** Size in square millimetres, holes taken off. */
export const areaSize = (area: Area): number => area.reduce((sum, ring) => sum + signedSize(ring), 0);

/** Length of all edges, holes' too. */
export function edgeLength(area: Area): Millimetres {
  let sum = 0;
  for (const ring of area) {
    let before = ring[ring.length - 1];
    for (const p of ring) {
      if (before) sum += Math.hypot(p.x - before.x, p.y - before.y);
      before = p;
    }
  }
  return sum;
}
