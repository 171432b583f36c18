/** Lines are kept as they were when nothing about them changed, so that all that is known of them stays known. */
import type { Path } from "../geometry/path.js";
import { samePose } from "../geometry/pose.js";
import type { Id, TrackClass } from "../plan/schema.js";
import type { Line, LineKey } from "./line.js";
import { sampleLine } from "./samples.js";

/** Poses and segments nearer than this came from the same figures along another way of computing. */
const SAME_MM = 1e-9;
const SAME_RAD = 1e-12;

export function samePath(a: Path, b: Path): boolean {
  if (a === b) return true;
  if (a.segments.length !== b.segments.length || !samePose(a.start, b.start, SAME_MM, SAME_RAD)) return false;
  return a.segments.every((g, i) => {
    const h = b.segments[i];
    return h !== undefined && g.length === h.length && g.k0 === h.k0 && g.k1 === h.k1;
  });
}

export function makeLine(
  kind: Line["kind"],
  key: LineKey,
  id: Id,
  trackClass: TrackClass,
  deck: Id,
  path: Path,
  previous: Line | undefined,
): Line {
  const same = previous && samePath(previous.path, path) ? previous : undefined;
  if (same && same.class === trackClass && same.deck === deck) return same;
  return {
    key,
    kind,
    id,
    class: trackClass,
    deck,
    path: same?.path ?? path,
    samples: same?.samples ?? sampleLine(path),
  };
}
