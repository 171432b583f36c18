/** Lines are kept as they were when nothing about them changed, so that all that is known of them stays known. */
import type { Path } from "../geometry/path.js";
import type { Pose } from "../geometry/pose.js";
import type { Id, TrackClass } from "../plan/schema.js";
import type { Line, LineKey, Samples } from "./line.js";
import { sampleLine } from "./samples.js";

/** Exactly the same: whatever is derived again from the same figures comes out the same to the last digit. */
export function samePath(a: Path, b: Path): boolean {
  if (a === b) return true;
  if (a.segments.length !== b.segments.length || !samePose(a.start, b.start)) return false;
  return a.segments.every((g, i) => {
    const h = b.segments[i];
    return g === h || (h !== undefined && g.length === h.length && g.k0 === h.k0 && g.k1 === h.k1);
  });
}

export const samePose = (a: Pose, b: Pose): boolean => a.x === b.x && a.y === b.y && a.heading === b.heading;

export function makeLine(
  head: Pick<Line, "key" | "kind" | "id" | "class" | "deck">,
  path: Path,
  previous: Line | undefined,
): Line {
  const same = previous && samePath(previous.path, path) ? previous : undefined;
  if (same && same.class === head.class && same.deck === head.deck) return same;
  return new LaidLine(head, same?.path ?? path);
}

/** Samples of paths, taken when first asked for: a plan is drawn without them. */
const sampled = new WeakMap<Path, Samples>();

class LaidLine implements Line {
  readonly key: LineKey;
  readonly kind: Line["kind"];
  readonly id: Id;
  readonly class: TrackClass;
  readonly deck: Id;

  constructor(
    head: Pick<Line, "key" | "kind" | "id" | "class" | "deck">,
    readonly path: Path,
  ) {
    this.key = head.key;
    this.kind = head.kind;
    this.id = head.id;
    this.class = head.class;
    this.deck = head.deck;
  }

  get samples(): Samples {
    let samples = sampled.get(this.path);
    if (!samples) sampled.set(this.path, (samples = sampleLine(this.path)));
    return samples;
  }
}
