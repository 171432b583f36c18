/** The profile's paper: the two scales, and where a distance and a height lie. */
import type { Point } from "../../geometry/pose.js";
import type { Plan } from "../../plan/schema.js";
import type { Palette } from "./palette.js";
import { penFor, type Sheet } from "./sheet.js";

export interface ProfileSheet extends Sheet {
  readonly width: number;
  readonly height: number;
  /** Millimetres of track to one of paper, and of height. */
  readonly across: number;
  readonly up: number;
  readonly length: number;
  /** Lowest and highest height in the field. */
  readonly low: number;
  readonly high: number;
  /** Edges of the field on the paper. */
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  /** Middle of the curves strip. */
  readonly strip: number;
}

/** px of paper. */
const SPACE = { left: 66, right: 64, head: 46, names: 34, strip: 62, foot: 40 } as const;
/** A profile is as wide as an A3 sheet allows and as high as a hand, mm. */
const FIELD = { width: 360, height: 66 } as const;
const NARROWEST = 150;
/** Widest field for a profile on paper of a width, mm. */
export const fieldOn = (width: number): number => width - (SPACE.left + SPACE.right) * penFor(20);

const SCALES = [
  1, 2, 5, 10, 15, 20, 25, 30, 40, 50, 60, 75, 100, 125, 150, 200, 250, 300, 400, 500, 750, 1000, 1500, 2000, 5000,
  10_000, 50_000,
];

const scaleFor = (size: number, room: number): number =>
  SCALES.find((scale) => size / scale <= room) ?? Math.ceil(size / room);

export function chooseScales(
  plan: Plan,
  palette: Palette,
  length: number,
  heights: readonly number[],
  widest: number = FIELD.width,
): ProfileSheet {
  const pen = penFor(20);
  const bands = Object.values(plan.decks).flatMap((deck) => [deck.height, deck.height - deck.thickness]);
  const all = [...heights, ...bands].filter(Number.isFinite);
  const lowest = all.reduce((least, h) => Math.min(least, h), all[0] ?? 0);
  const highest = all.reduce((most, h) => Math.max(most, h), all[0] ?? 0);
  const up = scaleFor(Math.max(highest - lowest, 20), FIELD.height);
  const across = scaleFor(Math.max(length, 100), widest);
  // Room for the pins' figures below and the grades' above.
  const low = lowest - 26 * pen * up;
  const high = highest + 22 * pen * up;
  const left = SPACE.left * pen;
  const right = left + Math.max(length / across, Math.min(NARROWEST, widest));
  const top = (SPACE.head + SPACE.names) * pen;
  const bottom = top + (high - low) / up;
  return {
    plan,
    palette,
    pen,
    scale: across,
    origin: { x: left, y: bottom },
    across,
    up,
    length,
    low,
    high,
    left,
    right,
    top,
    bottom,
    strip: bottom + (SPACE.strip / 2) * pen,
    width: right + SPACE.right * pen,
    height: bottom + (SPACE.strip + SPACE.foot) * pen,
  };
}

export const inField = (sheet: ProfileSheet, d: number, h: number): Point => ({
  x: sheet.left + d / sheet.across,
  y: sheet.bottom - (h - sheet.low) / sheet.up,
});

/** Height of the line at a distance, between the points given. */
export function heightBetween(points: readonly { readonly d: number; readonly h: number }[], d: number): number {
  const next = points.findIndex((point) => point.d >= d);
  const b = points[next === -1 ? points.length - 1 : next];
  const a = points[Math.max(0, next - 1)] ?? b;
  if (!a || !b) return 0;
  return b.d > a.d ? a.h + ((b.h - a.h) * (d - a.d)) / (b.d - a.d) : b.h;
}
