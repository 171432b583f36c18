/** The words a section is drawn in: shapes in millimetres along the cut and above the floor, lettering and ticks in px. */
import type { Millimetres } from "../geometry/units.js";
import type { Ink } from "./batch.js";
import type { TextMark } from "./label.js";

/** How a cut body is hatched: structure to the right, walls, floor and obstacles to the left. */
export type SectionHatch = "lower-edge" | "upper-edge" | "staging-edge" | "wall";

/** A place of the drawing: millimetres along the cut and above the floor, then px to the right and down from there. */
export interface SectionPlace {
  readonly x: Millimetres;
  readonly y: Millimetres;
  readonly right?: number;
  readonly down?: number;
}

export type SectionMark =
  | {
      readonly kind: "line";
      readonly points: readonly SectionPlace[];
      readonly closed?: boolean;
      readonly fill?: Ink;
      readonly hatch?: SectionHatch;
      readonly ink?: Ink;
      readonly weight?: number;
      readonly dash?: readonly number[];
    }
  | {
      readonly kind: "ring";
      readonly at: SectionPlace;
      readonly radius: number;
      readonly ink: Ink;
      readonly weight: number;
      readonly fill?: Ink;
    }
  | (Omit<TextMark, "at"> & { readonly at: SectionPlace });

export interface SectionLayer {
  readonly name: string;
  readonly marks: readonly SectionMark[];
}

type LineMark = Extract<SectionMark, { kind: "line" }>;
type Shape = Omit<LineMark, "kind" | "points" | "closed">;

/** An upright rectangle, grown by px at its left, right, top and bottom. */
export const rectangle = (
  [x0, y0, x1, y1]: readonly [number, number, number, number],
  shape: Shape,
  [left, top, right, bottom]: readonly [number, number, number, number] = [0, 0, 0, 0],
): SectionMark => ({
  kind: "line",
  closed: true,
  points: [
    { x: x0, y: y0, right: -left, down: bottom },
    { x: x1, y: y0, right, down: bottom },
    { x: x1, y: y1, right, down: -top },
    { x: x0, y: y1, right: -left, down: -top },
  ],
  ...shape,
});

export const line = (
  points: readonly SectionPlace[],
  ink: Ink,
  weight: number,
  dash?: readonly number[],
): LineMark => ({
  kind: "line",
  points,
  ink,
  weight,
  ...(dash && { dash }),
});
