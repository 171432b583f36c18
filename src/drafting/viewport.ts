/**
 * The window on the sheet: which point of the room stands in the middle of the screen, and how large. Sheet points are
 * millimetres, y up; screen points are px from the window's top left corner, y down.
 *
 * Always holds: `toSheet(v, toScreen(v, p))` is p; zooming at a screen point leaves the sheet point under it in place.
 */
import type { Box } from "../geometry/bounds.js";
import type { Point } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";

declare const space: unique symbol;
export type SheetPoint = Point & { readonly [space]?: "sheet" };
export interface ScreenPoint {
  readonly x: number;
  readonly y: number;
  readonly [space]?: "screen";
}

export interface Viewport {
  readonly centre: SheetPoint;
  /** px per millimetre. */
  readonly scale: number;
  /** Size of the window, px. */
  readonly width: number;
  readonly height: number;
}

/** From a whole club hall in the window to a rail joint filling it. */
export const SCALES = { least: 0.005, most: 20 } as const;

export const toScreen = (v: Viewport, p: SheetPoint): ScreenPoint => ({
  x: v.width / 2 + (p.x - v.centre.x) * v.scale,
  y: v.height / 2 - (p.y - v.centre.y) * v.scale,
});

export const toSheet = (v: Viewport, p: ScreenPoint): SheetPoint => ({
  x: v.centre.x + (p.x - v.width / 2) / v.scale,
  y: v.centre.y - (p.y - v.height / 2) / v.scale,
});

/** Moved by px, as a hand moves paper. */
export const panBy = (v: Viewport, dx: number, dy: number): Viewport => ({
  ...v,
  centre: { x: v.centre.x - dx / v.scale, y: v.centre.y + dy / v.scale },
});

/** Magnified by a factor about a screen point, within the scales that make sense. */
export function zoomAt(v: Viewport, at: ScreenPoint, factor: number): Viewport {
  const scale = Math.min(Math.max(v.scale * factor, SCALES.least), SCALES.most);
  const fixed = toSheet(v, at);
  return {
    ...v,
    scale,
    centre: { x: fixed.x - (at.x - v.width / 2) / scale, y: fixed.y + (at.y - v.height / 2) / scale },
  };
}

/** A margin never takes more than this part of the window on either side. */
const MOST_MARGIN = 1 / 6;

/** The whole box in the window, with a margin in px all round, less in a small window. A box of no size keeps the scale. */
export function fit(v: Viewport, box: Box, margin: number): Viewport {
  const width = box.maxX - box.minX;
  const height = box.maxY - box.minY;
  const room = (size: number): number => Math.max(size - 2 * Math.min(margin, size * MOST_MARGIN), 1);
  const wanted = Math.min(room(v.width) / width, room(v.height) / height);
  const scale = Number.isFinite(wanted) ? Math.min(Math.max(wanted, SCALES.least), SCALES.most) : v.scale;
  return { ...v, scale, centre: { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 } };
}

/** The part of the sheet in the window. */
export function visibleBox(v: Viewport): Box {
  const { x, y } = v.centre;
  const [w, h] = [v.width / 2 / v.scale, v.height / 2 / v.scale];
  return { minX: x - w, minY: y - h, maxX: x + w, maxY: y + h };
}

/** A length on screen as a length on the sheet. */
export const sheetLength = (v: Viewport, px: number): Millimetres => px / v.scale;
