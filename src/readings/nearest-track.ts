/**
 * The track one comes to first behind a fascia: track that lies on the deck and is meant to be seen. Lines are found by
 * their boxes, and where a line crosses a view is kept for both, since most lines and views stay as they are.
 */
import { crossingAhead } from "../geometry/cut-area.js";
import { offsetPoint } from "../geometry/pose.js";
import type { Millimetres } from "../geometry/units.js";
import type { LineOfView } from "../layout/fascia-views.js";
import type { Layout } from "../layout/layout.js";
import { linesNear } from "../layout/line-boxes.js";
import type { Line } from "../layout/line.js";
import { heightAt } from "../layout/profile.js";
import { ON_DECK } from "../layout/on-deck.js";
import type { DeckBench } from "./deck-benches.js";
import { hiddenAt } from "./hidden-places.js";
import { remember } from "./remember.js";

/** How far behind the fascia of a view its first track is; undefined where there is none. */
export type NearestTrack = (own: DeckBench, view: LineOfView) => Millimetres | undefined;

export function nearestTracks(layout: Layout): NearestTrack {
  const known = new Map<LineOfView, Millimetres | undefined>();
  return (own, view) => {
    if (known.has(view)) return known.get(view);
    const { pose, depth } = view;
    const end = offsetPoint(pose, depth, 0);
    const [minX, maxX] = [Math.min(pose.x, end.x), Math.max(pose.x, end.x)];
    const [minY, maxY] = [Math.min(pose.y, end.y), Math.max(pose.y, end.y)];
    let nearest: Millimetres | undefined;
    // Where everything is seen nobody asks, and no index is made.
    for (const line of linesNear(layout, { minX, minY, maxX, maxY })) {
      const profile = layout.profiles.get(line.key);
      if (!profile) continue;
      for (const { at, s } of crossingsOf(line)(view)) {
        if (nearest !== undefined && at >= nearest) continue;
        if (Math.abs(heightAt(profile, s) - own.deck.height) > ON_DECK || hiddenAt(layout, line, s)) continue;
        nearest = at;
      }
    }
    known.set(view, nearest);
    return nearest;
  };
}

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
