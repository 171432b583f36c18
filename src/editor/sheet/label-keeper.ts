/**
 * Labels of a sheet between one placing and the next: placed for a region wider than the window, so that panning only
 * moves them, and anew in a pause when the scale, the layout or the readings are others.
 */
import { boxHolds, grownBox } from "../../drafting/boxes.js";
import type { Label } from "../../drafting/label.js";
import { type LabelWishes, labelsOf } from "../../drafting/labels.js";
import { halfTrackAt } from "../../drafting/scene-track.js";
import { type Viewport, visibleBox } from "../../drafting/viewport.js";
import type { Layout } from "../../layout/layout.js";
import type { Line, LineKey } from "../../layout/line.js";

export type LabelLook = Omit<LabelWishes, "scale" | "region">;

interface Placed {
  readonly layout: Layout;
  readonly look: LabelLook;
  readonly scale: number;
  readonly region: ReturnType<typeof visibleBox>;
  readonly labels: readonly Label[];
}

export interface LabelKeeper {
  /** Labels to draw now and the scale they were placed at; `again` is called once better ones are there. */
  labels(
    layout: Layout,
    viewport: Viewport,
    look: LabelLook,
    again: () => void,
  ): {
    readonly labels: readonly Label[];
    readonly scale: number;
  };
  drop(): void;
}

/** A pause of the hand before labels are placed anew, ms. */
const PAUSE = 90;

export function makeLabelKeeper(): LabelKeeper {
  let placed: Placed | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;

  const place = (layout: Layout, viewport: Viewport, look: LabelLook): Placed => {
    const seen = visibleBox(viewport);
    const region = grownBox(seen, (seen.maxX - seen.minX) / 2);
    const halfTrack = halfTrackAt(viewport.scale, layout.plan.scale);
    const labels = labelsOf(layout, { ...look, scale: viewport.scale, halfTrack, region });
    return { layout, look, scale: viewport.scale, region, labels };
  };

  return {
    labels(layout, viewport, look, again) {
      if (!placed) placed = place(layout, viewport, look);
      const fresh =
        placed.layout === layout &&
        placed.scale === viewport.scale &&
        boxHolds(placed.region, visibleBox(viewport)) &&
        sameLook(placed.look, look);
      clearTimeout(timer);
      if (!fresh) {
        timer = setTimeout(() => {
          placed = place(layout, viewport, look);
          again();
        }, PAUSE);
      }
      const { labels, scale } = placed;
      const deckChanged = !sameDecks(placed.look, look);
      if (deckChanged) return { labels: [], scale };
      return {
        labels: fresh ? labels : labels.filter((label) => stillTrue(label.line, placed?.layout, layout)),
        scale,
      };
    },
    drop: () => clearTimeout(timer),
  };
}

/** What is said of a line that is another now waits to be said anew. */
function stillTrue(line: LineKey | undefined, before: Layout | undefined, now: Layout): boolean {
  if (line === undefined || before === now) return true;
  const was: Line | undefined = before?.lines.get(line);
  return was !== undefined && now.lines.get(line) === was;
}

const same = <T>(a: readonly T[], b: readonly T[]): boolean => a.length === b.length && a.every((x, i) => x === b[i]);

const sameDecks = (a: LabelLook, b: LabelLook): boolean => same(a.inHand, b.inHand) && same(a.pale, b.pale);

const sameLook = (a: LabelLook, b: LabelLook): boolean =>
  sameDecks(a, b) && a.readings === b.readings && a.units === b.units;
