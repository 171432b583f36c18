/**
 * A picture under the sheet, as a photo of a sketch: how it lies, and how it is brought to scale by two of its points.
 *
 * Always holds: `underlayPoint(p, pictureAt(p, q))` is q; scaled by two points, these are as far apart as was said, and
 * the first of them stays where it lies; levelled, they lie level.
 */
import { bearing, distance, offsetPoint, localPoint, type Point } from "../geometry/pose.js";
import type { Millimetres, Radians } from "../geometry/units.js";

export interface UnderlayPlacement {
  /** Where its lower left corner lies on the sheet. */
  readonly at: Point;
  /** Direction of its lower edge. */
  readonly heading: Radians;
  /** mm on the sheet to one px of the picture. */
  readonly scale: number;
  /** Size of the picture, px. */
  readonly width: number;
  readonly height: number;
  /** From 0, not to be seen, to 1. */
  readonly strength: number;
}

/** What can still be seen, and what no longer hides the drawing. */
export const STRENGTHS = { least: 0.1, most: 1, step: 0.1, first: 0.4 } as const;

/** Two points nearer than this, px of the picture, are one. */
const APART = 2;
/** mm to a px: from a close-up to a photo of a club hall. */
const SCALES = { least: 1e-3, most: 1e4 } as const;

/** The point of the picture, px from its lower left corner, under a point of the sheet. */
export function pictureAt({ at, heading, scale }: UnderlayPlacement, point: Point): Point {
  const { x, y } = localPoint({ ...at, heading }, point);
  return { x: x / scale, y: y / scale };
}

export const underlayPoint = ({ at, heading, scale }: UnderlayPlacement, { x, y }: Point): Point =>
  offsetPoint({ ...at, heading }, x * scale, y * scale);

export const underlayCorners = (placement: UnderlayPlacement): Point[] => {
  const { width, height } = placement;
  return [
    { x: 0, y: 0 },
    { x: width, y: 0 },
    { x: width, y: height },
    { x: 0, y: height },
  ].map((corner) => underlayPoint(placement, corner));
};

/** A new picture: as wide as it can be within a box of the sheet, in its middle. */
export function placeUnderlay(
  width: number,
  height: number,
  box: { readonly minX: number; readonly minY: number; readonly maxX: number; readonly maxY: number },
): UnderlayPlacement {
  const fitted = Math.min((box.maxX - box.minX) / width, (box.maxY - box.minY) / height);
  const scale = Number.isFinite(fitted) && fitted > 0 ? fitted : 1;
  const at = {
    x: (box.minX + box.maxX - width * scale) / 2,
    y: (box.minY + box.maxY - height * scale) / 2,
  };
  return { at, heading: 0, scale, width, height, strength: STRENGTHS.first };
}

export const moveUnderlay = (placement: UnderlayPlacement, dx: Millimetres, dy: Millimetres): UnderlayPlacement => ({
  ...placement,
  at: { x: placement.at.x + dx, y: placement.at.y + dy },
});

/** Scaled about `a` until `a` and `b`, points of the sheet, lie `apart`. Undefined where they are one, or nothing fits. */
export function scaleUnderlay(
  placement: UnderlayPlacement,
  a: Point,
  b: Point,
  apart: Millimetres,
): UnderlayPlacement | undefined {
  const now = distance(a, b);
  if (now < APART * placement.scale) return undefined;
  const scale = (placement.scale * apart) / now;
  return scale >= SCALES.least && scale <= SCALES.most ? about(placement, a, { scale }) : undefined;
}

/** Turned about `a` until `b` lies level with it, or straight above or below it, whichever is nearer. */
export function levelUnderlay(placement: UnderlayPlacement, a: Point, b: Point): UnderlayPlacement | undefined {
  if (distance(a, b) < APART * placement.scale) return undefined;
  const now = bearing(a, b);
  const level = (Math.round(now / (Math.PI / 2)) * Math.PI) / 2;
  return about(placement, a, { heading: placement.heading + level - now });
}

/** With `fixed` of the sheet staying over its point of the picture. */
function about(placement: UnderlayPlacement, fixed: Point, change: Partial<UnderlayPlacement>): UnderlayPlacement {
  const next = { ...placement, ...change };
  const moved = underlayPoint(next, pictureAt(placement, fixed));
  return moveUnderlay(next, fixed.x - moved.x, fixed.y - moved.y);
}

export function fadeUnderlay(placement: UnderlayPlacement, by: number): UnderlayPlacement {
  const wanted = Math.round((placement.strength + by) / STRENGTHS.step) * STRENGTHS.step;
  return { ...placement, strength: Math.min(Math.max(wanted, STRENGTHS.least), STRENGTHS.most) };
}
