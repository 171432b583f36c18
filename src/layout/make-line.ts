/** Lines are kept as they were when nothing about them changed, so that all that is known of them stays known. */
import type { Path } from "../geometry/path.js";
import type { Pose } from "../geometry/pose.js";
import type { Line } from "./line.js";
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
  return { ...head, path: same?.path ?? path, samples: same?.samples ?? sampleLine(path) };
}
