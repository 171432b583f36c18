/** The curves of a line as a driver counts them: unbroken runs of one hand, and whether their ends are eased. */
import type { Line } from "../layout/line.js";
import { remember } from "./remember.js";

/** A radius of 100 km: less curvature than this is straight track with the rounding of curvatures that were added up. */
export const STRAIGHT = 1e-8;

export interface CurveRun {
  readonly from: number;
  readonly to: number;
  readonly hand: 1 | -1;
  /** Greatest curvature, 1/mm. */
  readonly sharpest: number;
  /** Curvature met at once at either end; 0 where the end is eased. */
  readonly startJump: number;
  readonly endJump: number;
}

export const curveRuns = remember((line: Line): CurveRun[] => {
  const runs: CurveRun[] = [];
  const { segments, stations } = line.path;
  segments.forEach((g, i) => {
    const begin = stations[i] ?? 0;
    for (const piece of handsOf(g.k0, g.k1)) {
      const from = begin + piece.from * g.length;
      const to = begin + piece.to * g.length;
      const sharpest = Math.max(Math.abs(piece.k0), Math.abs(piece.k1));
      const last = runs.at(-1);
      // Pieces that touch within rounding and bend the same way are one curve.
      if (last && last.hand === piece.hand && from - last.to < 1e-6) {
        runs[runs.length - 1] = {
          ...last,
          to,
          sharpest: Math.max(last.sharpest, sharpest),
          endJump: Math.abs(piece.k1),
        };
      } else {
        runs.push({ from, to, hand: piece.hand, sharpest, startJump: Math.abs(piece.k0), endJump: Math.abs(piece.k1) });
      }
    }
  });
  return runs;
});

interface HandPiece {
  readonly from: number;
  readonly to: number;
  readonly k0: number;
  readonly k1: number;
  readonly hand: 1 | -1;
}

/** A segment by hand: nothing for a straight, two pieces where its curvature passes through zero. */
function handsOf(start: number, end: number): HandPiece[] {
  const k0 = Math.abs(start) < STRAIGHT ? 0 : start;
  const k1 = Math.abs(end) < STRAIGHT ? 0 : end;
  if (k0 === 0 && k1 === 0) return [];
  const hand = (k: number): 1 | -1 => (k > 0 ? 1 : -1);
  if (k0 * k1 >= 0) return [{ from: 0, to: 1, k0, k1, hand: hand(k0 + k1) }];
  const zero = k0 / (k0 - k1);
  return [
    { from: 0, to: zero, k0, k1: 0, hand: hand(k0) },
    { from: zero, to: 1, k0: 0, k1, hand: hand(k1) },
  ];
}
