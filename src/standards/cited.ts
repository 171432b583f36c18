/**
 * A published figure never travels alone: it says where it stands and how it is known, so that a derived or
 * remembered value is never taken for a standard's own.
 */
import type { Millimetres } from "../geometry/units.js";

/** How a figure is known. A derived one says from what and how. */
export const KNOWN = ["read", "read second hand", "derived", "memory", "common practice"] as const;
export type Known = (typeof KNOWN)[number];

export type Cited =
  | { readonly source: string; readonly known: Exclude<Known, "derived">; readonly how?: string }
  | { readonly source: string; readonly known: "derived"; readonly how: string };

export type Figure<T = number> = Cited & { readonly value: T };

/** The source of every rule of thumb of the hobby. */
export const PRACTICE = "common practice, no source";

/** The citation as one line of text. */
export function cite(figure: Cited): string {
  const how = figure.how === undefined ? "" : `: ${figure.how}`;
  return figure.source === PRACTICE && figure.known === "common practice"
    ? `${PRACTICE}${how}`
    : `${figure.source} (${figure.known}${how})`;
}

/** Millimetres, free of the crumbs of binary fractions. */
export const inches = (value: number): Millimetres => Number((value * 25.4).toFixed(6));

/** To the nearest step; free of the crumbs of binary fractions for steps of whole decimals. */
export const roundTo = (value: number, step: number): number => Number((Math.round(value / step) * step).toFixed(6));
/** To the step below; a value within a millionth of a step counts as on it. */
export const roundDown = (value: number, step: number): number =>
  Number((Math.floor(value / step + 1e-6) * step).toFixed(6));
