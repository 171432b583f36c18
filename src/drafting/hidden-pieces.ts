/**
 * Lines cut where they go into hiding and come out.
 *
 * Always holds: the pieces follow one another from 0 to the line's length without gap or overlap.
 */
import type { Millimetres } from "../geometry/units.js";
import type { HiddenStretch, Layout } from "../layout/layout.js";
import type { Line, LineKey } from "../layout/line.js";

export interface Piece {
  readonly from: Millimetres;
  readonly to: Millimetres;
  readonly hidden: boolean;
}

const known = new WeakMap<readonly HiddenStretch[], ReadonlyMap<LineKey, readonly HiddenStretch[]>>();

function hiddenByLine(hidden: readonly HiddenStretch[]): ReadonlyMap<LineKey, readonly HiddenStretch[]> {
  let byLine = known.get(hidden);
  if (!byLine) {
    const map = new Map<LineKey, HiddenStretch[]>();
    for (const stretch of hidden) {
      const list = map.get(stretch.line);
      if (list) list.push(stretch);
      else map.set(stretch.line, [stretch]);
    }
    for (const list of map.values()) list.sort((a, b) => a.from - b.from);
    byLine = map;
    known.set(hidden, byLine);
  }
  return byLine;
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
