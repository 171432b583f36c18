/**
 * Short runs of a line's samples and the boxes round them, for finding quickly what comes near what. Kept with the line,
 * so that an unchanged line costs nothing again.
 */
import type { Path } from "../geometry/path.js";
import { type BoxIndex, indexBoxes } from "../geometry/search.js";
import type { Millimetres } from "../geometry/units.js";
import type { Line, Samples } from "./line.js";

/** Chords in a run: fewer make more boxes to search, more make more samples to compare for nothing. */
export const RUN = 16;
/** Lines of more runs than this get a tree of them. */
const FEW_RUNS = 12;

export interface Runs {
  readonly count: number;
  /** minX, minY, maxX, maxY of each run. */
  readonly boxes: Float64Array;
  /** The box round the whole line. */
  readonly bounds: readonly [Millimetres, Millimetres, Millimetres, Millimetres];
  /** Longest distance between two samples. */
  readonly step: Millimetres;
  readonly index: BoxIndex | undefined;
}

const runsByPath = new WeakMap<Path, Runs>();

export function runsOf(line: Line): Runs {
  let runs = runsByPath.get(line.path);
  if (!runs) {
    runs = makeRuns(line.samples);
    runsByPath.set(line.path, runs);
  }
  return runs;
}

function makeRuns({ count: n, s, x, y }: Samples): Runs {
  const count = Math.max(1, Math.ceil((n - 1) / RUN));
  const boxes = new Float64Array(4 * count);
  const bounds: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  let step = 0;
  for (let r = 0; r < count; r++) {
    let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
    const last = Math.min(n - 1, (r + 1) * RUN);
    for (let i = r * RUN; i <= last; i++) {
      const px = x[i] as number;
      const py = y[i] as number;
      if (px < minX) minX = px;
      if (px > maxX) maxX = px;
      if (py < minY) minY = py;
      if (py > maxY) maxY = py;
      if (i > 0) step = Math.max(step, (s[i] as number) - (s[i - 1] as number));
    }
    boxes[4 * r] = minX;
    boxes[4 * r + 1] = minY;
    boxes[4 * r + 2] = maxX;
    boxes[4 * r + 3] = maxY;
    bounds[0] = Math.min(bounds[0], minX);
    bounds[1] = Math.min(bounds[1], minY);
    bounds[2] = Math.max(bounds[2], maxX);
    bounds[3] = Math.max(bounds[3], maxY);
  }
  return { count, boxes, bounds, step, index: count > FEW_RUNS ? indexBoxes(boxes) : undefined };
}

/**
 * Ranges of b's samples (first and last, two numbers a range, in order) in whose runs something may lie within `grow`
 * of run r of a. Written into `ranges`; returns how many numbers.
 */
export function nearRanges(
  a: Runs,
  r: number,
  b: Runs,
  samplesOfB: number,
  grow: Millimetres,
  ranges: number[],
): number {
  const minX = (a.boxes[4 * r] as number) - grow;
  const minY = (a.boxes[4 * r + 1] as number) - grow;
  const maxX = (a.boxes[4 * r + 2] as number) + grow;
  const maxY = (a.boxes[4 * r + 3] as number) + grow;
  let n = 0;
  const add = (k: number): void => {
    const first = k * RUN;
    const last = Math.min(samplesOfB - 1, first + RUN);
    if (n > 0 && ranges[n - 1] === first) ranges[n - 1] = last;
    else {
      ranges[n] = first;
      ranges[n + 1] = last;
      n += 2;
    }
  };
  if (b.index) {
    for (const k of b.index.overlapping(minX, minY, maxX, maxY).sort((p, q) => p - q)) add(k);
  } else {
    const { boxes, count } = b;
    for (let k = 0; k < count; k++) {
      if ((boxes[4 * k] as number) > maxX || (boxes[4 * k + 2] as number) < minX) continue;
      if ((boxes[4 * k + 1] as number) > maxY || (boxes[4 * k + 3] as number) < minY) continue;
      add(k);
    }
  }
  return n;
}
