/** What is wrong with an eased path: the limits and the goal it is held against, each broken one named. */
import type { Path } from "../../src/geometry/path.js";
import { distance, type Pose } from "../../src/geometry/pose.js";
import type { Steering } from "../../src/geometry/steering.js";
import { wrapAngle } from "../../src/geometry/units.js";

/** Rounding allowed on a curvature or sharpness, as a part of the limit. */
const ROUNDING = 1e-9;

export interface Tolerance {
  readonly mm: number;
  readonly rad: number;
}
export const EXACT: Tolerance = { mm: 1e-9, rad: 1e-9 };

export function pathFaults(
  path: Path,
  goal: Pose,
  { radius, easement }: Steering,
  within: Tolerance = EXACT,
): string[] {
  const faults: string[] = [];
  const must = (holds: boolean, fault: string): void => {
    if (!holds) faults.push(fault);
  };
  const most = (1 + ROUNDING) / radius;
  let before = 0;
  path.segments.forEach((g, i) => {
    must(g.length > 0, `segment ${i} has length ${g.length}`);
    must(Math.max(Math.abs(g.k0), Math.abs(g.k1)) <= most, `segment ${i} is tighter than the radius`);
    if (easement > 0) {
      must(Math.abs(g.k0 - before) <= ROUNDING / radius, `curvature jumps before segment ${i}`);
      must((Math.abs(g.k1 - g.k0) / g.length) * easement <= most, `segment ${i} is too sharp`);
    }
    before = g.k1;
  });
  if (easement > 0) must(Math.abs(before) <= ROUNDING / radius, "curvature is not zero at the end");
  const miss = distance(path.end, goal);
  must(miss <= within.mm, `ends ${miss} mm from the goal`);
  const turn = Math.abs(wrapAngle(path.end.heading - goal.heading));
  must(turn <= within.rad, `ends turned by ${turn}`);
  return faults;
}

/** Lengths of the straights between curves of opposite hand. */
export function reverseStraights(path: Path): number[] {
  const found: number[] = [];
  let hand = 0;
  let run = 0;
  for (const g of path.segments) {
    const bend = Math.sign(g.k0 + g.k1);
    if (bend === 0) run += g.length;
    else {
      if (hand !== 0 && bend !== hand) found.push(run);
      hand = bend;
      run = 0;
    }
  }
  return found;
}
