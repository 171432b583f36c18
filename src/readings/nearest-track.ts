/**
 * The track one comes to first behind a fascia: track that lies on the deck and is meant to be seen. Lines are found by
 * their boxes, and where a line crosses a view is kept for both, since most lines and views stay as they are.
 */
import { pathBounds } from "../geometry/bounds.js";
import { crossingAhead } from "../geometry/cut-area.js";
import { offsetPoint } from "../geometry/pose.js";
import { type BoxIndex, indexBoxes } from "../geometry/search.js";
import type { Millimetres } from "../geometry/units.js";
import type { LineOfView } from "../layout/fascia-views.js";
import type { HiddenStretch, Layout } from "../layout/layout.js";
import type { Line, LineKey } from "../layout/line.js";
import { heightAt } from "../layout/profile.js";
import { type DeckBench, ON_DECK } from "./deck-benches.js";
import { remember } from "./remember.js";

/** How far behind the fascia of a view its first track is; undefined where there is none. */
export type NearestTrack = (own: DeckBench, view: LineOfView) => Millimetres | undefined;

export function nearestTracks(layout: Layout): NearestTrack {
  const known = new Map<LineOfView, Millimetres | undefined>();
  const hidden = hiddenByLine(layout.hidden);
  return (own, view) => {
    if (known.has(view)) return known.get(view);
    const { pose, depth } = view;
    const end = offsetPoint(pose, depth, 0);
    const [minX, maxX] = [Math.min(pose.x, end.x), Math.max(pose.x, end.x)];
    const [minY, maxY] = [Math.min(pose.y, end.y), Math.max(pose.y, end.y)];
    let nearest: Millimetres | undefined;
    // Where everything is seen nobody asks, and no index is made.
    const { lines, index } = linesByPlace(layout.lines);
    index.visit(minX, minY, maxX, maxY, (i) => {
      const line = lines[i];
      const profile = line && layout.profiles.get(line.key);
      if (!line || !profile) return;
      for (const { at, s } of crossingsOf(line)(view)) {
        if (nearest !== undefined && at >= nearest) continue;
        if (Math.abs(heightAt(profile, s) - own.deck.height) > ON_DECK) continue;
        if (hidden.get(line.key)?.some(({ from, to }) => s >= from && s <= to)) continue;
        nearest = at;
      }
    });
    known.set(view, nearest);
    return nearest;
  };
}

const linesByPlace = remember((all: Layout["lines"]): { readonly lines: readonly Line[]; readonly index: BoxIndex } => {
  const lines = [...all.values()];
  const boxes = new Float64Array(4 * lines.length);
  lines.forEach((line, i) => boxes.set(boxOf(line), 4 * i));
  return { lines, index: indexBoxes(boxes) };
});

const boxOf = remember((line: Line): readonly number[] => {
  const { minX, minY, maxX, maxY } = pathBounds(line.path);
  return [minX, minY, maxX, maxY];
});

const hiddenByLine = remember((hidden: Layout["hidden"]): ReadonlyMap<LineKey, readonly HiddenStretch[]> => {
  const byLine = new Map<LineKey, HiddenStretch[]>();
  for (const stretch of hidden) {
    const own = byLine.get(stretch.line);
    if (own) own.push(stretch);
    else byLine.set(stretch.line, [stretch]);
  }
  return byLine;
});

interface LineCrossing {
  readonly at: Millimetres;
  readonly s: Millimetres;
}

const crossingsOf = remember((line: Line) =>
  remember((view: LineOfView): readonly LineCrossing[] => findCrossings(line, view)),
);

function findCrossings({ samples: { count, s, x, y } }: Line, { pose, depth }: LineOfView): LineCrossing[] {
  const found: LineCrossing[] = [];
  for (let i = 1; i < count; i++) {
    const at = crossingAhead(pose, { x: x[i - 1] ?? 0, y: y[i - 1] ?? 0 }, { x: x[i] ?? 0, y: y[i] ?? 0 });
    if (at === undefined || at.ahead < 0 || at.ahead > depth) continue;
    const [from, to] = [s[i - 1] ?? 0, s[i] ?? 0];
    found.push({ at: at.ahead, s: from + at.share * (to - from) });
  }
  return found;
}
