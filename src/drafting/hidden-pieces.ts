/**
 * Lines cut where they go into hiding and come out.
 *
 * Always holds: the pieces follow one another from 0 to the line's length without gap or overlap.
 */
import type { Millimetres } from "../geometry/units.js";
import { hiddenByLine } from "../layout/hidden.js";
import type { Layout } from "../layout/layout.js";
import type { Line } from "../layout/line.js";

export interface Piece {
  readonly from: Millimetres;
  readonly to: Millimetres;
  readonly hidden: boolean;
}

export function piecesOf(layout: Layout, line: Line): readonly Piece[] {
  const { length } = line.path;
  const pieces: Piece[] = [];
  let s = 0;
  for (const stretch of hiddenByLine(layout.hidden).get(line.key) ?? []) {
    const from = Math.max(s, stretch.from);
    const to = Math.min(length, stretch.to);
    if (to <= from) continue;
    if (from > s) pieces.push({ from: s, to: from, hidden: false });
    pieces.push({ from, to, hidden: true });
    s = to;
  }
  if (s < length) pieces.push({ from: s, to: length, hidden: false });
  return pieces;
}
