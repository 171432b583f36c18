/**
 * Units as types. A number wears its unit as an optional brand: plain arithmetic stays plain, a literal may be
 * given where a unit is expected, but one unit is never taken for another. Degrees and inches exist only at the edges.
 */
declare const unit: unique symbol;
type In<U extends string> = number & { readonly [unit]?: U };

export type Millimetres = In<"mm">;
export type Radians = In<"rad">;
export type Degrees = In<"deg">;
export type Percent = In<"%">;
/** Signed curvature, 1/mm; positive bends to the left. */
export type Curvature = In<"1/mm">;

export const toRadians = (angle: Degrees): Radians => (angle * Math.PI) / 180;
export const toDegrees = (angle: Radians): Degrees => (angle * 180) / Math.PI;

/** The same direction within (-pi, pi]. NaN for an angle that is not finite. */
export function wrapAngle(angle: Radians): Radians {
  const turn = 2 * Math.PI;
  const wrapped = angle - turn * Math.floor((angle + Math.PI) / turn);
  return wrapped <= -Math.PI ? Math.PI : wrapped > Math.PI ? wrapped - turn : wrapped;
}

/** The same direction within [0, 2 pi). */
export function positiveAngle(angle: Radians): Radians {
  const turn = 2 * Math.PI;
  const wrapped = angle - turn * Math.floor(angle / turn);
  return wrapped >= turn ? 0 : wrapped;
}
