/**
 * Labels of a sheet between one placing and the next: placed for a region wider than the window, so that panning only
 * moves them, and anew in a pause when the scale, the layout or the readings are others.
 */
import { boxHolds, grownBox } from "../../drafting/boxes.js";
import type { Label } from "../../drafting/label.js";
import { labelling, type LabelWishes } from "../../drafting/labels.js";
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

/** A pause of the hand before labels are placed anew, and the longest work between two frames, ms. */
const PAUSE = 90;
const SLICE = 5;

export function makeLabelKeeper(): LabelKeeper {
  let placed: Placed | undefined;
  let wanted: Omit<Placed, "labels"> | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;

  /** Places labels slice by slice; what is wanted otherwise meanwhile ends it. */
  const place = (want: Omit<Placed, "labels">, again: () => void): void => {
    const { layout, look, scale, region } = want;
    const halfTrack = halfTrackAt(scale, layout.plan.scale);
    const steps = labelling(layout, { ...look, scale, halfTrack, region });
    const labels: Label[] = [];
    const slice = (): void => {
      const until = performance.now() + SLICE;
      for (let step = steps.next(); ; step = steps.next()) {
        if (step.done) {
          placed = { ...want, labels };
          again();
          return;
        }
        if (step.value) labels.push(step.value);
        if (performance.now() > until) break;
      }
      timer = setTimeout(slice);
    };
    slice();
  };

  const isFresh = (
    old: Omit<Placed, "labels"> | undefined,
    layout: Layout,
    viewport: Viewport,
    look: LabelLook,
  ): boolean =>
    old !== undefined &&
    old.layout === layout &&
    old.scale === viewport.scale &&
    boxHolds(old.region, visibleBox(viewport)) &&
    sameLook(old.look, look);

  return {
    labels(layout, viewport, look, again) {
      const fresh = isFresh(placed, layout, viewport, look);
      if (!fresh && !isFresh(wanted, layout, viewport, look)) {
        clearTimeout(timer);
        const seen = visibleBox(viewport);
        const region = grownBox(seen, (seen.maxX - seen.minX) / 2);
        const want = { layout, look, scale: viewport.scale, region };
        wanted = want;
        // The first are there as soon as can be; later ones wait for the hand to rest.
        timer = setTimeout(() => place(want, again), placed ? PAUSE : 0);
      }
      if (!placed || !sameDecks(placed.look, look)) return { labels: [], scale: viewport.scale };
      const { labels, scale } = placed;
      return {
        labels: fresh ? labels : labels.filter((label) => stillTrue(label.line, placed?.layout, layout)),
        scale,
      };
    },
    drop() {
      clearTimeout(timer);
      wanted = undefined;
    },
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
