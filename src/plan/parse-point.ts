/**
 * Points as people type them, the way across and the way up: `4' 6", 3'`, `1200, 850`, `1,5 m; 0,85 m`. Where a comma is
 * within a length a semicolon parts the two.
 */
import type { Point } from "../geometry/pose.js";
import { formatLength } from "./format-length.js";
import { parseLength } from "./parse-length.js";
import type { Plan } from "./schema.js";

export type ParsedPoint =
  | { readonly ok: true; readonly point: Point }
  | { readonly ok: false; readonly message: string };

/** Bare numbers are in the given units. Never throws. */
export function parsePoint(text: string, units: Plan["units"]): ParsedPoint {
  const parts = text.split(text.includes(";") ? ";" : ",");
  const [first, second] = parts;
  if (first === undefined || second === undefined || parts.length !== 2) {
    return { ok: false, message: `"${text.trim()}" is no point; expected across, up, as 4' 6", 3' or 1200, 850` };
  }
  const x = parseLength(first, units);
  if (!x.ok) return x;
  const y = parseLength(second, units);
  return y.ok ? { ok: true, point: { x: x.mm, y: y.mm } } : y;
}

/** A point as it may be typed again. */
export const formatPoint = ({ x, y }: Point, units: Plan["units"]): string =>
  `${formatLength(x, units)}, ${formatLength(y, units)}`;
